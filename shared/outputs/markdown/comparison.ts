/** What changed between two states of a plan, for a code-review site: nothing of the plans can become markup. */
import { told } from "../../text/sentence.ts";
import { type Comparison, type FindingChange, isSame, windowName } from "../compare/compare.ts";
import { severityWord } from "../severity.ts";
import { markdownText } from "./escaped.ts";
import { words } from "./words.ts";

/** More changed values than this are folded. */
const MOST_SHOWN = 12;
/** Characters of a table's cell. */
const LONGEST = 400;

/** `before` and `after`: what the two states are called. */
export function comparisonMarkdown(comparison: Comparison, before: string, after: string): string {
	const heading = told(words.compared({ after: markdownText(after), before: markdownText(before) }));
	const out = [`### ${heading}\n`];
	if (isSame(comparison)) return `${out[0]}\n${told(words.same())}\n`;
	const { text, values, windows, findings } = comparison;
	const never = told(words.never());
	const table = (title: string, head: string, rows: readonly (readonly string[])[], folded = false): void => {
		if (rows.length === 0) return;
		const lines = rows.map((row) => `| ${row.map((one) => markdownText(shortened(one))).join(" | ")} |\n`).join("");
		const body = `${head}\n${head.replace(/[^|]+/g, "---")}\n${lines}`;
		const summary = told(words.folded({ title, count: rows.length }));
		out.push(
			folded ? `\n<details><summary>${summary}</summary>\n\n${body}\n</details>\n` : `\n**${title}**\n\n${body}`,
		);
	};
	table(told(words.gained()), told(words.changedFindingHead()), findings.gained.map(findingRow));
	table(told(words.lost()), told(words.changedFindingHead()), findings.lost.map(findingRow));
	table(
		told(words.keys()),
		told(words.keyHead()),
		text.map(({ cell, key, before: was, after: is }) => [cell, key, dash(was), dash(is)]),
	);
	table(
		told(words.windows()),
		told(words.windowHead()),
		windows.map(({ what, before: was, after: is }) => [
			windowName(what),
			was.join(", ") || never,
			is.join(", ") || never,
		]),
	);
	table(
		told(words.values()),
		told(words.changedValueHead()),
		values.map(({ cell, label, of, before: was, after: is }) => [
			cell,
			label,
			of ?? "",
			dash(was?.text),
			dash(is?.text),
		]),
		values.length > MOST_SHOWN,
	);
	return out.join("");
}

const findingRow = ({ severity, cell, message, code }: FindingChange): readonly string[] => [
	severityWord(severity),
	dash(cell),
	told(words.coded({ message, code })),
];

const dash = (text: string | null | undefined): string => text ?? "–";

const shortened = (text: string): string => (text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text);
