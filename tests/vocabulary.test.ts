/**
 * One name for one thing: whatever a user can read says it in the plain words of the trade. Read are the sentences of the
 * catalogue, the documentation of keys, labels, help and titles (every text of the code that has a blank or is in the
 * catalogue), the texts of the extension's manifest, its messages, the walkthrough and the handwritten pages.
 * What is in backticks, braces or a code block is a name of the format and is left alone.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { simple } from "acorn-walk";
import { describe, expect, test } from "vitest";
import { catalogue } from "../shared/words/catalogue.ts";
import { parsedModule } from "./parsed.mjs";

/** Files and folders that still say it in other words. To be emptied; what is here and need not be fails. */
const STILL_TO_COME: readonly string[] = [];

/** What is not said, and what is said instead. */
const LEFT_OUT: readonly (readonly [said: RegExp, instead: string])[] = [
	[/\breckon/i, "compute, evaluate"],
	[/\bmend(?:s|ed|ing)?\b/i, "fix"],
	[/\bserved?s?\b/i, "usable, used"],
	[/(?<!free-)\bstand(?:s|ing)?\b(?! (?:on|under)\b)/i, "site, spot; is"],
	[/\b(?:the|your|a|longer|this|whole) stay\b|\bstay(?:s)? longer\b/i, "time on site"],
	[/\bhere belongs\b|\bbelongs here\b/i, "Expected …, found …"],
	[/(?<!\bthere )\bis no\b(?! longer)/i, "is not a"],
	[/\bbetter (?:it|that)\b/i, "improve"],
	[/\blit share\b|\bshare (?:of the Moon )?lit\b/i, "Moon illumination"],
	[/\bforenoon/i, "morning"],
	[/\bhangs? on\b/i, "depend on"],
	[/\bwas had\b/i, "was reached"],
	[/\bcannot work\b|\bwill disappoint\b|\bgood to know\b/i, "error, warning, note"],
	[/\bplan holds\b|(?<!\bthe )\bway out\b/i, "No problems found; fix"],
	[/\b(?:second|third|further|finer|other) ways?\b(?! round)|\bfall-backs?\b/i, "method, fallback"],
	[/\bcompanions?\b/i, "foreground"],
	[/\bazimuths?\b(?! knob)(?! and altitude knob)/i, "bearing"],
	[/\bcounter-?clockwise\b/i, "anticlockwise"],
	[/\bsquare laser\b/i, "right-angle laser"],
	[/\bfigures?\b(?! of eight)/i, "value, number"],
	[/\bdark-moon period\b/i, "new-moon week"],
	[/\bmosaics?\b/i, "panorama"],
	[/(?:°|\{(?:altitude|angle|height|pole)\}) high\b/i, "at altitude …"],
	[/\btake care\b/i, "Safety"],
	[/^(?:looking up|else)\.?$/i, "all-sky chart; fallback"],
	[/\bheight of the axis\b/i, "tilt"],
	[/\bclockwise of the pole\b/i, "left or right, as you face the pole"],
	[/\b(?:write|work|say|do) (?:it |them )?so[.,;]/i, "like this"],
	[/\bin that night\b/i, "that night"],
	[/\bputs them\b/i, "adds"],
	// A proper name keeps its spelling.
	[/\b(?:color|meter|(?<!Minor Planet )center|gray|analyze|neighbor)s?\b/i, "British spelling"],
];

const root = fileURLToPath(new URL("../", import.meta.url));

interface Said {
	readonly path: string;
	readonly text: string;
}

const filesIn = (folder: string, ending: RegExp): readonly string[] =>
	readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
		.filter((entry) => entry.isFile() && ending.test(entry.name))
		.map((entry) => join(entry.parentPath, entry.name).slice(root.length).replaceAll("\\", "/"));

const oneLine = (text: string): string => text.replace(/\s*\n\s*/g, " ");

/** Texts of a module: literals and templates, and what is between tags. */
function literalsIn(path: string): readonly Said[] {
	const found: Said[] = [];
	const add = (text: string): void => void found.push({ path, text: oneLine(text) });
	simple(parsedModule(path), {
		Literal({ value }) {
			if (typeof value === "string") add(value);
		},
		TemplateLiteral({ quasis }) {
			add(quasis.map(({ value }) => value.cooked ?? "").join("{x}"));
		},
	});
	return found;
}

const json = (path: string): unknown => JSON.parse(readFileSync(join(root, path), "utf8"));

/** Texts of a JSON file with more than one word, keys as well: those of a bundle are its messages. */
function textsOf(value: unknown): readonly string[] {
	if (typeof value === "string") return /\s/.test(value) ? [value] : [];
	if (typeof value !== "object" || value === null) return [];
	return Object.entries(value).flatMap(([key, inner]) => [...(/\s/.test(key) ? [key] : []), ...textsOf(inner)]);
}

const literals = ["shared", "server", "client"]
	.flatMap((folder) => filesIn(folder, /(?<!style)\.tsx?$/))
	.flatMap(literalsIn);
const sentences = new Set(Object.values(catalogue()));
/** A text of the code is for people when it has several words, or is a sentence of the catalogue. */
const shown: readonly Said[] = [
	...literals.filter(({ text }) => /\S\s+\S/.test(text) || sentences.has(text)),
	...["package.json", "package.nls.json", "client/l10n/bundle.l10n.json"].flatMap((path) =>
		textsOf(json(path)).map((text) => ({ path, text })),
	),
	...[...filesIn("client/media", /\.md$/), "shared/outputs/reference/tutorial.md", "README.md"].map((path) => ({
		path,
		text: readFileSync(join(root, path), "utf8"),
	})),
];

/** A text without what is not English: code, names in braces, addresses of pages and ids of the model. */
const plain = (text: string): string =>
	text
		.replace(/```[\s\S]*?```/g, "")
		.replace(/`[^`]*`/g, "`")
		.replace(/\]\([^)]*\)/g, "]")
		.replace(/\{\s[^}]*\}/g, "")
		.replace(/<!--[\s\S]*?-->|\b[\w-]+\/[\w./-]+/g, "");

const faultsOf = ({ path, text }: Said): readonly string[] =>
	LEFT_OUT.flatMap(([said, instead]) => {
		const match = said.exec(plain(text));
		return match ? [`${path}: “${match[0]}” (say: ${instead}) in: ${text.slice(0, 160)}`] : [];
	});

const isUnder = (path: string, owner: string): boolean => path === owner || path.startsWith(`${owner}/`);

describe("what a user reads", () => {
	test("is all read here: every sentence of the catalogue is among the texts of the code", () => {
		const read = new Set(literals.map(({ text }) => text));
		expect([...sentences].filter((sentence) => !read.has(sentence))).toEqual([]);
	});

	test("has one name for one thing and none of the words left out", () => {
		const others = shown.filter(({ path }) => !STILL_TO_COME.some((owner) => isUnder(path, owner)));
		expect(others.flatMap(faultsOf)).toEqual([]);
	});

	test.each(STILL_TO_COME.map((owner) => [owner]))("%s is still to come", (owner) => {
		expect(shown.filter(({ path }) => isUnder(path, owner)).flatMap(faultsOf)).not.toEqual([]);
	});

	test.each([
		["These tables serve all years.", true],
		["There is no plan at `mend`.", false],
		["`24` is no number.", true],
		["Tracker's `azimuth`, in JSON", false],
		["the azimuth of a wall", true],
		["Turn the altitude and azimuth knobs.", false],
		["The pole stands {pole} high.", true],
		["Stars stay within 2 px.", false],
		["a standard deviation", false],
		["The other way round.", false],
		["There is no other way.", true],
	])("the words left out are told from others: %s", (text, isLeftOut) => {
		expect(faultsOf({ path: "", text }).length > 0).toBe(isLeftOut);
	});
});
