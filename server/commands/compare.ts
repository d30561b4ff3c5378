import { Command } from "commander";
import { compare, isSame } from "../../shared/outputs/compare/compare.ts";
import { type ComparedFolders, isChanged, type PlanState } from "../../shared/outputs/compare/folders.ts";
import type { Materials, Output } from "../../shared/outputs/output.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { CannotRun } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { outputOptions } from "../output-options.node.ts";
import { say } from "../terminal.node.ts";
import {
	checkedState,
	isUntouched,
	type Plans,
	pairsOf,
	type State,
	type StatePair,
	stateOf,
} from "../two-states.node.ts";

const words = sentences("command.compare", {
	more: `What a plan of a revision takes from others is read at that revision. A path is relative to the repository's
		root, or to this folder if it is not found there.`,
	exits: "0 compared, 1 with --exit-code when anything changed, 2 something could not be read.",
	comparesTwoPlans: `Compares two plans, two states of one, or all plans of two folders: what no longer works, which times and
		computed values changed, and what was edited. A change smaller than a value's rounding is not listed.`,
	planFileOr: "a plan file or a folder, or one of the git repository: REVISION:PATH, or :PATH of the index",
	exitWithWhen: "exit with 1 when anything changed",
	mixed: "{plan} is a plan and {folder} a folder: compare two plans, or two folders",
});

export function compareCommand(outputs?: readonly Output[]): Command {
	const forms = outputOptions("states", outputs);
	const command = new Command("compare")
		.description(told(words.comparesTwoPlans()))
		.argument("<old>", told(words.planFileOr()))
		.argument("<new>", "the same");
	return forms
		.addTo(command)
		.option("--exit-code", told(words.exitWithWhen()))
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook compare HEAD:plans/chapel.lode.yaml plans/chapel.lode.yaml\n  lodebook compare main:plans/chapel.lode.yaml HEAD:plans/chapel.lode.yaml --markdown\n  lodebook compare main:plans plans\n\n${told(words.more())}\n\n${HELP.exitStatus} ${told(words.exits())}`,
		)
		.action((before: string, after: string, options: { readonly exitCode?: true }) => {
			const asked = forms.asked(options);
			const { states, changed, unread } = twoStates(stateOf(before), stateOf(after));
			for (const message of unread) say(message);
			process.stdout.write(asked.text(states, `${before}, ${after}`));
			process.exitCode = unread.length > 0 ? 2 : options.exitCode && changed ? 1 : 0;
		});
}

interface Compared {
	readonly states: Materials["states"];
	readonly changed: boolean;
	readonly unread: readonly string[];
}

function twoStates(before: State, after: State): Compared {
	if ("plan" in before && "plan" in after) {
		const states = { before: checkedState(before.plan, "before"), after: checkedState(after.plan, "after") };
		return { states, changed: !isSame(compare(states.before, states.after)), unread: [] };
	}
	if ("plan" in before) throw new CannotRun(told(words.mixed({ plan: before.source, folder: after.source })));
	if ("plan" in after) throw new CannotRun(told(words.mixed({ plan: after.source, folder: before.source })));
	const unread = [...before.unread, ...after.unread];
	// What the settings of either state pass over is neither new nor deleted.
	const seen = (plans: Plans): Plans =>
		new Map([...plans].filter(([path]) => !before.passesOver(path) && !after.passesOver(path)));
	const [old, now] = [seen(before.plans), seen(after.plans)];
	const plans = pairsOf(old, now).flatMap((pair): PlanState[] => {
		try {
			return [stateOfPlan(pair)];
		} catch (error) {
			if (!(error instanceof CannotRun)) throw error;
			// What could not be read before either is the same as it was.
			const { path, before, after } = pair;
			if (before?.id !== undefined && before.id === after?.id) return [{ path, was: undefined, is: "same" }];
			unread.push(error.message);
			return [];
		}
	});
	const states: ComparedFolders = { folders: { before: before.source, after: after.source }, plans };
	return { states, changed: plans.some(isChanged), unread };
}

function stateOfPlan({ path, before, after, was }: StatePair): PlanState {
	if (!before && after) return { path, is: "new", now: checkedState(after, "after") };
	if (before && !after) return { path, is: "deleted" };
	if (!before || !after) throw new Error("a pair of nothing");
	if (isUntouched(before, after)) return { path, was, is: "same" };
	const [old, now] = [checkedState(before, "before"), checkedState(after, "after")];
	const comparison = compare(old, now);
	const written = old.text !== now.text;
	// What it takes from others is another, and nothing follows from that.
	if (!written && isSame(comparison)) return { path, was, is: "same" };
	return { path, was, is: "compared", comparison, written };
}
