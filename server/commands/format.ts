import { Command } from "commander";
import { formatting } from "../../shared/plan/format.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { told } from "../../shared/text/sentence.ts";
import { CannotRun, planFiles, readText, writeText } from "../files.node.ts";

export const formatCommand = (): Command =>
	new Command("format")
		.description(
			"Formats plans in place: quotes clock times, tidies white space. Comments, order and notation stay; what does not parse is left alone.",
		)
		.argument("<path...>", "plan files, or folders that are searched for *.lode.yaml")
		.option("--check", "write nothing; exit with status 1 if a file is not formatted or cannot be")
		.addHelpText("after", "\nExamples:\n  lodebook format plans\n  lodebook format plans/chapel.lode.yaml --check")
		.action((paths: string[], { check }: { check?: boolean }) => {
			const files = planFiles(paths);
			if (files.length === 0) throw new CannotRun(`no *.lode.yaml file in ${paths.join(", ")}`);
			let [changed, refused] = [0, 0];
			const refuse = (path: string, why: string): void => {
				refused++;
				process.stderr.write(`${path} is left as it is: ${why}.\n`);
			};
			for (const path of files) {
				const text = readText(path);
				// Bytes that are no UTF-8 were read as U+FFFD: writing them back would lose them.
				if (text.includes("\uFFFD")) {
					refuse(path, "not all of it is UTF-8");
					continue;
				}
				const result = formatting(text);
				if (!result.ok) {
					refuse(path, told(result.why));
					continue;
				}
				if (result.edits.length === 0) continue;
				changed++;
				process.stdout.write(`${path}\n`);
				if (!check) writeText(path, applyEdits(text, result.edits));
			}
			const others = files.length - refused;
			process.stderr.write(
				changed > 0
					? `${changed} of ${files.length} ${check ? (changed === 1 ? "is" : "are") : "now"}${check ? " not" : ""} formatted.\n`
					: refused === 0
						? "All formatted.\n"
						: `${others} of ${files.length} formatted.\n`,
			);
			if (refused > 0 || (check && changed > 0)) process.exitCode = 1;
		});
