/** Notations of a single value. */
import { isScalar } from "yaml";
import type { Given } from "../text/scalar.ts";
import type { Phrase } from "../text/sentence.ts";
import { GAP } from "../text/template.ts";
import type { Limits } from "./limits.ts";
import { clip, gotOf, scalarText } from "./node.ts";
import type { CompletionContext, Notation, Offer } from "./notation.ts";
import type { Refusal } from "./problem.ts";

/** A value that was refused. */
export class Refused {
	readonly refusal: Refusal;

	constructor(refusal: Refusal) {
		this.refusal = refusal;
	}
}

/** A notation that is read from one scalar. */
export interface Scalar<T = unknown> extends Notation<T> {
	/** Reads a text; `value` is what YAML takes it for. */
	readonly readText: (text: string, value?: unknown) => T | Refused;
}

/** What a scalar notation must say of itself; the rest has defaults. */
type Parts<T> = Pick<Scalar<T>, "type" | "describe" | "readText" | "schema"> &
	Partial<Pick<Scalar<T>, "explain" | "complete" | "names" | "colour" | "rewrite" | "quoted">>;

/** Makes a notation of one scalar. */
export function scalar<T>(parts: Parts<T>): Scalar<T> {
	const { describe, readText } = parts;
	return {
		explain: describe,
		complete: offerNothing,
		colour: undefined,
		...parts,
		read(node, at, _path, reader) {
			if (!isScalar(node)) {
				reader.report({ type: "wrong-type", wanted: describe(), got: gotOf(node), fix: undefined }, at);
				return undefined;
			}
			const text = scalarText(node);
			const value = readText(text, node.value);
			if (!(value instanceof Refused)) return value;
			const { refusal } = value;
			const problem =
				refusal.type === "wrong-type" ? { ...refusal, got: gotOf(node) } : { ...refusal, text: clip(text) };
			reader.report(problem, at);
			return undefined;
		},
	};
}

/** What only its writer can know: an example would be taken for a value of the plan's own. */
export const offerNothing = (): readonly Offer[] => [];

/** What is typed with endings that make a value of it; with nothing typed, the endings behind a gap. */
export function offerEndings(
	{ source }: Pick<CompletionContext, "source">,
	endings: readonly { readonly ending: string; readonly detail: Phrase | string }[],
	begun: RegExp,
): readonly Offer[] {
	const typed = source.trim();
	if (typed !== "" && !begun.test(typed)) return [];
	return endings.map(({ ending, detail }): Offer => {
		if (typed === "") return { label: `…${ending}`, detail, kind: "value", yaml: [GAP, ending], filter: ending };
		const text = `${typed}${ending}`;
		return { label: text, detail, kind: "value", yaml: text, filter: text, ofTyped: true };
	});
}

/** Refuses a text that cannot be read. */
export const unreadable = (why: Phrase, fix?: Given, beside: Readonly<Record<string, string>> = {}): Refused =>
	new Refused({ type: "unreadable", why, fix, beside });

/** Refuses a number that lies outside its limits. */
export const outOfRange = (
	limits: Limits,
	unit: string,
	{ what, each = false, fix }: { readonly what?: Phrase; readonly each?: boolean; readonly fix?: string } = {},
): Refused => new Refused({ type: "out-of-range", limits, unit, what, each, fix });
