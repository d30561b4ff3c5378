/** A skyline that elevation tiles told, as edits of a plan. */
import { stillReads } from "../../shared/plan/cell-edits.ts";
import { type MeasuredList, setMeasured } from "../../shared/plan/measured.ts";
import { cellsOf, type Plan } from "../../shared/plan/plan.ts";
import type { TextEdit } from "../../shared/text/edits.ts";
import { ALL_NEW, elevationEdits } from "../site-edits.ts";

/** Edits that put it into the plan's site, with the elevation where the site has none; none where they cannot be made. */
export function groundEdits(plan: Plan, skyline: MeasuredList, elevation: number | undefined): readonly TextEdit[] {
	const cell = cellsOf(plan, "site")[0];
	const edits = cell ? setMeasured(cell, "skyline", skyline, ALL_NEW) : [];
	if (!cell || edits.length === 0) return [];
	const all = [...elevationEdits(cell, elevation), ...edits];
	return stillReads(plan, all) ? all : [];
}
