/** Names that are given elsewhere in the plan. Whether something has the name is a finding of its own. */
import { sentences } from "../text/sentence.ts";
import type { NameSpace, Notation } from "./notation.ts";
import { type Scalar, scalar } from "./scalar.ts";
import { NAME_SCHEMA, readName } from "./text.ts";

const words = sentences("notation.reference", {
	lens: "the name of a lens",
	landmark: "the name of a landmark",
	opening: "the name of an opening",
});

export interface Reference extends Scalar<string> {
	readonly type: "reference";
	/** What the name points at. */
	readonly to: NameSpace;
}

/** A name that is given elsewhere in the plan. */
export const reference = (to: NameSpace): Reference => ({
	...scalar({
		type: "reference",
		describe: words[to],
		readText: readName,
		schema: () => NAME_SCHEMA,
		complete: ({ names }) => names(to).map(({ name, detail }) => ({ label: name, detail, kind: "name" })),
		colour: "variable",
	}),
	type: "reference",
	to,
});

/** Whether a notation is that of a reference. */
export const isReference = (notation: Notation): notation is Reference => notation.type === "reference";
