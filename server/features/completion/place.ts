/** Where something is completed: the plan, its cell, and what is typed there. */
import type { CellKindName } from "../../../shared/cells/kinds.ts";
import type { Evaluation } from "../../../shared/evaluate/evaluate.ts";
import type { Field } from "../../../shared/notation/mapping.ts";
import type { Named } from "../../../shared/notation/notation.ts";
import { offerNothing } from "../../../shared/notation/scalar.ts";
import type { Cell, Plan } from "../../../shared/plan/plan.ts";
import type { CursorContext } from "../../../shared/text/cursor.ts";
import { GAP, type Template } from "../../../shared/text/template.ts";

export interface Place {
	/** That in which the cell counts. */
	readonly evaluation: Evaluation;
	readonly plan: Plan;
	readonly cell: Cell;
	readonly kind: CellKindName;
	/** Path of the mapping whose key, or of the key whose value, is typed. */
	readonly path: string;
	readonly context: CursorContext;
	/** The cell's text behind the word at the cursor. */
	readonly after: string;
	/** What is behind it is another key, which keeps its value. */
	readonly inFront: boolean;
	/** The next good nights, by their dates; undefined where no date is typed. */
	readonly nights?: ((evaluation: Evaluation) => readonly Named[]) | undefined;
}

/** Whether nothing follows in the cell. */
export const isLast = ({ after }: Pick<Place, "after">): boolean => after.trim() === "";

/** Whether something can be offered at the first gap of a text that begins with a key. */
export const offersFirst = (text: Template, first: Field | undefined): boolean =>
	first !== undefined && first.shape.complete !== offerNothing && text.includes(GAP);
