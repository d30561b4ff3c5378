/** Text for a terminal: colour where it is wanted, tables, excerpts. */
import { styleText } from "node:util";
import type { FindingRecord } from "../shared/outputs/json/finding-record.ts";

type Paint = "bold" | "dim" | "red" | "yellow" | "blue" | "green";

const coloured = process.stdout.isTTY === true && process.env.NO_COLOR === undefined && process.env.TERM !== "dumb";

export const paint = (text: string, style: Paint): string => (coloured ? styleText(style, text) : text);

/** Control characters of a plan's text do not reach the terminal. */
export const printable = (text: string): string =>
	text.replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, "\uFFFD");

/** The line of a finding with its place marked. */
export function excerpt(text: string, { line, column, endLine, endColumn }: FindingRecord): string {
	const source = text.split(/\r\n|\n|\r/, line)[line - 1] ?? "";
	const from = Math.max(0, column - 1 - 60);
	const shown = printable(source.slice(from, from + 120).replace(/\t/g, " "));
	const width = Math.max(
		1,
		Math.min((endLine === line ? endColumn : source.length + 1) - column, shown.length - (column - 1 - from)),
	);
	const number = String(line);
	return `    ${paint(`${number} |`, "dim")} ${shown}\n    ${" ".repeat(number.length)} ${paint("|", "dim")} ${" ".repeat(column - 1 - from)}${"^".repeat(width)}`;
}

/** Rows of two columns, the first padded to the longest. */
export function rows(pairs: readonly (readonly [string, string])[], indent = "  "): string {
	const width = Math.min(60, Math.max(0, ...pairs.map(([label]) => label.length)));
	return pairs.map(([label, value]) => `${indent}${label.padEnd(width + 2, " ")}${value}\n`).join("");
}

/** A line on standard error. Nothing that comes into it from outside ends the line or starts another. */
export const say = (message: string): void => {
	process.stderr.write(`lodebook: ${printable(message).replace(/\s*\n\s*/g, " ")}\n`);
};
