/** Findings as a SARIF 2.1.0 log (OASIS, "Static Analysis Results Interchange Format Version 2.1.0"). */
import type { Log } from "sarif";
import { RULES } from "../../findings/rules.ts";
import { told } from "../../text/sentence.ts";
import type { FindingRecord } from "../json/finding-record.ts";

declare const LODEBOOK_VERSION: string;

const LEVELS: Readonly<Record<string, "error" | "warning" | "note">> = {
	error: "error",
	warning: "warning",
	info: "note",
};

/** `path` of a file: relative to the folder in which the command ran, `/` between its parts. */
export function sarifLog(files: readonly { readonly path: string; readonly records: readonly FindingRecord[] }[]): Log {
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
						semanticVersion: LODEBOOK_VERSION,
						rules: rules.map(({ code, words, severity }) => ({
							id: code,
							shortDescription: { text: told(words.title()) },
							help: { text: `lodebook explain ${code}` },
							defaultConfiguration: { level: LEVELS[severity] },
						})),
					},
				},
				columnKind: "utf16CodeUnits",
				originalUriBaseIds: { ROOT: { description: { text: "The folder in which the command ran." } } },
				artifacts: files.map(({ path }) => ({ location: artifact(path) })),
				results: files.flatMap(({ path, records }) =>
					records.map(({ code, severity, message, line, column, endLine, endColumn }) => ({
						ruleId: code,
						ruleIndex: index.get(code) ?? -1,
						level: LEVELS[severity],
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
