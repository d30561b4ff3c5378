/** What the reader found wrong, as data: `findings/structure/` puts it into words. Offsets count from the slice's start. */
import type { ErrorCode } from "yaml";
import type { Got, ValueProblem } from "../notation/problem.ts";
import type { Span } from "../text/span.ts";

export type { Span } from "../text/span.ts";

/** What is wrong, without its place. */
export type ProblemData =
	| ValueProblem
	| {
			readonly type: "yaml";
			/** The parser's code, or one of the reader's own. */
			readonly code: ErrorCode | "TOO_DEEP" | "NO_YAML";
			/** The parser's message, for a code that has no sentence here. */
			readonly detail: string;
	  }
	| { readonly type: "conflict-marker" }
	| { readonly type: "too-much"; readonly what: "size" | "depth" | "values" | "aliases"; readonly limit: number }
	| { readonly type: "not-a-cell"; readonly got: Got }
	| { readonly type: "empty-cell" }
	| { readonly type: "unknown-kind"; readonly word: string; readonly nearest: string | undefined }
	| { readonly type: "two-kinds"; readonly words: readonly string[] };

/** `whole`: all of the scalar that is wrong, where it goes on behind the end of the line. */
export type Problem = Span & { readonly whole?: Span } & ProblemData;

export type ProblemType = Problem["type"];
