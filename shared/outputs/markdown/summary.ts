/** The plan in short as Markdown, for a code-review site. Nothing of the plan's text can become markup. */

import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { Finding } from "../../findings/finding.ts";
import { told } from "../../text/sentence.ts";
import { eveningTitle } from "../evening.ts";
import { methodHeading, methodStateText } from "../method-state.ts";
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
	if (view.cautions.length > 0) {
		const list = view.cautions.map((caution) => `- ${markdownText(caution)}\n`);
		out.push(`\n### ${told(words.cautions())}\n\n${list.join("")}`);
	}
	out.push(...eveningOf(view), ...methodsOf(view), ...lostOf(view), ...nightOf(view));
	for (const { target, panels } of view.shots)
		for (const { title, head, rows } of panels)
			out.push(
				folded(
					told(words.valueOf({ of: target, label: title })),
					[...headLines(head), ...rows.map(tableLine)].join("\n"),
				),
			);
	if (view.notes.length > 0) out.push(`\n### ${told(words.notes())}\n\n${view.notes.map(noteMarkdown).join("\n")}`);
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

function eveningOf({ evening }: PageView): readonly string[] {
	if (evening.length === 0) return [];
	const rows = evening.map((row) => `| ${[row.times, row.say, row.about].map(markdownText).join(" | ")} |\n`);
	return [`\n### ${eveningTitle()}\n\n| | | |\n|---|---|---|\n${rows.join("")}`];
}

function lostOf({ lost }: PageView): readonly string[] {
	if (!lost) return [];
	return [folded(lost.title, [...headLines(lost.head), ...lost.rows.map(tableLine)].join("\n"))];
}

function methodsOf({ methods }: PageView): readonly string[] {
	return methods.map((method, i) => {
		const { name, steps, notCleared, corrects } = method;
		const state = methodStateText(method, { written: markdownText });
		if (!method.works) return `\n${state}\n`;
		const warned = notCleared === "" ? "" : `**${markdownText(notCleared)}**\n\n`;
		const list = steps.length === 0 ? "" : `${stepsMarkdown(steps)}\n`;
		const tables = method.minutes.map((table) => folded(table.title, minutesTable(table))).join("");
		const body = `${warned}${state}\n\n${list}${tables}`;
		const heading = methodHeading(i, name, corrects);
		return i === 0 ? `\n### ${markdownText(heading)}\n\n${body}` : folded(heading, body);
	});
}

/** A note as a quotation, line by line: what would begin a list, a rule or a heading there is text. */
function noteMarkdown(note: string): string {
	const lines = note.trimEnd().split(/\r\n|[\n\r]/);
	const quoted = lines.map((line) => {
		const text = markdownText(line.trim())
			.replace(/^([-=])/, "\\$1")
			.replace(/^(\d+)([.)])/, "$1\\$2");
		return text === "" ? ">" : `> ${text}  `;
	});
	return `${quoted.join("\n")}\n`;
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
	const bold = (columns: readonly string[]): string =>
		`| ${columns.map((text) => `**${markdownText(text)}**`).join(" | ")} |`;
	return [
		...headLines(head),
		...rows.map(({ planned, columns }) => (planned ? bold(columns) : tableLine(columns))),
	].join("\n");
}

const tableLine = (columns: readonly string[]): string => `| ${columns.map(markdownText).join(" | ")} |`;

/** The head of a table and the line under it. */
const headLines = (head: readonly string[]): readonly string[] => [
	tableLine(head),
	`|${head.map(() => "---|").join("")}`,
];

/** The code of a finding. */
export const codeMarkdown = (code: string): string => `\`${code.replace(/`/g, "")}\``;
