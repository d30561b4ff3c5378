/** A periodic error that was measured, written into the plan's tracker. */
import { setKey, stillReads } from "../plan/cell-edits.ts";
import { cellsOf, type Plan } from "../plan/plan.ts";
import type { TextEdit } from "../text/edits.ts";
import { asYaml } from "../text/scalar.ts";

/** Degrees and seconds. */
export interface PeriodicSwing {
	readonly amplitude: number;
	readonly period: number;
}

/** `{ amplitude: 40 arcsec, period: 600 s }`. */
const valueText = ({ amplitude, period }: PeriodicSwing): string =>
	`{ amplitude: ${Number((3600 * amplitude).toPrecision(3))} arcsec, period: ${Math.round(period)} s }`;

/** The key with its value, as a tracker has it. */
export const periodicErrorText = (swing: PeriodicSwing): string => `periodic-error: ${valueText(swing)}`;

/** Puts it into the plan's tracker; none where there is no tracker in this file that a key can be put into. */
export function driveEdits(plan: Plan, swing: PeriodicSwing): readonly TextEdit[] {
	const [cell] = cellsOf(plan, "tracker");
	const edit = cell && setKey(cell, "", "periodic-error", asYaml(valueText(swing)));
	return edit && stillReads(plan, [edit]) ? [edit] : [];
}
