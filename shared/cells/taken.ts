/** The key by which a cell takes what it holds from the cell of its kind in another plan. */
import { type Field, optional, path } from "../notation/shape.ts";

export const TAKEN_FROM: Field<string> = optional(path(), {
	doc: `Another plan, from which this cell is taken: a relative path inside the workspace. Keys written here replace
		those of the other plan.`,
	example: "../sites/chapel.lode.yaml",
	otherwise: "nothing is taken",
});
