/** When a method works tonight, what it leaves and needs: one sentence, the same on every face. */
import type { EvaluatedMethod } from "../cells/method/method.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import type { Finding } from "../findings/finding.ts";
import { errorDegrees, isErrorAngle } from "../notation/angle.ts";
import type { Cell } from "../plan/plan.ts";
import { sentences, told } from "../text/sentence.ts";
import { exactNightClock, nightInterval } from "./clock.ts";

const words = sentences("output.method", {
	works: "Works {windows}. {within}. Needs {needs}.",
	within: "Axis within {error} of the pole, 19 times in 20, if your ± are right",
	anywhere: "The axis may point in any direction",
	fails: "The {method} does not work tonight.",
	failsBecause: "The {method} does not work tonight. {why}",
	notThen: "The {method} does not work at {at}; it works {windows}.",
	notThenBecause: "The {method} does not work at {at}; it works {windows}. {why}",
	never: "never tonight",
	align: "Align: {method}",
	fallback: "Fallback {place}: {method}",
	correct: "Correct the axis: {method}",
});

export interface MethodTonight {
	/** What people call it. */
	readonly name: string;
	readonly works: boolean;
	/** Whether it only corrects what another method has set. */
	readonly corrects: boolean;
	readonly windows: string;
	/** The axis error that it keeps within 19 times in 20, degrees. */
	readonly radius95: number;
	readonly needs: string;
	/** Why it does not work; empty where nothing says so. */
	readonly why: string;
	/** The time planned, where the method works at others, `windows`; else empty. */
	readonly notAt: string;
}

interface Telling {
	/** The reason is said beside it already. */
	readonly whyIsTold?: boolean;
	/** How a text is written in the form that is made. */
	readonly written?: (text: string) => string;
}

/** How sure the axis is. */
export const withinText = (radius95: number): string =>
	told(isErrorAngle(radius95) ? words.within({ error: errorDegrees(radius95) }) : words.anywhere());

/** When it works, how well and with what; or that it does not, in one line. */
export function methodStateText(
	{ name, works, windows, radius95, needs, why, notAt }: MethodTonight,
	{ whyIsTold = false, written = (text) => text }: Telling = {},
): string {
	if (works)
		return told(
			words.works({ windows: written(windows), within: written(withinText(radius95)), needs: written(needs) }),
		);
	const isTold = why === "" || whyIsTold;
	const failing = { method: written(name), why: written(why) };
	if (notAt === "") return told(isTold ? words.fails(failing) : words.failsBecause(failing));
	const then = { ...failing, at: notAt, windows: written(windows) };
	return told(isTold ? words.notThen(then) : words.notThenBecause(then));
}

/** What the sentence is made of. */
export function methodTonight(
	{ night, aligned }: Evaluation,
	findings: readonly Finding[],
	{ cell, value }: ShownMethod,
): MethodTonight {
	const { name, works, setUp, budget, needs, otherwise } = value;
	return {
		name,
		works,
		corrects: value.method.corrects === true && value !== aligned,
		windows:
			setUp.windows.length === 0
				? told(words.never())
				: setUp.windows.map((window) => (night ? nightInterval(night, window) : "")).join(", "),
		notAt: otherwise.length > 0 && setUp.at !== undefined && night ? exactNightClock(night, setUp.at) : "",
		radius95: budget.radius95,
		needs: told(needs),
		why: whyNot(findings, cell),
	};
}

/** The heading of a method: the one that aligns leads, the others are counted; what only corrects it is no fallback. */
export const methodHeading = (place: number, method: string, corrects = false): string =>
	told(
		place === 0 ? words.align({ method }) : corrects ? words.correct({ method }) : words.fallback({ place, method }),
	);

interface ShownMethod {
	readonly cell: Cell;
	readonly value: EvaluatedMethod;
}

/**
 * The methods of a plan with their cells as they are shown: the one that aligns in the evening, then the others that work,
 * what only corrects the axis behind them, then the rest, each in the order of the file.
 */
export function methodsShown({ methods, aligned }: Pick<Evaluation, "methods" | "aligned">): readonly ShownMethod[] {
	const known = methods.flatMap(({ cell, value }) => (value ? [{ cell, value }] : []));
	const place = ({ value }: ShownMethod): number =>
		!value.works ? 3 : value === aligned ? 0 : value.method.corrects ? 2 : 1;
	return known.sort((a, b) => place(a) - place(b));
}

/** Why the method of a cell does not work: its first error; empty where no finding says so. */
const whyNot = (findings: readonly Finding[], { index }: Cell): string =>
	findings.find(({ cell, severity }) => cell?.index === index && severity === "error")?.message ?? "";
