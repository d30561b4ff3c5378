import { Command, Option } from "commander";
import { createEvaluator } from "../../shared/evaluate/evaluate.ts";
import { check, countBySeverity } from "../../shared/findings/check.ts";
import type { Severity } from "../../shared/findings/finding.ts";
import type { CheckedFile, Output } from "../../shared/outputs/output.ts";
import { CannotRun, readText } from "../files.node.ts";
import { findPlans } from "../find-plans.node.ts";
import { joinedPlan, settingsFor } from "../library.node.ts";
import { outputOptions } from "../output-options.node.ts";
import { say } from "../terminal.node.ts";

/** By the name that is shown; in JSON a note is `info`. */
const LOWEST = { error: "error", warning: "warning", note: "info", info: "info" } as const satisfies Record<
	string,
	Severity
>;

export function checkCommand(outputs?: readonly Output[]): Command {
	const forms = outputOptions("files", outputs);
	const command = new Command("check")
		.description("Checks plans and lists what is wrong: where, with which numbers, and how to fix it.")
		.argument("<path...>", "plan files, or folders that are searched for *.lode.yaml");
	return forms
		.addTo(command)
		.addOption(
			new Option("--fail-on <severity>", "lowest severity that makes the exit status 1")
				.choices(Object.keys(LOWEST))
				.default(undefined, "as the settings of the repository have it, else error"),
		)
		.addHelpText(
			"after",
			"\nExamples:\n  lodebook check samples\n  lodebook check plans/chapel.lode.yaml --fail-on warning\n\nExit status: 0 nothing at or above --fail-on, 1 findings at or above it, 2 something could not be read.",
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
				if (unread.length === 0) throw new CannotRun(`no *.lode.yaml file in ${paths.join(", ")}`);
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
