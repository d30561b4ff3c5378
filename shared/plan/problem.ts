/** What the reader found wrong, as data: `findings/structure/` puts it into words. Offsets count from the slice's start. */
import type { ShapeData } from "../notation/shape.ts";

export interface Span {
	readonly from: number;
	readonly to: number;
}

export type Problem = Span &
	(
		| { readonly type: "yaml"; readonly message: string }
		| { readonly type: "conflict-marker" }
		| { readonly type: "too-much"; readonly what: "size" | "depth" | "values" | "aliases"; readonly limit: number }
		| { readonly type: "not-a-cell"; readonly got: string }
		| { readonly type: "empty-cell" }
		| { readonly type: "unknown-kind"; readonly word: string; readonly nearest: string | undefined }
		| { readonly type: "two-kinds"; readonly words: readonly string[] }
		| {
				readonly type: "unknown-key";
				readonly word: string;
				readonly nearest: string | undefined;
				readonly known: readonly string[];
		  }
		| { readonly type: "repeated-key"; readonly word: string; readonly firstAt: Span }
		| {
				readonly type: "missing-key";
				readonly key: string;
				readonly of: string;
				readonly example: string;
				readonly insertAt: number;
				readonly indent: string | undefined;
		  }
		| { readonly type: "no-value"; readonly key: string; readonly example: string }
		| { readonly type: "wrong-type"; readonly wanted: string; readonly got: string; readonly fix: string | undefined }
		| {
				readonly type: "unknown-word";
				readonly word: string;
				readonly nearest: string | undefined;
				readonly known: readonly string[];
		  }
		| {
				readonly type: "unreadable";
				readonly text: string;
				readonly shape: ShapeData;
				readonly why: string;
				readonly fix: string | undefined;
		  }
		| { readonly type: "out-of-range"; readonly text: string; readonly limits: string; readonly why: string }
		| { readonly type: "length"; readonly wanted: string; readonly got: number }
	);

export type ProblemType = Problem["type"];
