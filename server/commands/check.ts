import { Command, InvalidArgumentError, Option } from "commander";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check, countBySeverity } from "../../shared/findings/check.ts";
import type { Severity } from "../../shared/findings/finding.ts";
import { safeEdits } from "../../shared/findings/safe-edits.ts";
import type { CheckedFile, Output } from "../../shared/outputs/output.ts";
import { stillReads } from "../../shared/plan/cell-edits.ts";
import { migrated } from "../../shared/plan/migrations.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { CannotRun, readPlanFile, readStandardInput } from "../files.node.ts";
import { findPlans } from "../find-plans.node.ts";
import { HELP } from "../help-words.ts";
import { checkedText } from "../jobs/check.node.ts";
import { jobsOption } from "../jobs-option.node.ts";
import { joinedPlan, settingsFor } from "../library.node.ts";
import { forMany } from "../many.node.ts";
import { outputOptions } from "../output-options.node.ts";
import { say } from "../terminal.node.ts";
import { replaceFile } from "../write-file.node.ts";

const words = sentences("command.check", {
	exits: "0 nothing at or above --fail-on, 1 findings at or above it, 2 something could not be read.",
	checksPlansLists: "Checks plans and lists what is wrong: where, with which numbers, and how to fix it.",
	planFilesOr: "plan files, or folders that are searched for *.lode.yaml; - alone is standard input",
	stdinPath: "path of the plan on standard input, for messages and for the relative paths in it",
	fixes: "apply the fixes that cannot change what was meant, write the files, and list what is left",
	onlyStdin: "- is a plan by itself: it cannot be checked with other paths, nor fixed in place.",
	noStdin: "--stdin-path names the plan on standard input: write - as the path.",
	fixed: "{path}: {count} fix{es} applied",
	notUtf8: "{path} is not fixed: not all of it is UTF-8",
	lowestSeverityThat: "lowest severity that makes the exit status 1",
	asSettingsRepository: "as in the settings of the repository, otherwise error",
	noLodeYaml: "no *.lode.yaml file in {paths}",
});

/** By the name that is shown; in JSON a note is `info`. */
const LOWEST = { error: "error", warning: "warning", note: "info", info: "info" } as const satisfies Record<
	string,
	Severity
>;

export function checkCommand(outputs?: readonly Output[]): Command {
	const forms = outputOptions("files", outputs);
	const command = new Command("check")
		.description(told(words.checksPlansLists()))
		.argument("<path...>", told(words.planFilesOr()));
	return forms
		.addTo(command)
		.addOption(
			new Option("--fail-on <severity>", told(words.lowestSeverityThat()))
				.choices(Object.keys(LOWEST))
				.default(undefined, told(words.asSettingsRepository())),
		)
		.option("--stdin-path <path>", told(words.stdinPath()))
		.option("--fix", told(words.fixes()))
		.addOption(jobsOption())
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook check samples\n  lodebook check plans/chapel.lode.yaml --fail-on warning\n  lodebook check - --stdin-path plans/chapel.lode.yaml < draft\n\n${HELP.exitStatus} ${told(words.exits())}`,
		)
		.action(async (paths: string[], options: Options) => {
			const asked = forms.asked(options);
			const input = paths.includes("-");
			if (input && (paths.length > 1 || options.fix)) throw new InvalidArgumentError(told(words.onlyStdin()));
			if (!input && options.stdinPath !== undefined) throw new InvalidArgumentError(told(words.noStdin()));
			const { plans, skipped, failed } = input ? { plans: ["-"], skipped: [], failed: [] } : findPlans(paths);
			const unread = [...failed];
			const unfixed = new Set(options.fix ? plans.filter((path) => !isFixed(path, unread)) : []);
			const files: CheckedFile[] = [];
			if (input) files.push(checkedText(options.stdinPath ?? STDIN_NAME, readStandardInput()));
			else
				for (const outcome of await forMany(
					"check",
					plans.filter((path) => !unfixed.has(path)),
					undefined,
					options.jobs,
				))
					if ("made" in outcome) files.push(outcome.made);
					else unread.push(outcome.failed);
			for (const message of [...skipped, ...unread]) say(message);
			if (files.length === 0) {
				if (unread.length === 0) throw new CannotRun(told(words.noLodeYaml({ paths: paths.join(", ") })));
				process.exitCode = 2;
				return;
			}
			process.stdout.write(asked.text(files, paths.join(", ")));
			const all = files.flatMap(({ records }) => records);
			const { error, warning } = countBySeverity(all);
			const failing = { error, warning: error + warning, info: all.length }[
				LOWEST[options.failOn ?? failOnFor(input ? [options.stdinPath ?? STDIN_NAME] : paths)]
			];
			process.exitCode = unread.length > 0 ? 2 : failing > 0 ? 1 : 0;
		});
}

interface Options {
	readonly failOn?: keyof typeof LOWEST;
	readonly stdinPath?: string;
	readonly fix?: true;
	readonly jobs?: number;
}

/** What a plan on standard input is called where nothing else is said. */
const STDIN_NAME = "stdin.lode.yaml";

/** A fix may bring another with it; so many rounds are enough, or they go in a circle. */
const ROUNDS = 5;

/** Applies the safe fixes and writes the file. */
function fixFile(path: string): void {
	const file = readPlanFile(path);
	if (!file.valid) throw new CannotRun(told(words.notUtf8({ path })));
	// A plan of an older format is brought to that of now first.
	let [text, count] = [migrated(joinedPlan(path, file.text)) ?? file.text, 0];
	for (let round = 0; round < ROUNDS; round++) {
		const plan = joinedPlan(path, text);
		const edits = safeEdits(check(evaluate(plan)));
		if (edits.length === 0 || !stillReads(plan, edits)) break;
		text = applyEdits(text, edits);
		count += edits.length;
	}
	if (text === file.text) return;
	replaceFile(file, text);
	say(told(words.fixed({ path, count, es: count === 1 ? "" : "es" })));
}

/** The strictest of the settings that hold for what is asked for. */
function failOnFor(paths: readonly string[]): keyof typeof LOWEST {
	const wanted = paths.map((path) => settingsFor(path)?.["fail-on"] ?? "error");
	return (["note", "warning", "error"] as const).find((one) => wanted.includes(one)) ?? "error";
}

/** Whether a file could be read and written; else why not is told. */
function isFixed(path: string, unread: string[]): boolean {
	try {
		fixFile(path);
		return true;
	} catch (error) {
		if (!(error instanceof CannotRun)) throw error;
		unread.push(error.message);
		return false;
	}
}
