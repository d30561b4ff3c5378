/** Entries that were measured, put into a plan: what stood there stays, and what is new reads as it was meant. */
import { expect, test } from "vitest";
import { addMeasured, measuredText } from "../../shared/plan/measured.ts";
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
