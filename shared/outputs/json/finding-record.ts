/** Findings as other programs get them: DESIGN's contract of the command line. Lines and columns from 1. */
import type { Finding, Severity } from "../../findings/finding.ts";
import { Lines } from "../../text/lines.ts";

export interface FindingRecord {
	readonly code: string;
	readonly severity: Severity;
	/** Kind of the cell, or null for the plan as a whole. */
	readonly cell: string | null;
	readonly line: number;
	readonly column: number;
	readonly endLine: number;
	readonly endColumn: number;
	readonly message: string;
	/** Titles. */
	readonly fixes: readonly string[];
	/** Of each fix, in the same order. */
	readonly edits: readonly (readonly EditRecord[])[];
	readonly help: string;
}

/** What is there is replaced by the text; nothing is there where it begins and ends at one place. */
export interface EditRecord {
	readonly line: number;
	readonly column: number;
	readonly endLine: number;
	readonly endColumn: number;
	readonly text: string;
}

export function findingRecords(text: string, findings: readonly Finding[]): readonly FindingRecord[] {
	if (findings.length === 0) return [];
	const lines = new Lines(text);
	const place = ({ from, to }: { readonly from: number; readonly to: number }) => {
		const start = lines.at(from);
		const end = lines.at(to);
		return {
			line: start.line + 1,
			column: start.column + 1,
			endLine: end.line + 1,
			endColumn: end.column + 1,
		};
	};
	return findings.map((finding) => {
		const { code, severity, cell, message, fixes } = finding;
		return {
			code,
			severity,
			cell: cell?.read.kind ?? null,
			...place(finding),
			message,
			fixes: fixes.map(({ title }) => title),
			edits: fixes.map(({ edits }) => edits.map((edit) => ({ ...place(edit), text: edit.text }))),
			help: `lodebook explain ${code}`,
		};
	});
}
