/** What changed between two states of a plan, for a code-review site: nothing of the plans can become markup. */
import { told } from "../../text/sentence.ts";
import {
	type Comparison,
	compare,
	type FindingChange,
	isOfOne,
	isSame,
	type ValueChange,
	type WindowOfBoth,
	windowName,
} from "../compare/compare.ts";
import { changedPlans, foldersSummary, type PlanState, stateText } from "../compare/folders.ts";
import type { Materials } from "../output.ts";
import { severityWord } from "../severity.ts";
import { markdownText } from "./escaped.ts";
import { summaryMarkdown } from "./summary.ts";
import { words } from "./words.ts";

/** More changed values than this are folded. */
const MOST_SHOWN = 12;
/** Characters of a table's cell. */
const LONGEST = 400;

/** `before` and `after`: what the two states are called. What no longer works comes first, then its cause, what was edited; then times and numbers. */
export function comparisonMarkdown(comparison: Comparison, before: string, after: string): string {
	const heading = `### ${told(words.compared({ after: markdownText(after), before: markdownText(before) }))}\n`;
	return isSame(comparison) ? `${heading}\n${told(words.same())}\n` : heading + comparisonTables(comparison);
}

/** Two plans under a heading, or a summary of all plans of two folders and each that changed under its path. */
export function statesMarkdown(states: Materials["states"]): string {
	if (!("plans" in states)) {
		const { before, after } = states;
		return comparisonMarkdown(compare(before, after), before.path, after.path);
	}
	const { before, after } = states.folders;
	const changed = changedPlans(states);
	const heading = told(words.compared({ after: markdownText(after), before: markdownText(before) }));
	const list = changed.map((plan) => `| ${[plan.path, stateText(plan)].map(markdownText).join(" | ")} |\n`).join("");
	const table = list === "" ? "" : `\n${told(words.stateHead())}\n| --- | --- |\n${list}`;
	const parts = changed.map((plan) => {
		const body = bodyOf(plan);
		return body === "" ? "" : `\n### ${markdownText(plan.path)}: ${markdownText(stateText(plan))}\n${body}`;
	});
	return `## ${heading}\n\n${markdownText(foldersSummary(states))}\n${table}${parts.join("")}`;
}

function bodyOf(plan: PlanState): string {
	switch (plan.is) {
		case "compared":
			return comparisonTables(plan.comparison);
		case "new":
			return `\n${summaryMarkdown(plan.now.evaluation, plan.now.findings)}`;
		default:
			return "";
	}
}

/** The tables under a heading. */
export function comparisonTables({ text, values, windows, evening, findings, safety }: Comparison): string {
	const out: string[] = [];
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
	const times = (title: string, changed: readonly WindowOfBoth[], none: string): void =>
		table(
			title,
			told(words.windowHead()),
			changed.map(({ what, before, after, absent }) => [
				windowName(what),
				before.join(", ") || (absent === "before" ? dash(undefined) : none),
				after.join(", ") || (absent === "after" ? dash(undefined) : none),
			]),
			changed.length > MOST_SHOWN,
		);
	if (safety.length > 0)
		out.push(`\n**${told(words.cautions())}**\n\n${safety.map((one) => `- ${markdownText(one)}\n`).join("")}`);
	table(told(words.gained()), told(words.changedFindingHead()), findings.gained.map(findingRow));
	table(told(words.lost()), told(words.changedFindingHead()), findings.lost.map(findingRow));
	table(
		told(words.keys()),
		told(words.keyHead()),
		text.map(({ cell, of, key, before, after }) => [
			of === null ? cell : `${cell}: ${of}`,
			key,
			dash(before),
			dash(after),
		]),
		text.length > MOST_SHOWN,
	);
	times(told(words.evening()), evening, dash(undefined));
	times(told(words.windows()), windows, never);
	table(
		told(words.values()),
		told(words.changedValueHead()),
		values.map(({ cell, label, of, before, after }) => {
			const one = isOfOne({ before, after });
			return [cell, label, one ? (of ?? "") : "", ...[before, after].map((is) => (one ? dash(is?.text) : ofEach(is)))];
		}),
		values.length > MOST_SHOWN,
	);
	return out.join("");
}

const ofEach = (reading: ValueChange["before"]): string =>
	!reading
		? dash(undefined)
		: reading.of === null
			? reading.text
			: told(words.ofIt({ text: reading.text, of: reading.of }));

const findingRow = ({ severity, cell, message, code }: FindingChange): readonly string[] => [
	severityWord(severity),
	dash(cell),
	told(words.coded({ message, code })),
];

const dash = (text: string | null | undefined): string => text ?? "–";

const shortened = (text: string): string => (text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text);
