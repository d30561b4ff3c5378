/** Findings as workflow commands that annotate lines of a pull request. */
import type { FindingRecord } from "../json/finding-record.ts";

const LEVELS: Readonly<Record<string, string>> = { error: "error", warning: "warning", info: "notice" };

/** The commands end at a line break, and properties at a comma: both are escaped, since a plan's text stands in them. */
const data = (text: string): string => text.replace(/%/g, "%25").replace(/\r/g, "%0D").replace(/\n/g, "%0A");
const property = (text: string): string => data(text).replace(/:/g, "%3A").replace(/,/g, "%2C");

export function annotations(path: string, findings: readonly FindingRecord[]): string {
	return findings
		.map(({ severity, line, column, endLine, endColumn, code, message }) => {
			const place = `file=${property(path)},line=${line},endLine=${endLine},col=${column},endColumn=${endColumn},title=${property(code)}`;
			return `::${LEVELS[severity]} ${place}::${data(message)}\n`;
		})
		.join("");
}
