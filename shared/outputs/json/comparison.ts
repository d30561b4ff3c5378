/** What changed between two states of a plan, or of all plans of two folders, as other programs get it. */
import { type Comparison, compare } from "../compare/compare.ts";
import { changedPlans } from "../compare/folders.ts";
import type { Materials } from "../output.ts";
import { findingRecords } from "./finding-record.ts";

/** Of folders: the plans that changed, in the order of their weight. */
export function comparisonRecord(states: Materials["states"]) {
	if (!("plans" in states)) {
		const { before, after } = states;
		return { old: before.path, new: after.path, ...changesOf(compare(before, after)) };
	}
	const { before, after } = states.folders;
	const plans = changedPlans(states).map((plan) => {
		const { path, is } = plan;
		const about = { path, state: is === "same" || is === "compared" ? "changed" : is };
		switch (plan.is) {
			case "new":
				return { ...about, was: null, found: findingRecords(plan.now.text, plan.now.findings) };
			case "deleted":
				return { ...about, was: path };
			case "same":
				return { ...about, was: plan.was ?? path };
			default:
				return { ...about, was: plan.was ?? path, ...changesOf(plan.comparison) };
		}
	});
	return { old: before, new: after, compared: states.plans.length, plans };
}

const changesOf = ({ safety, findings, evening, windows, values, text }: Comparison) => ({
	text,
	figures: values,
	windows: windows.map(({ what, before, after }) => ({ what, before, after })),
	evening,
	findings,
	cautions: safety,
});
