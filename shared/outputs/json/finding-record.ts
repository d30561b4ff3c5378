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
	readonly fixes: readonly string[];
	readonly help: string;
}

export function findingRecords(text: string, findings: readonly Finding[]): readonly FindingRecord[] {
	if (findings.length === 0) return [];
	const lines = new Lines(text);
	return findings.map(({ code, severity, cell, from, to, message, fixes }) => {
		const start = lines.at(from);
		const end = lines.at(to);
		return {
			code,
			severity,
			cell: cell?.read.kind ?? null,
			line: start.line + 1,
			column: start.column + 1,
			endLine: end.line + 1,
			endColumn: end.column + 1,
			message,
			fixes: fixes.map(({ title }) => title),
			help: `lodebook explain ${code}`,
		};
	});
}
