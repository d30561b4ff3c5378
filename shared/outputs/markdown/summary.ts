/** The plan in short as Markdown, for a code-review site. Nothing of the plan's text can become markup. */

import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { Finding } from "../../findings/finding.ts";
import { told } from "../../text/sentence.ts";
import { methodStateText } from "../method-state.ts";
import type { MinutesView } from "../minutes.ts";
import { type PageView, pageView } from "../page/view.ts";
import { severityWord } from "../severity.ts";
import { numberedSteps, type Step } from "../steps.ts";
import { markdownText } from "./escaped.ts";
import { words } from "./words.ts";

export function summaryMarkdown(evaluation: Evaluation, findings: readonly Finding[]): string {
	const view = pageView(evaluation, findings);
	const out = [
		`## ${markdownText(view.title)}\n\n${markdownText(view.where)}\n\n**${markdownText(view.verdict.text)}**\n`,
	];
	if (view.summary !== "") out.push(`\n${markdownText(view.summary)}\n`);
	if (view.findings.length > 0) {
		out.push(`\n${told(words.findingHead())}\n|---:|---|---|\n`);
		for (const { severity, message, code, line } of view.findings)
			out.push(`| ${line} | ${severityWord(severity)} | ${markdownText(message)} ${codeMarkdown(code)} |\n`);
	}
	out.push(...methodsOf(view), ...nightOf(view));
	if (view.cautions.length > 0) {
		const list = view.cautions.map((caution) => `- ${markdownText(caution)}\n`);
		out.push(`\n### ${told(words.cautions())}\n\n${list.join("")}`);
	}
	for (const { kind, name, groups, minutes } of view.tables) {
		const rows = groups.flatMap(({ of, rows: list }) =>
			list.map(({ label, text }) => [of === "" ? label : told(words.valueOf({ of, label })), text] as const),
		);
		if (rows.length === 0) continue;
		const heading = name === "" || name === kind ? kind : told(words.named({ kind, name }));
		const table = rows.map((row) => `| ${row.map(markdownText).join(" | ")} |\n`).join("");
		out.push(folded(heading, `${told(words.valueHead())}\n|---|---|\n${table}`));
		if (kind !== "method") for (const one of minutes) out.push(folded(one.title, minutesTable(one)));
	}
	return out.join("");
}

function methodsOf({ methods }: PageView): readonly string[] {
	return methods.map((method, i) => {
		const { kind, steps } = method;
		const list = steps.length === 0 ? "" : `${stepsMarkdown(steps)}\n`;
		const tables = method.minutes.map((table) => folded(table.title, minutesTable(table))).join("");
		const body = `${methodStateText(method, { written: markdownText })}\n\n${list}${tables}`;
		return i === 0
			? `\n### ${told(words.align({ kind: markdownText(kind) }))}\n\n${body}`
			: folded(told(words.fallback({ kind })), body);
	});
}

const folded = (summary: string, body: string): string =>
	`\n<details><summary>${markdownText(summary)}</summary>\n\n${body}\n</details>\n`;

function nightOf({ timeline }: PageView): readonly string[] {
	if (!timeline) return [];
	const rows = timeline.rows.map(({ label, text }) => `| ${markdownText(label)} | ${markdownText(text)} |\n`);
	return [`\n### ${told(words.night())}\n\n| | |\n|---|---|\n${rows.join("")}`];
}

/** Steps as a numbered list. */
export const stepsMarkdown = (steps: readonly Step[]): string =>
	numberedSteps(steps, { say: markdownText, number: (text) => ` **${markdownText(text)}**` }).join("\n");

/** Numbers by the minute as a table under its title. */
export const minutesMarkdown = (table: MinutesView): string =>
	`**${markdownText(table.title)}**\n\n${minutesTable(table)}`;

function minutesTable({ head, rows }: MinutesView): string {
	const line = (columns: readonly string[]): string => `| ${columns.map(markdownText).join(" | ")} |`;
	const bold = (columns: readonly string[]): string =>
		`| ${columns.map((text) => `**${markdownText(text)}**`).join(" | ")} |`;
	return [
		line(head),
		`|${head.map(() => "---|").join("")}`,
		...rows.map(({ planned, columns }) => (planned ? bold(columns) : line(columns))),
	].join("\n");
}

/** The code of a finding. */
export const codeMarkdown = (code: string): string => `\`${code.replace(/`/g, "")}\``;
