/** Reference pages made from the code: the plan format, the methods, the findings. Markdown. */

import { COMMON_SPREAD, type Source, type SourceName, unitOfSource } from "../../alignment/budget.ts";
import { CELL_KINDS } from "../../cells/kinds.ts";
import { evaluate } from "../../evaluate/evaluate.ts";
import { exampleText } from "../../findings/example-plan.ts";
import type { Rule } from "../../findings/finding.ts";
import { RULES } from "../../findings/rules.ts";
import { ALL_METHODS, type AnyMethod } from "../../methods/methods.ts";
import { SOURCE_DOCS } from "../../methods/source-docs.ts";
import { fieldsOf } from "../../notation/list.ts";
import type { Notation } from "../../notation/notation.ts";
import { spreadText } from "../../notation/spread.ts";
import { readPlan } from "../../plan/plan.ts";
import { sentences, told } from "../../text/sentence.ts";
import { severityWord } from "../severity.ts";
import { explanationSection } from "./explanation.ts";

const WRITTEN = "<!-- Written by npm run generate: do not edit. -->\n\n";

/** Text in a table's cell. */
const cell = (text: string): string => text.replace(/\|/g, "\\|").replace(/\n/g, " ");

export function formatReference(): string {
	const parts = [
		`${WRITTEN}# The plan file, key by key\n\nA plan is a stream of YAML documents (\`*.lode.yaml\`, YAML 1.2, UTF-8). Each is a cell: a mapping with one key, its kind.\n\nA comment \`# lodebook-ignore CODE: reason\` behind a line, or on a line of its own above it, hides the finding of that code there. What keeps a cell from being read, and what could hurt somebody, is shown all the same.\n`,
	];
	for (const [kind, { shape, doc, required, many }] of Object.entries(CELL_KINDS)) {
		parts.push(
			`\n## ${kind}\n\n${doc} ${required ? "Required" : "Optional"}${many ? "; there may be several" : ""}.\n${fieldTable(shape)}`,
		);
	}
	return parts.join("");
}

function fieldTable(shape: Notation): string {
	const fields = fieldsOf(shape);
	if (!fields) return "";
	const rows = Object.entries(fields).map(([key, field]) => {
		const inner = fieldsOf(field.shape);
		const keys = inner
			? ` Keys: ${Object.keys(inner)
					.map((one) => `\`${one}\``)
					.join(", ")}.`
			: "";
		return `| \`${key}\` | ${cell(told(field.shape.describe()))} | ${cell(field.doc)}${keys} | ${field.required ? "required" : cell(field.otherwise ?? "")} | \`${cell(field.example)}\` |`;
	});
	return `\n| key | kind of value | meaning | without it | example |\n|---|---|---|---|---|\n${rows.join("\n")}\n`;
}

/** The methods, one after the other, as Markdown. */
export function methodReference(): string {
	const parts = [`${WRITTEN}# Methods of alignment\n`];
	for (const method of ALL_METHODS) {
		const { kind, words, keys, hazards } = method;
		const own = Object.keys(keys).map((key) => `\`${key}\``);
		const laser = hazards({}).includes("laser") ? " Before a laser is used, read the finding method/local-rules." : "";
		parts.push(
			`\n## ${kind}\n\n${told(words.about())}\n\nNeeds ${told(words.needs())}.${own.length > 0 ? ` Own keys: ${own.join(", ")}.` : ""}${laser}\n\n${told(REFERENCE.counts({ sources: sourcesText(method) }))}\n`,
		);
	}
	parts.push(
		"\n## Error sources\n\nEvery ± is one standard deviation: two times in three the error is smaller, 19 times in 20 it is under twice as much. Where the plan does not say, common practice holds (no source), which a method of its own ± says above.\n\n| source | what it is | common practice |\n|---|---|---|\n",
	);
	for (const [name, doc] of Object.entries(SOURCE_DOCS)) {
		const unit = unitOfSource(name as SourceName);
		parts.push(`| \`${name}\` | ${doc} | ± ${COMMON_SPREAD[name as SourceName]}${unit === "°" ? "°" : ` ${unit}`} |\n`);
	}
	return parts.join("");
}

const REFERENCE = sentences("reference.methods", {
	counts: "Default ± in the example plan: {sources}.",
	other: "{one} ({others})",
	with: "{spread} with `{key}`",
});

/** The error sources of a method in the plan of the examples, and where another head or another word for a key changes one. */
function sourcesText({ kind, keys }: AnyMethod): string {
	const entries = Object.entries(keys).map(([key, field]) => ({ line: `${key}: ${field.example}`, field }));
	const needed = entries.filter(({ field }) => field.otherwise === undefined).map(({ line }) => line);
	const sourcesOf = (lines: readonly string[], tracker = "head: geared"): readonly Source[] =>
		evaluate(readPlan(exampleText({ method: [`kind: ${kind}`, ...lines].join("\n"), tracker }))).methods[0]?.value
			?.setUp.sources ?? [];
	const changed = [
		{ key: "head: ball", sources: sourcesOf(needed, "head: ball") },
		...entries
			.filter(({ field }) => field.otherwise !== undefined)
			.map(({ line }) => ({ key: line, sources: sourcesOf([...needed, line]) })),
	];
	return sourcesOf(needed)
		.map((one) => {
			const said = `\`${one.name}\` ${spreadOf(one)}`;
			const others = changed.flatMap(({ key, sources }) => {
				const other = sources.find(({ name }) => name === one.name);
				return other && other.spread !== one.spread ? [told(REFERENCE.with({ spread: spreadOf(other), key }))] : [];
			});
			return others.length === 0 ? said : told(REFERENCE.other({ one: said, others: others.join(", ") }));
		})
		.join(", ");
}

const spreadOf = ({ spread, unit }: Source): string => `± ${spreadText(spread, unit)}`;

/** What the findings of each area are about. */
const AREAS: Readonly<Record<string, string>> = {
	structure: "How the file is written",
	reuse: "Cells taken from other plans",
	group: "Groups",
	site: "Site",
	night: "Night",
	magnetic: "Magnetic field",
	lens: "Lens",
	method: "Methods of alignment",
	target: "Targets",
	evening: "Evening",
	log: "Log",
	settings: "Settings",
	ignore: "Comments that hide a finding",
};

/** The findings by area, with contents, explanations and examples, as Markdown. */
export function findingReference(): string {
	const areas = Object.entries(AREAS).map(([area, title]) => ({
		title,
		rules: RULES.filter(({ code }) => code.startsWith(`${area}/`)),
	}));
	const contents = areas.map(
		({ title, rules }) => `- [${title}](#${anchor(title)})\n${rules.map(contentsLine).join("")}`,
	);
	const parts = areas.map(
		({ title, rules }) =>
			`## ${title}\n\n${rules.map((rule) => explanationSection(rule, "###").trim()).join("\n\n")}\n`,
	);
	return `${WRITTEN}# Findings\n\nA finding has a code that never changes, and is an error, a warning or a note. An error is something in the plan that is wrong or cannot be done; a warning, something that will give less than you planned; a note, something worth knowing.\n\n${contents.join("")}\n${parts.join("\n")}`;
}

const contentsLine = ({ code, severity, words }: Rule): string =>
	`  - [${told(words.title())}](#${anchor(told(words.title()))}), \`${code}\`, ${severityWord(severity)}\n`;

/** The anchor that Markdown viewers make of a heading. */
const anchor = (heading: string): string =>
	heading
		.toLowerCase()
		.replace(/[^\p{L}\p{N} _-]/gu, "")
		.replaceAll(" ", "-");
