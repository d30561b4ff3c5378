/** The outlines of a site cell with the paths they were written at. */
import { type Cell, cellsOf, type Plan } from "../../plan/plan.ts";
import { type Outline, outlineOf, type SkyPoint } from "../../sky/outline.ts";

export interface WrittenOutline {
	readonly cell: Cell;
	readonly path: string;
	readonly name: string | undefined;
	readonly outline: Outline;
	/** The outline it is a window in. */
	readonly within: Outline | undefined;
}

/** Those of the site in use, with three corners or more. */
export function* outlinesIn(plan: Plan): Iterable<WrittenOutline> {
	for (const cell of cellsOf(plan, "site").slice(0, 1)) {
		const content = cell.read.content;
		for (const [index, { name, outline }] of (content?.openings ?? []).entries())
			if (isArea(outline))
				yield { cell, path: `openings.${index}.outline`, name, outline: outlineOf(outline), within: undefined };
		for (const [index, { name, outline, window }] of (content?.obstructions ?? []).entries()) {
			const whole = isArea(outline) ? outlineOf(outline) : undefined;
			const path = `obstructions.${index}`;
			if (whole) yield { cell, path: `${path}.outline`, name, outline: whole, within: undefined };
			if (isArea(window)) yield { cell, path: `${path}.window`, name, outline: outlineOf(window), within: whole };
		}
	}
}

const isArea = (outline: readonly SkyPoint[] | undefined): outline is readonly SkyPoint[] =>
	outline !== undefined && outline.length >= 3;
