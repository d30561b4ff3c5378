/**
 * The vocabulary (shared/WORDS.md): reads what a user can see and fails on the words left out there, and on a second name
 * for what has one. Code spans, names in braces and ids are exempt.
 */
import { readdirSync, readFileSync } from "node:fs";
import type { Command } from "commander";
import { describe, expect, test } from "vitest";
import { CELL_KINDS } from "../shared/cells/kinds.ts";
import { RULES } from "../shared/findings/rules.ts";
import { SOURCE_DOCS } from "../shared/methods/source-docs.ts";
import { fieldsOf } from "../shared/notation/list.ts";
import type { Notation } from "../shared/notation/notation.ts";
import { declaredValues } from "../shared/outputs/reference/values.ts";
import { told } from "../shared/text/sentence.ts";
import { catalogue } from "../shared/words/catalogue.ts";

/** Owners whose words are still to be rewritten; who rewrites one takes it off this list. */
const STILL_TO_COME: readonly string[] = [
	"lens/pixels-disagree",
	"lens/pixels-missing",
	"log/one-drift",
	"magnetic/outside-model",
	"magnetic/weak-field",
	"night/leave-before-arrive",
	"night/no-darkness",
	"night/outside-tables",
	"night/time-skipped",
	"night/time-twice",
	"notation.bearing",
	"notation.clock",
	"notation.coordinate",
	"notation.date",
	"notation.pixel-count",
	"notation.sensor",
	"reuse/still-missing",
	"site/coordinates-swapped",
	"site/hemisphere",
	"site/landmark-without-place",
	"site/unknown-zone",
	"structure/conflict-marker",
	"structure/empty-cell",
	"structure/key-of-other-kind",
	"structure/length",
	"structure/missing-cell",
	"structure/missing-key",
	"structure/name-repeated",
	"structure/no-value",
	"structure/not-a-cell",
	"structure/not-text",
	"structure/out-of-range",
	"structure/repeated-cell",
	"structure/repeated-key",
	"structure/two-kinds",
	"structure/unknown-kind",
	"structure/unknown-reference",
	"structure/unknown-word",
	"structure/unquoted-clock",
	"structure/unreadable",
	"structure/wrong-type",
	"package.json",
	"package.nls.json",
	"client/media/walkthrough-new.md",
	"client/media/walkthrough-read.md",
	"extension",
	"lodebook check",
	"lodebook compare",
	"lodebook locate",
	"lodebook new",
	"lodebook nights",
	"lodebook skyline",
	"lodebook stars",
];

/** A word that may not be shown, and what to say. */
const LEFT_OUT: readonly (readonly [RegExp, string])[] = [
	[/\breckon(s|ed|ing|ings)?\b/i, "compute, evaluate"],
	[/\bmend(s|ed|ing)?\b/i, "fix"],
	[/\bserved?s?\b/i, "usable, use"],
	[/\bstands?\b(?! (out|for)\b)/i, "site, spot; is"],
	[/\b(the|a|this|that|your|whole|of) stay\b|\bstay (later|longer)\b/i, "time on site"],
	[/\bfigures?\b(?! (\d|of eight))/i, "value, number"],
	[/cannot work|will disappoint|good to know/i, "error, warning, note"],
	[/\bway out\b/i, "fix"],
	[/\bplan holds\b|nothing to mend/i, "No problems found"],
	[/\b(second|third|further|finer|other) ways?\b(?! round)/i, "method, fallback"],
	[/\bfall-backs?\b/i, "fallback"],
	[/\bheight of the axis\b/i, "tilt"],
	[/\bazimuths?\b(?! knobs?\b)/i, "bearing"],
	[/(°|\{(altitude|pole|sun|moon|tilt)\}) high\b|\bstands? high\b/i, "at altitude"],
	[/\bsquare[ -]laser\b/i, "right-angle laser"],
	[/\bclockwise of the pole\b/i, "left or right, as you face the pole"],
	[/\bcounter-?clockwise\b/i, "anticlockwise"],
	[/\blit share\b/i, "Moon illumination"],
	[/\bcompanions?\b/i, "foreground"],
	[/\bmosaics?\b/i, "panorama"],
	[/^(looking up|take care|else)\.?$/i, "all-sky chart, Safety, fallback"],
	[/\bdark-moon\b/i, "new-moon week"],
	[/\bhere belongs\b|\bbelongs here\b/i, "Expected X, found Y"],
	[/(?<!there )\bis no (?!longer\b|more\b|less\b|better\b|worse\b|need\b)/i, "is not a"],
	[/\bbetter (it|that one|this one)\b/i, "improve"],
	[/\b(write|work|say|do|put) (it |them )?so[.,;]/i, "like this"],
	[/\bforenoon\b/i, "morning"],
	[/\bhangs? on\b/i, "depend on"],
	[/\bwas had\b/i, "is"],
	[/\b(colors?|grays?|centers?)\b/i, "British spelling"],
];

/** What a text says in words of its own. */
const inWords = (text: string): string =>
	text
		.replace(/```[\s\S]*?```/g, " ")
		.replace(/`[^`]*`/g, "`…`")
		.replace(/\]\([^)]*\)|https?:\S+/g, "]");

const complaints = (text: string): readonly string[] =>
	LEFT_OUT.flatMap(([word, say]) => {
		const found = word.exec(inWords(text));
		return found ? [`“${found[0]}” (say ${say}): ${text.slice(0, 160)}`] : [];
	});

/** Every text a user can see, by its owner. */
const texts = new Map<string, string[]>();
const add = (owner: string, ...more: readonly (string | undefined)[]): void => {
	texts.set(owner, [...(texts.get(owner) ?? []), ...more.filter((one) => one !== undefined)]);
};
const root = new URL("../", import.meta.url);
const read = (path: string): string => readFileSync(new URL(path, root), "utf8");

for (const [key, text] of Object.entries(catalogue())) add(key.slice(0, key.lastIndexOf(".")), text);

function addKeys(owner: string, shape: Notation): void {
	add(owner, told(shape.explain()));
	for (const [key, { shape: inner, doc, otherwise }] of Object.entries(fieldsOf(shape) ?? {})) {
		add(owner, `${key}: ${doc}`, otherwise);
		addKeys(owner, inner);
	}
}
for (const [kind, { shape, doc }] of Object.entries(CELL_KINDS)) {
	add(`keys of ${kind}`, doc);
	addKeys(`keys of ${kind}`, shape);
}
add("error sources", ...Object.values(SOURCE_DOCS));
for (const { id, label, how } of declaredValues()) add(`value ${id.split(".")[0]}`, label, how);

const { description, contributes } = JSON.parse(read("package.json"));
add("package.json", description, ...stringsOf(contributes, /^(description|title|label|name|displayName|when\w*)$/));
add("package.nls.json", ...stringsOf(JSON.parse(read("package.nls.json")), /./));
add("snippets", ...stringsOf(JSON.parse(read("client/snippets.json")), /^description$/));
for (const file of filesOf("client/media/", /\.md$/)) add(file, read(file));
for (const file of filesOf("client/", /\.ts$/))
	for (const [, text] of read(file).matchAll(/l10n\.t\(\s*"((?:[^"\\]|\\.)*)"/g)) add("extension", text);

for (const file of filesOf("server/commands/", /\.ts$/)) {
	const module = (await import(new URL(file, root).href)) as Record<string, (() => Command) | undefined>;
	const command = Object.entries(module).find(([name]) => name.endsWith("Command"))?.[1]?.();
	if (!command) continue;
	let help = "";
	command.configureOutput({ writeOut: (text) => (help += text) }).outputHelp();
	// Texts of options are told apart, so that none is broken over two lines.
	add(`lodebook ${command.name()}`, help.replace(/\n +/g, " "));
}

/** The values of some keys, however deep. */
function stringsOf(value: unknown, keys: RegExp, key = ""): readonly string[] {
	if (typeof value === "string") return keys.test(key) && !/^%.*%$/.test(value) ? [value] : [];
	if (typeof value !== "object" || value === null) return [];
	return Object.entries(value).flatMap(([name, inner]) => stringsOf(inner, keys, Array.isArray(value) ? key : name));
}

function filesOf(folder: string, name: RegExp): readonly string[] {
	return readdirSync(new URL(folder, root), { withFileTypes: true })
		.filter((entry) => entry.isFile() && name.test(entry.name))
		.map((entry) => `${folder}${entry.name}`);
}

const wrongWith = (owner: string): readonly string[] => [
	...(texts.get(owner) ?? []).flatMap(complaints),
	...RULES.filter(({ code }) => code === owner).flatMap(({ words }) =>
		wrongWithRule(told(words.title()), told(words.about())),
	),
];

/** An explanation is a few sentences that say what a finding means, why it matters and what to do. */
function wrongWithRule(title: string, about: string): readonly string[] {
	const words = about.split(/\s+/).length;
	return [
		...(words < 35 ? [`an explanation of ${words} words, and 35 are asked for: ${about}`] : []),
		...(about.split(/[.:;!] (?=[A-Z`])/).length < 2 ? [`an explanation of one sentence: ${about}`] : []),
		...(about.toLowerCase().includes(`${title.toLowerCase()}.`)
			? [`an explanation that repeats its title: ${about}`]
			: []),
		...(/[.?!]$/.test(title) ? [`a title that ends like a sentence: ${title}`] : []),
	];
}

describe("the vocabulary", () => {
	test("is looked for in everything that is shown", () => {
		expect(texts.size).toBeGreaterThan(150);
		for (const owner of [
			"method.square-laser",
			"keys of site",
			"value site",
			"package.nls.json",
			"extension",
			"lodebook check",
		])
			expect(texts.get(owner)?.length, owner).toBeGreaterThan(0);
		expect(texts.get("lodebook check")?.[0]).toContain("--");
	});

	test("knows a word that is left out from the same letters in another", () => {
		for (const text of [
			"The plan is reckoned.",
			"It stands {altitude} high.",
			"`x` is no star.",
			"Turn it counter-clockwise.",
		])
			expect(complaints(text), text).not.toEqual([]);
		for (const text of [
			"The stars stay sharp; as far as we understand, one stands out.",
			"There is no darkness, and it is no longer needed.",
			"We recommend an observer; the server answers.",
			"Write `stand: 1` and `azimuth`. Turn the azimuth knob clockwise.",
		])
			expect(complaints(text), text).toEqual([]);
	});

	test("explains every finding in more than its title", () => {
		expect(wrongWithRule("Pole hidden", "The pole is hidden.")).toHaveLength(2);
		expect(wrongWithRule("Pole hidden.", `Pole hidden. ${"Look elsewhere. ".repeat(20)}`)).toHaveLength(1);
	});

	test.each([...texts.keys()].filter((owner) => !STILL_TO_COME.includes(owner)))("%s", (owner) => {
		expect(wrongWith(owner)).toEqual([]);
	});

	test("is still to come where it is said to be", () => {
		expect(STILL_TO_COME.filter((owner) => wrongWith(owner).length === 0)).toEqual([]);
	});
});
