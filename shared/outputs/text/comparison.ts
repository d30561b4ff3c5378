/** What changed between two states of a plan, on a terminal. */
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
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
import { type ComparedFolders, changedPlans, foldersSummary, stateText } from "../compare/folders.ts";
import type { Environment, Materials } from "../output.ts";
import { severityWord } from "../severity.ts";
import { rows } from "./layout.ts";
import { words } from "./words.ts";

export function comparisonText(states: Materials["states"], { paint }: Environment): string {
	if ("plans" in states) return foldersText(states, paint);
	const comparison = compare(states.before, states.after);
	return isSame(comparison) ? `${told(words.same())}\n` : comparisonParts(comparison, paint);
}

/** A summary, and each plan that changed under its path. */
function foldersText(folders: ComparedFolders, paint: Environment["paint"]): string {
	const changed = changedPlans(folders);
	const summary = `${foldersSummary(folders)}\n${rows(changed.map((plan) => [shown(plan.path), stateText(plan)]))}`;
	const parts = changed.map((plan) => {
		const body =
			plan.is === "compared"
				? comparisonParts(plan.comparison, paint, "  ")
				: plan.is === "new"
					? rows(plan.now.findings.map((one) => findingPair({ ...one, cell: one.cell?.read.kind ?? null })))
					: "";
		return body === "" ? "" : `\n${paint(shown(plan.path), "bold")}\n${body}`;
	});
	return summary + parts.join("");
}

/** What no longer works first, then its cause, what was edited; then times and numbers. */
export function comparisonParts(comparison: Comparison, paint: Environment["paint"], indent = ""): string {
	const { text, values, windows, evening, findings, safety } = comparison;
	const never = told(words.never());
	const out: string[] = [];
	const part = (title: string, pairs: readonly (readonly [string, string])[]): void => {
		if (pairs.length > 0)
			out.push(
				`${out.length > 0 ? "\n" : ""}${indent}${paint(title, "bold")}\n`,
				rows(
					pairs.map(([label, value]) => [shown(label), shown(value)]),
					`${indent}  `,
				),
			);
	};
	const times = (changed: readonly WindowOfBoth[], none?: string) =>
		changed.map(({ what, before, after, absent }): [string, string] => [
			windowName(what),
			change(
				before.join(", ") || (absent === "before" ? undefined : none),
				after.join(", ") || (absent === "after" ? undefined : none),
			),
		]);
	if (safety.length > 0)
		out.push(
			`${indent}${paint(told(words.cautions()), "bold")}\n`,
			...safety.map((caution) => `${indent}  - ${shown(caution)}\n`),
		);
	part(told(words.gained()), findings.gained.map(findingPair));
	part(told(words.lost()), findings.lost.map(findingPair));
	part(
		told(words.keys()),
		text.map(({ cell, of, key, before, after }) => [
			[cell, ...(of === null ? [] : [of]), ...(key === "" ? [] : [key])].join(": "),
			change(before, after),
		]),
	);
	part(told(words.evening()), times(evening));
	part(told(words.windows()), times(windows, never));
	part(
		told(words.values()),
		values.map(({ cell, label, of, before, after }) =>
			isOfOne({ before, after })
				? [`${cell}: ${label}${of === null ? "" : told(words.of({ of }))}`, change(before?.text, after?.text)]
				: [`${cell}: ${label}`, change(ofEach(before), ofEach(after))],
		),
	);
	return out.join("");
}

const ofEach = (reading: ValueChange["before"]): string | undefined =>
	reading ? `${reading.text}${reading.of === null ? "" : told(words.of({ of: reading.of }))}` : undefined;

const findingPair = ({ severity, cell, message, code }: FindingChange): readonly [string, string] => [
	`${severityWord(severity)}, ${cell ?? told(words.plan())}`,
	`${message} [${code}]`,
];

type Said = string | null | undefined;

const change = (was: Said, is: Said): string => told(words.change({ before: oneLine(was), after: oneLine(is) }));

function oneLine(text: Said): string {
	if (text === null || text === undefined) return "–";
	const parts = text.split("\n");
	const line = parts
		.map((part, i) => (i === 0 ? part.trimEnd() : i < parts.length - 1 ? part.trim() : part.trimStart()))
		.filter((part, i) => part !== "" || i === 0 || i === parts.length - 1)
		.join(" ⏎ ");
	return line.length > 100 ? `${line.slice(0, 100)}…` : line;
}
