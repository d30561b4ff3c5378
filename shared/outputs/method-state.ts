/** When a method works tonight, what it costs and needs: one sentence, the same on every face. */
import { sentences, told } from "../text/sentence.ts";

const words = sentences("output.method", {
	works: "Works {windows}.",
	fails: "Does not work tonight.",
	failsBecause: "Does not work tonight:",
	notThen: "Does not work at {at}, but {windows}.",
	notThenBecause: "Does not work at {at}, but {windows}:",
	terms: "Leaves {error} of axis error (95 %). Needs {needs}.",
});

interface MethodTonight {
	readonly works: boolean;
	readonly windows: string;
	readonly error: string;
	readonly needs: string;
	/** Why it does not work; empty where nothing says so. */
	readonly why: string;
	/** The time planned, where the method works at others, `windows`; else empty. */
	readonly notAt?: string;
}

interface Telling {
	/** The reason stands beside it already. */
	readonly whyIsTold?: boolean;
	/** How a text is written in the form that is made. */
	readonly written?: (text: string) => string;
}

/** The sentence in two parts: that it does not work, which may stand out, and the rest. */
export function methodState(
	{ works, windows, error, needs, why, notAt = "" }: MethodTonight,
	{ whyIsTold = false, written = (text) => text }: Telling = {},
): { readonly lead: string; readonly rest: string } {
	const terms = told(words.terms({ error: written(error), needs: written(needs) }));
	if (works) return { lead: "", rest: `${told(words.works({ windows: written(windows) }))} ${terms}` };
	const then = { at: notAt, windows: written(windows) };
	return why === "" || whyIsTold
		? { lead: told(notAt === "" ? words.fails() : words.notThen(then)), rest: terms }
		: {
				lead: told(notAt === "" ? words.failsBecause() : words.notThenBecause(then)),
				rest: `${written(why)} ${terms}`,
			};
}

/** The sentence as a whole. */
export function methodStateText(method: MethodTonight, telling?: Telling): string {
	const { lead, rest } = methodState(method, telling);
	return lead === "" ? rest : `${lead} ${rest}`;
}
