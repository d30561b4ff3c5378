import { relative, sep } from "node:path";
import { Command, Option } from "commander";
import { createEvaluator } from "../../shared/evaluate/evaluate.ts";
import { check, countBySeverity } from "../../shared/findings/check.ts";
import type { Finding } from "../../shared/findings/finding.ts";
import { annotations } from "../../shared/outputs/annotations/annotations.ts";
import { type FindingRecord, findingRecords } from "../../shared/outputs/json/finding-record.ts";
import { sarifLog } from "../../shared/outputs/sarif/sarif.ts";
import { CannotRun, named, readText } from "../files.node.ts";
import { findPlans } from "../find-plans.node.ts";
import { joinedPlan } from "../library.node.ts";
import { excerpt, paint, say } from "../terminal.node.ts";

interface Options {
	readonly json?: boolean;
	readonly annotations?: boolean;
	readonly sarif?: boolean;
	readonly failOn: "error" | "warning" | "info";
}

interface CheckedFile {
	readonly path: string;
	readonly text: string;
	readonly findings: readonly Finding[];
	readonly records: readonly FindingRecord[];
}

export const checkCommand = (): Command =>
	new Command("check")
		.description("Checks plans and lists what is wrong with them, with the place, the numbers and the way out.")
		.argument("<path...>", "plan files, or folders that are searched for *.lode.yaml")
		.option("--json", "print JSON")
		.option("--sarif", "print SARIF 2.1.0, for code-scanning tools")
		.option("--annotations", "print workflow commands that annotate the lines of a pull request")
		.addOption(
			new Option("--fail-on <severity>", "lowest severity that makes the exit status 1")
				.choices(["error", "warning", "info"])
				.default("error"),
		)
		.addHelpText(
			"after",
			"\nExamples:\n  lodebook check samples\n  lodebook check plans/chapel.lode.yaml --fail-on warning\n\nExit status: 0 clean, 1 findings at or over --fail-on, 2 could not be run, or not all of it.",
		)
		.action((paths: string[], options: Options) => {
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
				if (unread.length === 0) throw new CannotRun(`no *.lode.yaml file in ${paths.map(named).join(", ")}`);
				process.exitCode = 2;
				return;
			}
			const all = files.flatMap(({ findings }) => findings);
			const counts = countBySeverity(all);
			const summary = { errors: counts.error, warnings: counts.warning, infos: counts.info };
			if (options.json)
				process.stdout.write(
					`${JSON.stringify({ files: files.map(({ path, records }) => ({ path, findings: records })), summary }, null, 2)}\n`,
				);
			else if (options.sarif) process.stdout.write(`${JSON.stringify(sarifLog(files.map(fromHere)), null, 2)}\n`);
			else if (options.annotations)
				process.stdout.write(files.map(({ path, records }) => annotations(path, records)).join(""));
			else process.stdout.write(`${files.map(fileText).join("")}${summaryText(summary, files.length)}\n`);
			const failing = { error: counts.error, warning: counts.error + counts.warning, info: all.length }[options.failOn];
			process.exitCode = unread.length > 0 ? 2 : failing > 0 ? 1 : 0;
		});

/** The same file, by its path from the folder in which the command runs. */
const fromHere = (file: CheckedFile): CheckedFile => ({
	...file,
	path: relative(process.cwd(), file.path).split(sep).join("/"),
});

/** Plans of one workshop share cells: what was read and evaluated for one file serves the next. */
const evaluateNext = createEvaluator();

export function checkFile(path: string): CheckedFile {
	const text = readText(path);
	const findings = check(evaluateNext(joinedPlan(path, text)));
	return { path, text, findings, records: findingRecords(text, findings) };
}

function fileText({ path, text, records }: CheckedFile): string {
	if (records.length === 0) return "";
	return `${records.map((record) => `${findingText(path, record)}\n${excerpt(text, record)}`).join("\n")}\n`;
}

function findingText(path: string, { line, column, severity, message, code, fixes }: FindingRecord): string {
	const colour = severity === "error" ? "red" : severity === "warning" ? "yellow" : "blue";
	const methods = fixes.map((title) => `\n    ${paint("way out", "dim")}: ${title}`).join("");
	return `${paint(`${path}:${line}:${column}`, "bold")}  ${paint(severity, colour)}  ${message}  ${paint(`[${code}]`, "dim")}${methods}`;
}

const count = (number: number, word: string): string => `${number} ${word}${number === 1 ? "" : "s"}`;

function summaryText(
	{ errors, warnings, infos }: { errors: number; warnings: number; infos: number },
	files: number,
): string {
	const found =
		errors + warnings + infos === 0
			? "nothing to mend"
			: `${count(errors, "error")}, ${count(warnings, "warning")}, ${infos} good to know`;
	return `${count(files, "plan")} checked: ${found}.`;
}
