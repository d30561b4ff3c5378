import { Command } from "commander";
import { formatting } from "../../shared/plan/format.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, readPlanFile } from "../files.node.ts";
import { findPlans } from "../find-plans.node.ts";
import { HELP } from "../help-words.ts";
import { say } from "../terminal.node.ts";
import { replaceFile } from "../write-file.node.ts";

const words = sentences("command.format", {
	formatsPlansPlace:
		"Formats plans in place: adds quotes to clock times and tidies white space. Comments, order and units stay as they are; a plan that does not parse is left alone.",
	planFilesOr: "plan files, or folders that are searched for *.lode.yaml",
	writeNothingExit: "write nothing; exit with status 1 if a file is not formatted or cannot be",
	noLodeYaml: "no *.lode.yaml file in {paths}",
	allOthersAre: "All others are formatted.",
	leftAsNot: "{path} is left as it is: not all of it is UTF-8",
	leftAs: "{path} is left as it is: {why}",
});

export const formatCommand = (): Command =>
	new Command("format")
		.description(told(words.formatsPlansPlace()))
		.argument("<path...>", told(words.planFilesOr()))
		.option("--check", told(words.writeNothingExit()))
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook format plans\n  lodebook format plans/chapel.lode.yaml --check`,
		)
		.action((paths: string[], { check }: { check?: boolean }) => {
			const { plans, skipped, failed } = findPlans(paths);
			for (const message of [...skipped, ...failed]) say(message);
			if (plans.length === 0 && failed.length === 0)
				throw new CannotRun(told(words.noLodeYaml({ paths: paths.join(", ") })));
			let [changed, left] = [0, 0];
			for (const path of plans) {
				try {
					if (!formatFile(path, check)) continue;
					changed++;
					process.stdout.write(`${shown(path)}\n`);
				} catch (error) {
					if (!(error instanceof CannotRun)) throw error;
					left++;
					say(error.message);
				}
			}
			if (left + failed.length > 0) process.exitCode = 2;
			else if (check && changed > 0) process.exitCode = 1;
			if (plans.length === left) return;
			process.stderr.write(
				changed === 0
					? left === 0
						? "All formatted.\n"
						: `${told(words.allOthersAre())}\n`
					: `${changed} of ${plans.length} ${check ? (changed === 1 ? "is" : "are") : "now"}${check ? " not" : ""} formatted.\n`,
			);
		});

/** Whether the file was not formatted; it now is, unless it is only looked at. */
function formatFile(path: string, check: boolean | undefined): boolean {
	const file = readPlanFile(path);
	// Bytes that are not UTF-8 were read as U+FFFD: writing them back would lose them.
	if (!file.valid) throw new CannotRun(told(words.leftAsNot({ path })));
	const result = formatting(file.text);
	if (!result.ok) throw new CannotRun(told(words.leftAs({ path, why: told(result.why) })));
	if (result.edits.length === 0) return false;
	if (!check) replaceFile(file, applyEdits(file.text, result.edits));
	return true;
}
