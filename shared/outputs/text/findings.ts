/** What is wrong with some plans, each finding with its place, on a terminal. */
import { countBySeverity } from "../../findings/check.ts";
import { Lines } from "../../text/lines.ts";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import type { FindingRecord } from "../json/finding-record.ts";
import type { CheckedFile, Environment } from "../output.ts";
import { SEVERITIES, severityWord } from "../severity.ts";
import { excerpt } from "./layout.ts";
import { words } from "./words.ts";

export const findingsText = (files: readonly CheckedFile[], { paint }: Environment): string =>
	`${files.map((file) => fileText(file, paint)).join("")}${summary(files)}\n`;

function fileText({ path, text, records }: CheckedFile, paint: Environment["paint"]): string {
	if (records.length === 0) return "";
	const lines = new Lines(text);
	const shown = records.map(
		(one) => `${findingText(path, one, paint)}\n${excerpt(lines.text(text, one.line - 1), one, paint)}`,
	);
	return `${shown.join("\n")}\n`;
}

function findingText(
	path: string,
	{ line, column, severity, message, code, fixes }: FindingRecord,
	paint: Environment["paint"],
): string {
	const place = paint(`${shown(path)}:${line}:${column}`, "bold");
	const head = `${place}  ${paint(severityWord(severity), SEVERITIES[severity].paint)}  ${message}  ${paint(`[${code}]`, "dim")}`;
	return head + fixes.map((title) => `\n    ${paint(told(words.fix()), "dim")}: ${title}`).join("");
}

const plural = (count: number): string => (count === 1 ? "" : "s");

function summary(files: readonly CheckedFile[]): string {
	const { error, warning, info } = countBySeverity(files.flatMap(({ records }) => records));
	const found =
		error + warning + info === 0
			? words.nothing()
			: words.found({
					errors: error,
					errorsS: plural(error),
					warnings: warning,
					warningsS: plural(warning),
					infos: info,
					infosS: plural(info),
					info: SEVERITIES.info.word,
				});
	return told(words.checked({ plans: words.plans({ count: files.length, s: plural(files.length) }), found }));
}
