import { Command } from "commander";
import { format } from "../../shared/plan/format.ts";
import { CannotRun, planFiles, readText, writeText } from "../files.node.ts";

export const formatCommand = (): Command =>
	new Command("format")
		.description(
			"Formats plans in place: quotes clock times, tidies white space. Comments, order and notation stay; what does not parse is left alone.",
		)
		.argument("<path...>", "plan files, or folders that are searched for *.lode.yaml")
		.option("--check", "write nothing; exit with status 1 if a file is not formatted")
		.addHelpText("after", "\nExamples:\n  lodebook format plans\n  lodebook format plans/chapel.lode.yaml --check")
		.action((paths: string[], { check }: { check?: boolean }) => {
			const files = planFiles(paths);
			if (files.length === 0) throw new CannotRun(`no *.lode.yaml file in ${paths.join(", ")}`);
			let changed = 0;
			for (const path of files) {
				const text = readText(path);
				// Bytes that are no UTF-8 were read as U+FFFD: writing them back would lose them.
				if (text.includes("\uFFFD")) {
					process.stderr.write(`${path}: not all of it is UTF-8, left as it is\n`);
					continue;
				}
				const formatted = format(text);
				if (formatted === text) continue;
				changed++;
				process.stdout.write(`${path}\n`);
				if (!check) writeText(path, formatted);
			}
			process.stderr.write(
				changed === 0
					? "All formatted.\n"
					: `${changed} of ${files.length} ${check ? (changed === 1 ? "is" : "are") : "now"}${check ? " not" : ""} formatted.\n`,
			);
			if (check && changed > 0) process.exitCode = 1;
		});
