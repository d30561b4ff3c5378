/** Findings as workflow commands that annotate lines of a pull request. */
import { sentences } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import type { FindingRecord } from "../json/finding-record.ts";
import type { Output } from "../output.ts";
import { SEVERITIES } from "../severity.ts";

const words = sentences("output.annotations", {
	help: "print workflow commands that annotate the lines of a pull request",
});

export const annotationsOutput: Output = {
	name: "annotations",
	option: "--annotations",
	mediaType: "text/plain",
	extension: "txt",
	of: {
		files: {
			help: words.help(),
			make: (files) => files.map(({ path, records }) => annotations(path, records)).join(""),
		},
	},
};

/** The commands end at a line break, which is shown as a sign, and properties at a comma, which is escaped. */
const data = (text: string): string => shown(text).replace(/%/g, "%25");
const property = (text: string): string => data(text).replace(/:/g, "%3A").replace(/,/g, "%2C");

/** The findings of a file, a command each. */
export function annotations(path: string, findings: readonly FindingRecord[]): string {
	return findings
		.map(({ severity, line, column, endLine, endColumn, code, message }) => {
			const place = `file=${property(path)},line=${line},endLine=${endLine},col=${column},endColumn=${endColumn}`;
			return `::${SEVERITIES[severity].annotation} ${place},title=${property(code)}::${data(message)}\n`;
		})
		.join("");
}
