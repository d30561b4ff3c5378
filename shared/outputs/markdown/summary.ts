/** The plan in short as Markdown, for a code-review site. Nothing of the plan's text can become markup. */

import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { Finding } from "../../findings/finding.ts";
import { WORD } from "../page/page.tsx";
import { type MethodView, type PageView, pageView } from "../page/view.ts";
import { markdownText } from "./escaped.ts";

export function summaryMarkdown(evaluation: Evaluation, findings: readonly Finding[]): string {
	const view = pageView(evaluation, findings);
	const out = [
		`## ${markdownText(view.title)}\n\n${markdownText(view.where)}\n\n**${markdownText(view.verdict.text)}**\n`,
	];
	if (view.summary !== "") out.push(`\n${markdownText(view.summary)}\n`);
	if (view.findings.length > 0) {
		out.push("\n| line | | finding |\n|---:|---|---|\n");
		for (const { severity, message, code, line } of view.findings)
			out.push(`| ${line} | ${WORD[severity]} | ${markdownText(message)} \`${code.replace(/`/g, "")}\` |\n`);
	}
	out.push(...methodsOf(view), ...nightOf(view));
	if (view.cautions.length > 0)
		out.push(`\n### Take care\n\n${view.cautions.map((caution) => `- ${markdownText(caution)}\n`).join("")}`);
	for (const { kind, name, groups } of view.tables) {
		const rows = groups.flatMap(({ of, rows: list }) =>
			list.map(({ label, text }) => [of === "" ? label : `${of}: ${label}`, text] as const),
		);
		if (rows.length === 0) continue;
		const heading = name === "" || name === kind ? kind : `${kind}: ${name}`;
		out.push(
			`\n<details><summary>${markdownText(heading)}</summary>\n\n| figure | |\n|---|---|\n${rows.map((row) => `| ${row.map(markdownText).join(" | ")} |\n`).join("")}\n</details>\n`,
		);
	}
	return out.join("");
}

function methodsOf({ methods }: PageView): readonly string[] {
	return methods.map(({ kind, works, windows, error, needs, why, steps }, i) => {
		const list = steps.length === 0 ? "" : `${stepsMarkdown(steps)}\n`;
		const state = works ? `Works ${windows}.` : `Does not work tonight${why === "" ? "" : `: ${why}`}`;
		const head = `${markdownText(state)} Leaves ${markdownText(error)} of axis error (95 %). Needs ${markdownText(needs)}.\n\n${list}`;
		return i === 0
			? `\n### Align: ${markdownText(kind)}\n\n${head}`
			: `\n<details><summary>Or: ${markdownText(kind)}</summary>\n\n${head}\n</details>\n`;
	});
}

function nightOf({ timeline }: PageView): readonly string[] {
	if (!timeline) return [];
	const rows = timeline.rows.map(({ label, text }) => `| ${markdownText(label)} | ${markdownText(text)} |\n`);
	return [`\n### The night\n\n| | |\n|---|---|\n${rows.join("")}`];
}

/** Steps as a numbered list. */
export const stepsMarkdown = (steps: MethodView["steps"]): string =>
	steps
		.map(({ say, number }, i) => `${i + 1}. ${markdownText(say)}${number === "" ? "" : ` **${markdownText(number)}**`}`)
		.join("\n");
