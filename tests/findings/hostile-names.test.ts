/**
 * Every fix of every rule, in plans whose names are all of a hostile kind: what it leaves is YAML, and every name in it
 * reads as one of those that the plan had, or as one of them with a number. LODEBOOK_FUZZ for all of them.
 */
import { expect, test } from "vitest";
import { parse, parseAllDocuments, stringify } from "yaml";
import { CELL_KINDS } from "../../shared/cells/kinds.ts";
import { EXAMPLE_CELLS, exampleText } from "../../shared/findings/example-plan.ts";
import { examplesOf } from "../../shared/findings/finding.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { fieldsOf } from "../../shared/notation/list.ts";
import type { Notation } from "../../shared/notation/notation.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { HOSTILE_NAMES } from "../hostile-names.ts";
import { checkText, planWith } from "../plan-text.ts";

/** What is read as a name has something in it. */
const NAMES = HOSTILE_NAMES.filter((name) => name.trim() !== "");

/** Keys under which a plan has names that are chosen freely. */
const NAME_KEYS = new Set(["name", "title", "lens", "opening", "landmark"]);

type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

const documentsOf = (text: string) => parseAllDocuments(text, { version: "1.2", logLevel: "silent" });
const isYaml = (text: string): boolean => documentsOf(text).every(({ errors }) => errors.length === 0);
const contentOf = (text: string): readonly Json[] => documentsOf(text).map((document) => document.toJS() as Json);

/** Names in a content, by the paths of their keys. */
function namesIn(content: Json): readonly string[] {
	if (Array.isArray(content)) return content.flatMap(namesIn);
	if (typeof content !== "object" || content === null) return [];
	return Object.entries(content).flatMap(([key, value]) =>
		NAME_KEYS.has(key) && typeof value === "string" ? [value] : namesIn(value),
	);
}

/** A name that nothing has, and that needs no quotes: what is put in its place finds none. */
const NOTHING = "unlike anything";

/** The content with each name made hostile: equal names stay equal, others stay different. */
function renamed(content: Json, name: string, seen: Map<string, string>): Json {
	if (Array.isArray(content)) return content.map((one) => renamed(one, name, seen));
	if (typeof content !== "object" || content === null) return content;
	return Object.fromEntries(
		Object.entries(content).map(([key, value]) => {
			if (!NAME_KEYS.has(key) || typeof value !== "string" || value === NOTHING)
				return [key, renamed(value, name, seen)];
			const now = seen.get(value) ?? (seen.size === 0 ? name : `${name}${seen.size}`);
			seen.set(value, now);
			return [key, now];
		}),
	);
}

/** Ways in which a plan may be written, by another writer than ours. */
const STYLES = {
	block: (content: Json) => stringify(content, { version: "1.2", lineWidth: 0, defaultStringType: "QUOTE_DOUBLE" }),
	single: (content: Json) => stringify(content, { version: "1.2", lineWidth: 0, singleQuote: true }),
	flow: (content: Json) => `${stringify(content, { version: "1.2", lineWidth: 0, collectionStyle: "flow" })}\n`,
	lines: (content: Json) => stringify(content, { version: "1.2", lineWidth: 30 }),
};

const written = (contents: readonly Json[], style: keyof typeof STYLES): string =>
	contents.map((content) => STYLES[style](content)).join("---\n");

/** Plans with something wrong that names take part in. */
const PLANS: readonly string[] = [
	planWith({
		lens: [
			"name: wide\nfocal-length: 24 mm\nsensor: full-frame\npixels: 6000 x 4000",
			"name: wide\nfocal-length: 50 mm\nsensor: full-frame\npixels: 6000 x 4000",
		],
		site: `${EXAMPLE_CELLS.site}\n  - { name: water tower, latitude: 32.4391 S, longitude: 54.3951 W, elevation: 187 m }\nopenings:\n  - { name: door, outline: [[0, 0], [90, 0], [90, 80], [0, 80]] }\n  - { name: door, outline: [[0, 0], [90, 0], [90, 80], [0, 80]] }`,
		targets: `- name: A\n  aim: Spica\n  lens: wider\n  opening: doors\n  from: "21:30"\n  exposure: 60 s\n- name: A\n  aim: Spica\n  lens: ${NOTHING}\n  opening: ${NOTHING}\n  from: "21:30"\n  exposure: 60 s`,
		method: ["kind: landmark-bearing\nlandmark: water towers", `kind: landmark-bearing\nlandmark: ${NOTHING}`],
	}),
	planWith({
		site: "name: Open field\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 70]]\nlandmarks:\n  - { name: far mast, latitude: 32.9391 S, longitude: 54.3951 W, elevation: 187 m }",
		method: "kind: phone",
	}),
	...RULES.flatMap(({ wrong, over }) => [wrong, ...examplesOf(over ?? [])].map(exampleText)),
];

/** Each plan's content; those that are not YAML have no names to speak of. */
const CONTENTS = PLANS.filter(isYaml)
	.map(contentOf)
	.filter((contents) => namesIn(contents as Json).length > 0);

/** Names that a fix gives as an example, and what a lens is called that has none. */
const EXAMPLES = new Set(["lens", ...examplesIn(Object.values(CELL_KINDS).map(({ shape }) => shape))]);

function examplesIn(shapes: readonly Notation[]): readonly string[] {
	return shapes
		.flatMap((shape) => Object.entries(fieldsOf(shape) ?? {}))
		.flatMap(([key, { shape, example }]) => [
			...(NAME_KEYS.has(key) ? [parse(example) as string] : []),
			...namesIn(parse(example) as Json),
			...examplesIn([shape]),
		]);
}

let fixed = 0;

function expectNamesKept(before: string, edits: Parameters<typeof applyEdits>[1], what: string): void {
	const after = applyEdits(before, edits);
	expect(isYaml(after), `${what}\n${after}`).toBe(true);
	const had = new Set(namesIn(contentOf(before) as Json).map((name) => name.trim()));
	for (const name of namesIn(contentOf(after) as Json)) {
		const plain = name.trim();
		const numbered = [...had].some((one) => plain.startsWith(`${one} `) && /^\d+$/.test(plain.slice(one.length + 1)));
		expect(
			had.has(plain) || numbered || EXAMPLES.has(name) || /^\d+ mm$/.test(plain),
			`${what}: ${JSON.stringify(name)}`,
		).toBe(true);
	}
	fixed++;
}

const ALL_STYLES = Object.keys(STYLES) as (keyof typeof STYLES)[];
/** Every name meets the plans above in every style, and of the rules' examples one in so many; all in a long run. */
const OWN = 2;
const ONE_IN = process.env.LODEBOOK_FUZZ === undefined ? 40 : 1;

test.each(
	NAMES.map((name, i) => [JSON.stringify(name.length > 40 ? `${name.slice(0, 40)}…` : name), name, i] as const),
)(
	"names like %s",
	(_, name, i) => {
		ALL_STYLES.forEach((style, j) => {
			CONTENTS.forEach((contents, k) => {
				if (k >= OWN && (k * ALL_STYLES.length + j + i) % ONE_IN !== 0) return;
				const seen = new Map<string, string>();
				const text = written(
					contents.map((content) => renamed(content, name, seen)),
					style,
				);
				expect(isYaml(text), text).toBe(true);
				for (const { code, fixes } of checkText(text))
					for (const { title, edits } of fixes) expectNamesKept(text, edits, `${code}: ${title.slice(0, 80)}`);
			});
		});
	},
	600_000,
);

test("that was a good number of fixes", () => expect(fixed).toBeGreaterThan(3000));
