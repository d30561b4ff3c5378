/** Findings as workflow commands that annotate lines of a pull request. */
import { sentences } from "../../text/sentence.ts";
import { type FindingRecord, findingRecords } from "../json/finding-record.ts";
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
			make: (files) =>
				files.map(({ path, text, findings }) => annotations(path, findingRecords(text, findings))).join(""),
		},
	},
};

/** The commands end at a line break, and properties at a comma: both are escaped, since a plan's text stands in them. */
const data = (text: string): string => text.replace(/%/g, "%25").replace(/\r/g, "%0D").replace(/\n/g, "%0A");
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
