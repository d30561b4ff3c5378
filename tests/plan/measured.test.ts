/** Entries that were measured, put into a plan: what stood there stays, and what is new reads as it was meant. */
import { expect, test } from "vitest";
import { addMeasured, measuredText, replaceMeasured, setMeasured } from "../../shared/plan/measured.ts";
import { cellsOf, readPlan } from "../../shared/plan/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";

const MEASURED = {
	items: ["{ name: mast, bearing: 12.5°T }", "{ name: barn, bearing: 200°T }"],
	comments: ["From a map"],
};

/** The text after the entries were added, and the names of the landmarks that are read from it. */
function added(text: string): readonly [string, readonly (string | undefined)[]] {
	const [cell] = cellsOf(readPlan(text), "site");
	if (!cell) throw new Error("no site");
	const after = applyEdits(text, addMeasured(cell, "landmarks", MEASURED));
	const [site] = cellsOf(readPlan(after), "site");
	return [after, (site?.read.content?.landmarks ?? []).map(({ name }) => name)];
}

/** What is wrong with a text's cells. */
const problemsOf = (text: string): readonly string[] =>
	readPlan(text).cells.flatMap(({ read }) => read.problems.map(({ type }) => type));

test.each([
	["no key yet", "site:\n  name: A\n---\nnote: b\n", ["mast", "barn"]],
	["no key yet, and no line break at the end", "site:\n  name: A", ["mast", "barn"]],
	["no key yet, in a flow mapping", "site: { name: A }\n", ["mast", "barn"]],
	["an empty list", "site:\n  landmarks: []\n  name: A\n", ["mast", "barn"]],
	[
		"a block list",
		"site:\n  landmarks:\n    - { name: tower, bearing: 1°T } # mine\n  name: A\n",
		["tower", "mast", "barn"],
	],
	["a flow list", "site:\n  landmarks: [{ name: tower, bearing: 1°T }]\n  name: A\n", ["tower", "mast", "barn"]],
	[
		"a flow list in a flow mapping",
		"site: { landmarks: [{ name: tower, bearing: 1°T }], name: A }\n",
		["tower", "mast", "barn"],
	],
])("%s", (_, text, names) => {
	const [after, found] = added(text);
	expect(found).toEqual(names);
	expect(problemsOf(after)).toEqual(problemsOf(text));
	const inFlow = /^site: \{/.test(text);
	expect(after.includes("# From a map")).toBe(!inFlow);
	// What was there is there, in its order.
	for (const line of text.split("\n")) if (!/landmarks|site: \{/.test(line)) expect(after).toContain(line);
	const [windows, foundThere] = added(text.replaceAll("\n", "\r\n"));
	expect(foundThere).toEqual(names);
	expect(windows.replace(/\r\n/g, "")).not.toMatch(/[\r\n]/);
});

test("nothing is added of nothing, nor where the key holds something else", () => {
	const [cell] = cellsOf(readPlan("site:\n  landmarks:\n    - { name: tower, bearing: 1°T }\n"), "site");
	if (!cell) throw new Error("no site");
	expect(addMeasured(cell, "landmarks", { items: [], comments: [] })).toEqual([]);
});

test("a list is printed on lines of a readable length, with its comments above it", () => {
	const items = Array.from({ length: 40 }, (_, i) => `[${i}, ${i}.5]`);
	const text = measuredText("skyline", { items, comments: ["From a photo", "± 0.2°"] });
	expect(text.startsWith("# From a photo\n# ± 0.2°\nskyline:\n  [[0, 0.5], ")).toBe(true);
	for (const line of text.split("\n")) expect(line.length).toBeLessThanOrEqual(112);
	const [site] = cellsOf(readPlan(`site:\n${text.replace(/^/gm, "  ")}`), "site");
	expect(site?.read.content?.skyline).toHaveLength(40);
});

const NEW = { items: ["[0, 9]", "[180, 8]"], comments: ["By tiles"] };

/** A text with a new skyline; what was said of the old one is dropped, or said to be of before. */
function replaced(text: string, keeps = false): string {
	const [cell] = cellsOf(readPlan(text), "site");
	if (!cell) throw new Error("no site");
	const within = (comment: string): string | undefined => (keeps ? `before: ${comment}` : undefined);
	return applyEdits(text, setMeasured(cell, "skyline", NEW, { within, isOver: (one) => one.startsWith("By ") }));
}

const LIST = "[[0, 9], [180, 8]]";
test.each([
	["behind it", "  skyline: [[0, 1]] # by eye\n", `  # By tiles\n  skyline: ${LIST}\n`],
	["none", "  skyline: [[0, 1]]\n", `  # By tiles\n  skyline: ${LIST}\n`],
	[
		"of other tiles above it",
		"  # mine\n  # By that\n  skyline: [[0, 1]]\n",
		`  # mine\n  # By tiles\n  skyline: ${LIST}\n`,
	],
	["a hash in it that is none", "  skyline: [[0, 1]]#2\n", `  # By tiles\n  skyline: ${LIST}#2\n`],
	[
		"inside a list over lines",
		"  skyline:\n    [[0, 1], # by eye\n    # the wall\n     [10, 2]]\n",
		`  # By tiles\n  skyline: ${LIST}\n`,
	],
	["in a block", "  skyline: # by eye\n    - [0, 1] # a\n    - [10, 2] # b\n", `  # By tiles\n  skyline: ${LIST}\n`],
	[
		"one that tells a check what to ignore",
		"  skyline: [[0, 1]] # lodebook-ignore site/place-unsaid: known\n",
		`  # By tiles\n  # lodebook-ignore site/place-unsaid: known\n  skyline: ${LIST}\n`,
	],
])("a comment of the old list, %s, is not said of the new one", (_, key, wanted) => {
	const [before, after] = ["site:\n  name: A # of the name\n", "  # of the elevation\n  elevation: 3 m # sure\n"];
	expect(replaced(before + key + after)).toBe(before + wanted + after);
	expect(replaced((before + key + after).replaceAll("\n", "\r\n")).replaceAll("\r\n", "\n")).toBe(
		before + wanted + after,
	);
	expect(replaced(before + key.trimEnd())).toBe(before + wanted.trimEnd());
});

test("in braces a comment stays with what it is behind, and brackets close", () => {
	expect(replaced("site: { skyline: [[0, 1]], # by eye\n  name: A }\n")).toBe(
		`site: { skyline: ${LIST},\n  name: A }\n`,
	);
	expect(replaced("site: { name: A, skyline: [[0, 1]] } # my site\n")).toBe(
		`site: { name: A, skyline: ${LIST} } # my site\n`,
	);
	const text = "site:\n  openings:\n    - { name: a, outline: [[0, 1], [1, 1], [1, 2]] } # by eye\n    - b\n";
	const [cell] = cellsOf(readPlan(text), "site");
	const edit = cell && replaceMeasured(cell, "openings.0.outline", "[[5, 5]]");
	expect(edit && applyEdits(text, [edit])).toBe("site:\n  openings:\n    - { name: a, outline: [[5, 5]] }\n    - b\n");
});

test("where a part of the list is still there, so is what was said of it, as that", () => {
	expect(replaced("site:\n  skyline: [[0, 1]] # by eye\n", true)).toBe(
		`site:\n  # By tiles\n  # before: by eye\n  skyline: ${LIST}\n`,
	);
});
