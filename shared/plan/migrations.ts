/**
 * Plans of older formats. Each step brings a plan from one version of the format to the next, as edits of its text, so that
 * comments and order stay; steps are made one after the other, each on what the one before has written.
 */
import { applyEdits, type TextEdit } from "../text/edits.ts";
import { lineBreakOf, setKey } from "./cell-edits.ts";
import { firstValue, type Plan, readPlan } from "./plan.ts";

/** The version of the format that is read and written. */
export const FORMAT = 1;

/** A step from one version to the next. */
export interface Migration {
	/** The version it starts from: what it gives is of the next. */
	readonly from: number;
	/** Edits of the text of a plan as it is read now, beside that of its `format`. */
	readonly edits: (plan: Plan) => readonly TextEdit[];
}

/** Version 1 is the first: there is nothing older. What a next version changes is a step here. */
export const MIGRATIONS: readonly Migration[] = [];

/** The version that a plan says it is of; without one it is the first. */
export const formatOf = (plan: Plan): number => firstValue(plan, "plan")?.format ?? 1;

/** The text of an older plan in the format of now; undefined for one that is not older, and where no steps lead there. */
export function migrated(plan: Plan, steps = MIGRATIONS, until = FORMAT): string | undefined {
	let [now, text] = [plan, plan.text];
	if (formatOf(plan) >= until) return undefined;
	for (let version = formatOf(plan); version < until; version++) {
		const step = steps.find(({ from }) => from === version);
		if (!step) return undefined;
		text = applyEdits(text, [...step.edits(now), ...versionEdits(now, version + 1)]);
		now = readPlan(text);
		if (formatOf(now) !== version + 1) return undefined;
	}
	return text;
}

/** Writes the version into the `plan` cell; a plan without one begins with it. */
function versionEdits(plan: Plan, version: number): readonly TextEdit[] {
	const cell = plan.cells.find(({ read }) => read.kind === "plan");
	if (!cell) {
		const lines = ["plan:", `  format: ${version}`, "---", ""];
		return [{ from: 0, to: 0, text: lines.join(lineBreakOf(plan.text)) }];
	}
	const edit = setKey(cell, "", "format", version);
	return edit ? [edit] : [];
}
