/** How a text is laid out on a terminal: rows of two columns, the place of a finding. */
import { shown } from "../../text/shown.ts";
import type { Environment } from "../output.ts";

/** Rows of two columns, the first padded to the longest. */
export function rows(pairs: readonly (readonly [string, string])[], indent = "  "): string {
	const width = Math.min(60, Math.max(0, ...pairs.map(([label]) => label.length)));
	return pairs.map(([label, value]) => `${indent}${label.padEnd(width)}  ${value}\n`).join("");
}

/** Lines of a table, each column as wide as its longest text. */
export function columnLines(table: readonly (readonly string[])[]): readonly string[] {
	const widths = (table[0] ?? []).map((_, i) => Math.max(...table.map((row) => (row[i] ?? "").length)));
	return table.map((row) =>
		row
			.map((text, i) => text.padEnd((widths[i] ?? 0) + 2))
			.join("")
			.trimEnd(),
	);
}

/** Lines and columns from 1. */
interface Place {
	readonly line: number;
	readonly column: number;
	readonly endLine: number;
	readonly endColumn: number;
}

/** The line of a finding with its place marked. */
export function excerpt(
	source: string,
	{ line, column, endLine, endColumn }: Place,
	paint: Environment["paint"],
): string {
	const from = Math.max(0, column - 1 - 60);
	const part = shown(source.slice(from, from + 120).replace(/\t/g, " "));
	const width = Math.max(
		1,
		Math.min((endLine === line ? endColumn : source.length + 1) - column, part.length - (column - 1 - from)),
	);
	const number = String(line);
	const gap = " ".repeat(number.length);
	const mark = `${" ".repeat(column - 1 - from)}${"^".repeat(width)}`;
	return `    ${paint(`${number} |`, "dim")} ${part}\n    ${gap} ${paint("|", "dim")} ${mark}`;
}

/** Words in lines of at most so many columns. */
export function wrapped(text: string, width = 96): string {
	const lines: string[] = [];
	let line = "";
	for (const word of text.split(/\s+/)) {
		if (line !== "" && line.length + word.length + 1 > width) {
			lines.push(line);
			line = word;
		} else line = line === "" ? word : `${line} ${word}`;
	}
	return [...lines, line].join("\n");
}
