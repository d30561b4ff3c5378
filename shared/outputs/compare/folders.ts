/** All plans of two folders, or of two states of one: what became of each, in short. */
import type { Finding } from "../../findings/finding.ts";
import { listText } from "../../text/list.ts";
import { type Phrase, sentences, told } from "../../text/sentence.ts";
import type { CheckedPlan } from "../output.ts";
import { SEVERITIES } from "../severity.ts";
import { type Comparison, isSame } from "./compare.ts";
import { isOrder } from "./keys.ts";

const words = sentences("output.compare.folders", {
	summary: "{plans} compared: {states}.",
	plans: "{count} plan{s}",
	changed: "{count} changed",
	renamed: "{count} renamed",
	new: "{count} new",
	deleted: "{count} deleted",
	unchanged: "{count} unchanged",
	isNew: "new",
	isDeleted: "deleted",
	isRenamed: "renamed from {was}",
	isSame: "unchanged",
	taken: "changed by what it takes from other plans",
	gained: "{count} new {what}",
	found: "{count} {what}",
	lost: "{count} finding{s} gone",
	times: "times changed",
	values: "values changed",
	edited: "{cells} edited",
	reordered: "{cells} reordered",
	several: "{word}{s}",
});

/** A plan of both folders, or of one of them. */
export type PlanState = { readonly path: string } & (
	| { readonly is: "new"; readonly now: CheckedPlan }
	| { readonly is: "deleted" }
	| { readonly is: "same"; readonly was: string | undefined }
	| {
			readonly is: "compared";
			/** What it was called before, where that is another path. */
			readonly was: string | undefined;
			readonly comparison: Comparison;
			/** Whether its own text changed; else it is what it takes from others. */
			readonly written: boolean;
	  }
);

/** Two folders, plan by plan. */
export interface ComparedFolders {
	/** What the two are called. */
	readonly folders: { readonly before: string; readonly after: string };
	readonly plans: readonly PlanState[];
}

/** Whether anything of a plan is another than before. */
export function isChanged(plan: PlanState): boolean {
	switch (plan.is) {
		case "compared":
			return plan.was !== undefined || !isSame(plan.comparison);
		case "same":
			return plan.was !== undefined;
		default:
			return true;
	}
}

/** The plans that changed, those first in which something no longer works. */
export const changedPlans = ({ plans }: ComparedFolders): readonly PlanState[] =>
	[...plans.filter(isChanged)].sort((a, b) => weightOf(b) - weightOf(a));

/** What no longer works leads: new errors before new warnings, and these before the rest. */
function weightOf(plan: PlanState): number {
	const findings =
		plan.is === "compared" ? plan.comparison.findings.gained : plan.is === "new" ? plan.now.findings : [];
	return findings.some(({ severity }) => severity === "error")
		? 2
		: findings.some(({ severity }) => severity === "warning")
			? 1
			: 0;
}

const s = (count: number): string => (count === 1 ? "" : "s");

/** `12 plans compared: 3 changed, 1 new and 8 unchanged.` */
export function foldersSummary({ plans }: ComparedFolders): string {
	const count = (test: (plan: PlanState) => boolean): number => plans.filter(test).length;
	const states: readonly [number, (values: { count: number }) => Phrase][] = [
		[count((plan) => isChanged(plan) && plan.is === "compared" && plan.was === undefined), words.changed],
		[count((plan) => (plan.is === "compared" || plan.is === "same") && plan.was !== undefined), words.renamed],
		[count(({ is }) => is === "new"), words.new],
		[count(({ is }) => is === "deleted"), words.deleted],
		[count((plan) => !isChanged(plan)), words.unchanged],
	];
	const said = states.flatMap(([many, say]) => (many > 0 ? [told(say({ count: many }))] : []));
	return told(
		words.summary({
			plans: words.plans({ count: plans.length, s: s(plans.length) }),
			states: said.length > 0 ? listText(said) : told(words.unchanged({ count: 0 })),
		}),
	);
}

/** What became of a plan, in short: `night edited, 2 new errors, times changed`. */
export function stateText(plan: PlanState): string {
	const renamed = (plan.is === "compared" || plan.is === "same") && plan.was !== undefined;
	const said = renamed ? [told(words.isRenamed({ was: plan.was ?? "" }))] : [];
	switch (plan.is) {
		case "new":
			return [told(words.isNew()), ...counted(plan.now.findings, words.found)].join(", ");
		case "deleted":
			return told(words.isDeleted());
		case "same":
			return said[0] ?? told(words.isSame());
		default: {
			const { findings, evening, windows, values, text } = plan.comparison;
			said.push(...(plan.written ? editedText(text) : [told(words.taken())]));
			said.push(...counted(findings.gained, words.gained));
			const lost = findings.lost.length;
			if (lost > 0) said.push(told(words.lost({ count: lost, s: s(lost) })));
			if (evening.length + windows.length > 0) said.push(told(words.times()));
			if (values.length > 0) said.push(told(words.values()));
			return said.length > 0 ? said.join(", ") : told(words.isSame());
		}
	}
}

/** What was edited, and of what the order alone is another: `night and targets edited, method reordered`. */
function editedText(text: Comparison["text"]): readonly string[] {
	const cells = (changes: Comparison["text"]) => [...new Set(changes.map(({ cell }) => cell))];
	const edited = cells(text.filter((change) => !isOrder(change)));
	const reordered = cells(text.filter(isOrder)).filter((cell) => !edited.includes(cell));
	return [
		...(edited.length > 0 ? [told(words.edited({ cells: listText(edited) }))] : []),
		...(reordered.length > 0 ? [told(words.reordered({ cells: listText(reordered) }))] : []),
	];
}

function counted(
	findings: readonly Pick<Finding, "severity">[],
	say: (values: { count: number; what: Phrase }) => Phrase,
): readonly string[] {
	return (["error", "warning", "info"] as const).flatMap((severity) => {
		const count = findings.filter((one) => one.severity === severity).length;
		const what = words.several({ word: SEVERITIES[severity].word, s: s(count) });
		return count > 0 ? [told(say({ count, what }))] : [];
	});
}
