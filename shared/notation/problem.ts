/**
 * What can be wrong with a value, as data. A phrase here is the code of its notation's sentence
 * (`notation.quantity.noUnit`) with the values for it; nothing is told before it is shown.
 */
import type { Given } from "../text/scalar.ts";
import type { Phrase } from "../text/sentence.ts";
import type { Span } from "../text/span.ts";
import type { Limits } from "./limits.ts";

/** What stands where something else belongs. */
export type Got =
	| { readonly what: "mapping" | "empty-mapping" | "list" | "alias" | "nothing" }
	| { readonly what: "text"; readonly text: string };

/** Why a scalar is refused. Phrases are those of the notation that refuses. */
export type Refusal =
	| { readonly type: "wrong-type"; readonly wanted: Phrase; readonly fix: string | undefined }
	| {
			readonly type: "unreadable";
			/** What is wrong and what to write, as sentences. */
			readonly why: Phrase;
			readonly fix: Given | undefined;
			/** What is meant for keys beside it, where the text holds their values too. */
			readonly beside?: Readonly<Record<string, string>>;
	  }
	| {
			readonly type: "out-of-range";
			readonly limits: Limits;
			readonly unit: string;
			/** What lies within these limits by its nature; undefined for a value that the plan's key limits. */
			readonly what: Phrase | undefined;
			/** Whether the limits are those of each of several numbers. */
			readonly each: boolean;
			readonly fix: string | undefined;
	  }
	| { readonly type: "unknown-word"; readonly nearest: string | undefined; readonly known: readonly string[] };

/** A scalar's refusal with its text, or what is wrong with a list or a mapping. */
export type ValueProblem =
	| (Extract<Refusal, { type: "wrong-type" }> & { readonly got: Got })
	| (Exclude<Refusal, { type: "wrong-type" }> & { readonly text: string })
	| { readonly type: "length"; readonly min: number; readonly max: number; readonly got: number }
	| {
			readonly type: "unknown-key";
			readonly word: string;
			readonly nearest: string | undefined;
			readonly known: readonly string[];
	  }
	| {
			readonly type: "repeated-key";
			readonly word: string;
			/** What can be cut out without a loss, when both say the same. */
			readonly cut: Span | undefined;
	  }
	| {
			readonly type: "missing-key";
			readonly key: string;
			readonly example: string;
			/** Where it can be put; undefined where it could not stand beside what is there. */
			readonly insertAt: number | undefined;
			/** Its indentation; undefined in a flow mapping. */
			readonly indent: string | undefined;
	  }
	| { readonly type: "no-value"; readonly key: string; readonly example: string };
