/** Everything that follows from a plan, cell by cell, on a terminal. */
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { errorDegrees } from "../../notation/angle.ts";
import { dateText } from "../../notation/date.ts";
import { type Cell, cellName, cellsOf, firstValue } from "../../plan/plan.ts";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import { cautionsFor, notClearedText } from "../cautions.ts";
import { eveningRows, eveningTitle } from "../evening.ts";
import { groupsOf } from "../groups.ts";
import { lostView } from "../lost.ts";
import { methodHeading, methodStateText, methodsShown, methodTonight } from "../method-state.ts";
import { minutesOf } from "../minutes.ts";
import type { CheckedPlan, Environment } from "../output.ts";
import { severityWord } from "../severity.ts";
import { shotList } from "../shot-list.ts";
import { numberedSteps, toldSteps } from "../steps.ts";
import { columnLines, rows } from "./layout.ts";
import { words } from "./words.ts";

export function planText({ path, evaluation, findings }: CheckedPlan, { paint }: Environment): string {
	const { plan, night, methods } = evaluation;
	const title = firstValue(plan, "plan")?.title ?? path;
	const out: string[] = [`${paint(shown(title), "bold")}\n`];
	if (night) out.push(`${dateText(night.date)}, ${night.zone}\n`);
	out.push(...cautionLines(evaluation, paint), ...eveningLines(evaluation, paint));
	const shownFirst = methodsShown(evaluation);
	const headings = new Map(
		shownFirst.map(({ cell, value }, i) => [cell, methodHeading(i, value.name, value.method.corrects)]),
	);
	for (const cell of cellsShown(
		plan.cells,
		shownFirst.map((one) => one.cell),
	)) {
		const values = evaluation.valuesOf(cell);
		if (values.length === 0) continue;
		const method = methods.find((one) => one.cell === cell)?.value;
		if (method && !method.works) {
			const state = methodStateText(methodTonight(evaluation, findings, { cell, value: method }));
			out.push(`\n${paint(shown(state), "red")}\n`);
			continue;
		}
		out.push(`\n${paint(shown(headings.get(cell) ?? heading(cell.read.kind ?? "", cellName(plan, cell))), "bold")}\n`);
		for (const { of, values: group } of groupsOf(values)) {
			if (of !== "") out.push(`  ${paint(shown(of), "dim")}\n`);
			out.push(
				rows(
					group.map((computed) => [shown(computed.label), shown(computed.text)]),
					of === "" ? "  " : "    ",
				),
			);
		}
		const steps = method ? toldSteps(method) : [];
		const notCleared = method ? notClearedText(method) : "";
		if (notCleared !== "") out.push(`  ${paint(notCleared, "red")}\n`);
		if (steps.length > 0) {
			const style = { say: shown, number: (text: string) => `  ${paint(shown(text), "bold")}`, width: 3 };
			out.push(`  ${paint(told(words.steps()), "dim")}\n`);
			out.push(...numberedSteps(steps, style).map((line) => `  ${line}\n`));
		}
		for (const { title, head, rows: list } of minutesOf(evaluation, cell)) {
			const [first = "", ...lines] = columnLines([head, ...list.map(({ columns }) => columns)]);
			out.push(`  ${paint(shown(title), "dim")}\n    ${paint(shown(first), "dim")}\n`);
			out.push(...lines.map((line, i) => `    ${list[i]?.planned ? paint(shown(line), "bold") : shown(line)}\n`));
		}
	}
	for (const { target, panels } of shotList(evaluation))
		for (const { title, head, rows: list } of panels) {
			const [first = "", ...lines] = columnLines([head, ...list].map((row) => row.map(shown)));
			out.push(`\n${paint(shown(told(words.panels({ name: target, title }))), "bold")}\n  ${paint(first, "dim")}\n`);
			out.push(...lines.map((line) => `  ${line}\n`));
		}
	if (shownFirst.length > 1) out.push(`\n${paint(told(words.methods()), "bold")}\n${rows(methodRows(evaluation))}`);
	const notes = cellsOf(plan, "note").flatMap(({ read }) => read.content ?? []);
	if (notes.length > 0) out.push(`\n${paint(told(words.notes()), "bold")}\n`, ...notes.map(noteText));
	if (findings.length > 0) {
		out.push(`\n${paint(told(words.findings()), "bold")}\n`);
		for (const { severity, message, code } of findings)
			out.push(`  ${severityWord(severity)}: ${shown(message)} [${code}]\n`);
	}
	return out.join("");
}

/** What to be careful about. */
function cautionLines(evaluation: Evaluation, paint: Environment["paint"]): readonly string[] {
	const cautions = cautionsFor(evaluation);
	return cautions.length === 0
		? []
		: [`\n${paint(told(words.cautions()), "bold")}\n`, ...cautions.map((caution) => `  - ${caution}\n`)];
}

/** The evening by itself: what to be careful about before it; nothing where there is no evening. */
export function eveningText(evaluation: Evaluation, paint: Environment["paint"]): readonly string[] {
	const lines = eveningLines(evaluation, paint, true);
	return lines.length === 0 ? [] : [...cautionLines(evaluation, paint), ...lines];
}

/** The evening in order, and what to do when the alignment is lost; `alone`: without the methods' steps. */
export function eveningLines(evaluation: Evaluation, paint: Environment["paint"], alone = false): readonly string[] {
	const rows = eveningRows(evaluation, alone);
	const lost = lostView(evaluation);
	const out: string[] = [];
	if (rows.length > 0)
		out.push(
			`\n${paint(eveningTitle(), "bold")}\n`,
			...columnLines(rows.map((row) => [row.times, shown(row.say), row.about])).map((line) => `  ${line}\n`),
		);
	if (lost) {
		const [head = "", ...lines] = columnLines([lost.head, ...lost.rows].map((row) => row.map(shown)));
		out.push(`\n${paint(lost.title, "bold")}\n`, `  ${paint(head, "dim")}\n`, ...lines.map((line) => `  ${line}\n`));
	}
	return out;
}

/** The cells of a plan; where its methods begin, these as they are shown. */
function cellsShown(cells: readonly Cell[], methods: readonly Cell[]): readonly Cell[] {
	const first = cells.findIndex((cell) => methods.includes(cell));
	const isOther = (cell: Cell): boolean => !methods.includes(cell);
	return first < 0
		? cells
		: [...cells.slice(0, first), ...methods, ...cells.slice(first)].filter(
				(cell, i) => isOther(cell) || (i >= first && i < first + methods.length),
			);
}

const noteText = (note: string): string =>
	note
		.trimEnd()
		.split(/\r\n|[\n\r]/)
		.map((line) => `  ${shown(line.replace(/\t/g, "    "))}`.trimEnd())
		.map((line) => `${line}\n`)
		.join("");

const methodRows = (evaluation: Evaluation): readonly (readonly [string, string])[] =>
	methodsShown(evaluation).flatMap(({ value }, i) => {
		const { name, works, budget } = value;
		const cost = works ? words.cost({ error: errorDegrees(budget.radius95) }) : words.fails();
		return [
			[told(words.method({ place: i + 1, method: name })), told(words.terms({ cost, needs: value.needs }))] as const,
		];
	});

const heading = (kind: string, name: string): string =>
	name === kind || name === "" ? kind : told(words.named({ kind, name }));
