/** Findings as a SARIF 2.1.0 log (OASIS, "Static Analysis Results Interchange Format Version 2.1.0"). */
import type { Log } from "sarif";
import { RULES } from "../../findings/rules.ts";
import { sentences, told } from "../../text/sentence.ts";
import { type FindingRecord, findingRecords } from "../json/finding-record.ts";
import { jsonText } from "../json/json.ts";
import type { Output } from "../output.ts";
import { SEVERITIES } from "../severity.ts";

const words = sentences("output.sarif", {
	help: "print SARIF 2.1.0, for code-scanning tools",
	root: "The folder in which the command ran.",
});

export const sarif: Output = {
	name: "sarif",
	option: "--sarif",
	mediaType: "application/sarif+json",
	extension: "sarif",
	of: {
		files: {
			help: words.help(),
			make: (files, { version, fromHere }) =>
				jsonText(
					sarifLog(
						files.map(({ path, text, findings }) => ({
							path: fromHere(path),
							records: findingRecords(text, findings),
						})),
						version,
					),
				),
		},
	},
};

/** `path` of a file: relative to the folder in which the command ran, `/` between its parts. `version`: of the program. */
export function sarifLog(
	files: readonly { readonly path: string; readonly records: readonly FindingRecord[] }[],
	version: string,
): Log {
	const used = new Set(files.flatMap(({ records }) => records.map(({ code }) => code)));
	const rules = RULES.filter(({ code }) => used.has(code));
	const index = new Map<string, number>(rules.map(({ code }, i) => [code, i]));
	return {
		$schema: "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json",
		version: "2.1.0",
		runs: [
			{
				tool: {
					driver: {
						name: "lodebook",
						semanticVersion: version,
						rules: rules.map(({ code, words, severity }) => ({
							id: code,
							shortDescription: { text: told(words.title()) },
							help: { text: `lodebook explain ${code}` },
							defaultConfiguration: { level: SEVERITIES[severity].level },
						})),
					},
				},
				columnKind: "utf16CodeUnits",
				originalUriBaseIds: { ROOT: { description: { text: told(words.root()) } } },
				artifacts: files.map(({ path }) => ({ location: artifact(path) })),
				results: files.flatMap(({ path, records }) =>
					records.map(({ code, severity, message, line, column, endLine, endColumn }) => ({
						ruleId: code,
						ruleIndex: index.get(code) ?? -1,
						level: SEVERITIES[severity].level,
						message: { text: message },
						locations: [
							{
								physicalLocation: {
									artifactLocation: artifact(path),
									region: { startLine: line, startColumn: column, endLine, endColumn },
								},
							},
						],
					})),
				),
			},
		],
	};
}

/** A path with `/` between its parts, as a URI relative to ROOT. */
const artifact = (path: string) => ({
	uri: path.split("/").map(encodeURIComponent).join("/"),
	uriBaseId: "ROOT",
});
