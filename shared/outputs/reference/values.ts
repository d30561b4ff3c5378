/** The list of computed values: what other programs may rely on. Markdown, made from the tables of the values. */
import { LENS_VALUES } from "../../cells/lens/values.ts";
import { LOG_VALUES } from "../../cells/log/values.ts";
import { METHOD_VALUES } from "../../cells/method/values.ts";
import { NIGHT_VALUES } from "../../cells/night/values.ts";
import { SITE_VALUES } from "../../cells/site/values.ts";
import { COMET_VALUES } from "../../cells/targets/comet-values.ts";
import { FRAMING_VALUES } from "../../cells/targets/framing-values.ts";
import { TARGET_MINUTES } from "../../cells/targets/minutes.ts";
import { SHOWER_VALUES } from "../../cells/targets/shower-values.ts";
import { TARGET_VALUES } from "../../cells/targets/values.ts";
import { TRACKER_VALUES } from "../../cells/tracker/values.ts";
import { ALL_METHODS } from "../../methods/methods.ts";
import type { DeclaredValue } from "../../notation/value.ts";

type Table = Readonly<Record<string, { readonly declared: DeclaredValue }>>;

const TABLES: readonly Table[] = [
	SITE_VALUES,
	NIGHT_VALUES,
	LENS_VALUES,
	METHOD_VALUES,
	TRACKER_VALUES,
	...ALL_METHODS.map(({ declares }) => declares),
	TARGET_VALUES,
	COMET_VALUES,
	SHOWER_VALUES,
	FRAMING_VALUES,
	TARGET_MINUTES,
	LOG_VALUES,
];

/** Every value by id, in the order of the rooms; one that several methods have is listed once. */
export function declaredValues(): readonly DeclaredValue[] {
	const byId = new Map<string, DeclaredValue>();
	for (const table of TABLES) {
		for (const { declared } of Object.values(table)) if (!byId.has(declared.id)) byId.set(declared.id, declared);
	}
	return [...byId.values()];
}

const cell = (text: string): string =>
	text
		.replace(/\s*\n\s*/g, " ")
		.replace(/\|/g, "\\|")
		.replace(/\{(\w+)\}/g, "*$1*");

/** The values as a table: id, unit, what it is called, how it comes about. */
export function valueReference(): string {
	const rows = declaredValues().map(
		({ id, unit, label, how }) => `| \`${id}\` | ${cell(unit)} | ${cell(label)} | ${cell(how)} |`,
	);
	return `<!-- Written by npm run generate: do not edit. -->

# Values

What \`lodebook show --json\` gives for each cell under \`figures\`: \`{ id, of, value, unit, plusMinus, text, how }\`. Ids are
a contract and are never renamed; \`value\` is null where there is none that night. Words in italics are filled in.

| id | unit | called | how it comes about |
|---|---|---|---|
${rows.join("\n")}
`;
}
