/** Findings as a SARIF 2.1.0 log (OASIS, "Static Analysis Results Interchange Format Version 2.1.0"). */
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import type { Fix, Log } from "sarif";
import { RULES } from "../../findings/rules.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { EditRecord, FindingRecord } from "../json/finding-record.ts";
import { jsonText } from "../json/json.ts";
import type { Environment, Output } from "../output.ts";
import { explanationMarkdown, meaningOf } from "../reference/explanation.ts";
import { SEVERITIES } from "../severity.ts";

const words = sentences("output.sarif", {
	help: "print SARIF 2.1.0, for code-scanning tools",
	root: "The root of the repository, or, for a plan outside any repository, the folder in which the command ran.",
});

export const sarif: Output = {
	name: "sarif",
	option: "--sarif",
	mediaType: "application/sarif+json",
	extension: "sarif",
	of: {
		files: {
			help: words.help(),
			make: (files, environment) =>
				jsonText(
					sarifLog(
						files.map((file) => ({ ...file, path: environment.fromRoot(file.path) })),
						environment,
					),
				),
		},
	},
};

/** `path` of a file: relative to the root of its repository, `/` between its parts. */
export function sarifLog(
	files: readonly { readonly path: string; readonly text?: string; readonly records: readonly FindingRecord[] }[],
	{ version, explanation }: Pick<Environment, "version" | "explanation">,
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
							fullDescription: { text: meaningOf(code) },
							helpUri: explanation(code),
							help: { text: `${meaningOf(code)}\n\nlodebook explain ${code}`, markdown: explanationMarkdown(code) },
							defaultConfiguration: { level: SEVERITIES[severity].level },
						})),
					},
				},
				columnKind: "utf16CodeUnits",
				originalUriBaseIds: { ROOT: { description: { text: told(words.root()) } } },
				artifacts: files.map(({ path }) => ({ location: artifact(path) })),
				results: files.flatMap(({ path, text = "", records }) => {
					const marked = fingerprints(text, records);
					return records.map((finding, place) => ({
						ruleId: finding.code,
						ruleIndex: index.get(finding.code) ?? -1,
						level: SEVERITIES[finding.severity].level,
						message: { text: finding.message },
						partialFingerprints: { "lodebook/v1": marked[place] ?? "" },
						locations: [{ physicalLocation: { artifactLocation: artifact(path), region: region(finding) } }],
						...fixesOf(finding, path),
					}));
				}),
			},
		],
	};
}

/** None where there is no fix with an edit. */
function fixesOf({ fixes, edits }: FindingRecord, path: string): { readonly fixes?: Fix[] } {
	const made = edits.flatMap((replaced, place): Fix[] =>
		replaced.length === 0
			? []
			: [
					{
						description: { text: fixes[place] ?? "" },
						artifactChanges: [
							{
								artifactLocation: artifact(path),
								replacements: replaced.map((edit) => ({
									deletedRegion: region(edit),
									insertedContent: { text: edit.text },
								})),
							},
						],
					},
				],
	);
	return made.length === 0 ? {} : { fixes: made };
}

const region = ({ line, column, endLine, endColumn }: Omit<EditRecord, "text">) => ({
	startLine: line,
	startColumn: column,
	endLine,
	endColumn,
});

/** What a finding is known by when lines above it come and go: its code and the text of its line, counted where both recur. */
function fingerprints(text: string, records: readonly FindingRecord[]): readonly string[] {
	const lines = text.split("\n");
	const counts = new Map<string, number>();
	return records.map(({ code, line }) => {
		const known = `${code}\n${(lines[line - 1] ?? "").trim()}`;
		const count = (counts.get(known) ?? 0) + 1;
		counts.set(known, count);
		return `${bytesToHex(sha256(utf8ToBytes(known))).slice(0, 32)}:${count}`;
	});
}

/** A path with `/` between its parts, as a URI relative to ROOT. */
const artifact = (path: string) => ({
	uri: path.split("/").map(encodeURIComponent).join("/"),
	uriBaseId: "ROOT",
});
