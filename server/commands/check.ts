import { Command, Option } from "commander";
import { createEvaluator } from "../../shared/evaluate/evaluate.ts";
import { check, countBySeverity } from "../../shared/findings/check.ts";
import type { Severity } from "../../shared/findings/finding.ts";
import type { CheckedFile, Output } from "../../shared/outputs/output.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { CannotRun, readText } from "../files.node.ts";
import { findPlans } from "../find-plans.node.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan, settingsFor } from "../library.node.ts";
import { outputOptions } from "../output-options.node.ts";
import { say } from "../terminal.node.ts";

const words = sentences("command.check", {
	exits: "0 nothing at or above --fail-on, 1 findings at or above it, 2 something could not be read.",
	checksPlansLists: "Checks plans and lists what is wrong: where, with which numbers, and how to fix it.",
	planFilesOr: "plan files, or folders that are searched for *.lode.yaml",
	lowestSeverityThat: "lowest severity that makes the exit status 1",
	asSettingsRepository: "as the settings of the repository have it, else error",
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
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook check samples\n  lodebook check plans/chapel.lode.yaml --fail-on warning\n\n${HELP.exitStatus} ${told(words.exits())}`,
		)
		.action((paths: string[], options: { readonly failOn?: keyof typeof LOWEST }) => {
			const asked = forms.asked(options);
			const { plans, skipped, failed } = findPlans(paths);
			const unread = [...failed];
			const files = plans.flatMap((path) => {
				try {
					return checkFile(path);
				} catch (error) {
					if (!(error instanceof CannotRun)) throw error;
					unread.push(error.message);
					return [];
				}
			});
			for (const message of [...skipped, ...unread]) say(message);
			if (files.length === 0) {
				if (unread.length === 0) throw new CannotRun(told(words.noLodeYaml({ paths: paths.join(", ") })));
				process.exitCode = 2;
				return;
			}
			process.stdout.write(asked.text(files, paths.join(", ")));
			const all = files.flatMap(({ findings }) => findings);
			const { error, warning } = countBySeverity(all);
			const failing = { error, warning: error + warning, info: all.length }[LOWEST[options.failOn ?? failOnFor(paths)]];
			process.exitCode = unread.length > 0 ? 2 : failing > 0 ? 1 : 0;
		});
}

/** The strictest of the settings that hold for what is asked for. */
function failOnFor(paths: readonly string[]): keyof typeof LOWEST {
	const wanted = paths.map((path) => settingsFor(path)?.["fail-on"] ?? "error");
	return (["note", "warning", "error"] as const).find((one) => wanted.includes(one)) ?? "error";
}

/** Plans of one workshop share cells: what was read and evaluated for one file is used for the next. */
const evaluateNext = createEvaluator();

function checkFile(path: string): CheckedFile {
	const text = readText(path);
	return { path, text, findings: check(evaluateNext(joinedPlan(path, text))) };
}
