/** The key by which a cell takes what it holds from the cell of its kind in another plan. */
import { type Field, optional, path } from "../notation/shape.ts";

export const TAKEN_FROM: Field<string> = optional(path(), {
	doc: "Another plan, whose cell of this kind is taken; keys written here replace its own. A relative path inside the workspace.",
	example: "../sites/chapel.lode.yaml",
	otherwise: "nothing is taken",
});
