import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { Command } from "commander";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import {
	type Comparison,
	compare,
	comparisonMarkdown,
	isSame,
	type Side,
} from "../../shared/outputs/compare/compare.ts";
import { CannotRun, readText } from "../files.node.ts";
import { joinedPlan } from "../library.node.ts";
import { paint, printable, rows } from "../terminal.node.ts";

interface Options {
	readonly json?: boolean;
	readonly markdown?: boolean;
}

export const compareCommand = (): Command =>
	new Command("compare")
		.description(
			"Compares two plans, or two states of one: what changed in the text and in what follows from it. What is below a figure's rounding is silent.",
		)
		.argument("<old>", "a plan file, or REVISION:PATH of the git repository")
		.argument("<new>", "the same")
		.option("--json", "print JSON")
		.option("--markdown", "print Markdown, for a comment on a pull request")
		.addHelpText(
			"after",
			"\nExamples:\n  lodebook compare HEAD:plans/chapel.lode.yaml plans/chapel.lode.yaml\n  lodebook compare main:plans/chapel.lode.yaml HEAD:plans/chapel.lode.yaml --markdown",
		)
		.action((before: string, after: string, options: Options) => {
			const comparison = compare(sideOf(before), sideOf(after));
			if (options.json) {
				const { text, values, windows, findings } = comparison;
				const record = { old: before, new: after, text, figures: values, windows, findings };
				process.stdout.write(`${JSON.stringify(record, null, 2)}\n`);
			} else
				process.stdout.write(
					options.markdown ? comparisonMarkdown(comparison, before, after) : comparisonText(comparison),
				);
		});

function sideOf(source: string): Side {
	const { path, text } = textOf(source);
	const evaluation = evaluate(joinedPlan(path, text));
	return { evaluation, findings: check(evaluation) };
}

/** A file's text, or that of a revision. What the plan takes from others is read as it is in the folder now. */
function textOf(source: string): { readonly path: string; readonly text: string } {
	// A revision that starts with a dash would be read as an option of git.
	const revision = /^([^:-][^:]*):(.+)$/s.exec(source);
	if (!revision || existsSync(source)) return { path: source, text: readText(source) };
	const [, , path = ""] = revision;
	try {
		// cat-file runs none of the filters and programs that a repository's settings may name.
		const bytes = execFileSync("git", ["cat-file", "blob", source], {
			stdio: ["ignore", "pipe", "pipe"],
			maxBuffer: 64 * 1024 * 1024,
		});
		return { path, text: new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes) };
	} catch (error) {
		const said = String((error as { stderr?: unknown }).stderr ?? "").trim();
		throw new CannotRun(`${source} cannot be read from git${said ? `: ${said.split("\n")[0]}` : ""}`);
	}
}

function comparisonText(comparison: Comparison): string {
	if (isSame(comparison)) return "Nothing changed in the plan or in what follows from it.\n";
	const { text, values, windows, findings } = comparison;
	const out: string[] = [];
	const part = (title: string, pairs: readonly (readonly [string, string])[]): void => {
		if (pairs.length > 0)
			out.push(
				`${out.length > 0 ? "\n" : ""}${paint(title, "bold")}\n`,
				rows(pairs.map(([label, value]) => [printable(label), printable(value)])),
			);
	};
	const change = (was: string | null | undefined, is: string | null | undefined): string =>
		`${oneLine(was)} → ${oneLine(is)}`;
	part(
		"Findings gained",
		findings.gained.map(({ severity, cell, message, code }) => [
			`${severity}, ${cell ?? "plan"}`,
			`${message} [${code}]`,
		]),
	);
	part(
		"Findings lost",
		findings.lost.map(({ severity, cell, message, code }) => [
			`${severity}, ${cell ?? "plan"}`,
			`${message} [${code}]`,
		]),
	);
	part(
		"In the text",
		text.map(({ cell, key, before, after }) => [`${cell}${key ? `: ${key}` : ""}`, change(before, after)]),
	);
	part(
		"Windows",
		windows.map(({ what, before, after }) => [what, change(before.join(", ") || "never", after.join(", ") || "never")]),
	);
	part(
		"Figures",
		values.map(({ cell, label, of, before, after }) => [
			`${cell}: ${label}${of === null ? "" : ` (${of})`}`,
			change(before?.text, after?.text),
		]),
	);
	return out.join("");
}

function oneLine(text: string | null | undefined): string {
	if (text === null || text === undefined) return "–";
	const line = text.replace(/\s*\n\s*/g, " ⏎ ");
	return line.length > 100 ? `${line.slice(0, 100)}…` : line;
}
