/** Ways out of what is wrong with a plan's structure, where one example of a rule does not show all of them. */
import { describe, expect, test } from "vitest";
import { applyEdits } from "../../shared/text/edits.ts";
import { checkText, codesOf, planWith } from "../plan-text.ts";

/** The ways out of the findings of a code: their titles, whether they are safe, and what they make of the text. */
const fixesOf = (text: string, code: string) =>
	checkText(text)
		.filter((finding) => finding.code === code)
		.flatMap(({ fixes }) => fixes.map(({ title, safe, edits }) => [title, safe, applyEdits(text, edits)]));

describe("a key twice", () => {
	const fixed = (text: string) => fixesOf(text, "structure/repeated-key");
	const title = "Delete this one (both have the same value)";

	test("the second is deleted when it says the same", () => {
		expect(fixed("plan:\n  title: A\n  title: A\n  summary: B\n")).toEqual([
			[title, true, "plan:\n  title: A\n  summary: B\n"],
		]);
		expect(fixed("plan: { title: A, title: A, summary: B }\n")).toEqual([
			[title, true, "plan: { title: A, summary: B }\n"],
		]);
		expect(fixed("plan:\r\n  title: A\r\n  title: A\r\n")).toEqual([[title, true, "plan:\r\n  title: A\r\n"]]);
		expect(fixed("site:\n  skyline:\n    - [0, 1]\n  skyline:\n    - [0, 1]\n  name: A\n")).toEqual([
			[title, true, "site:\n  skyline:\n    - [0, 1]\n  name: A\n"],
		]);
	});

	test.each([
		["values that differ", "plan:\n  title: A\n  title: B\n"],
		["a comment beside it", "plan:\n  title: A\n  title: A # or B?\n"],
		["an anchor, which others may use", "plan:\n  title: A\n  title: &a A\n  summary: *a\n"],
	])("not with %s", (_, text) => expect(fixed(text)).toEqual([]));
});

describe("a cell twice", () => {
	test("safe to delete only when it says the same", () => {
		const text = (date: string) => `night:\n  date: 2027-06-05\n---\nnight:\n  date: ${date}\n---\nnote: A\n`;
		const left = "night:\n  date: 2027-06-05\n---\nnote: A\n";
		expect(fixesOf(text("2027-06-05"), "structure/repeated-cell")).toEqual([["Delete this cell", true, left]]);
		expect(fixesOf(text("2027-06-06"), "structure/repeated-cell")).toEqual([["Delete this cell", false, left]]);
	});
});

describe("an empty cell", () => {
	test("safe to delete only when nothing stands in it", () => {
		const left = "plan:\n  title: A\n---\nnote: A\n";
		expect(fixesOf("plan:\n  title: A\n---\n\n---\nnote: A\n", "structure/empty-cell")).toEqual([
			["Delete the empty cell", true, left],
		]);
		expect(fixesOf("plan:\n  title: A\n---\n# later\n---\nnote: A\n", "structure/empty-cell")).toEqual([
			["Delete the empty cell", false, left],
		]);
	});
});

describe("a merge left its markers", () => {
	test("either side can be kept, the common version between them goes", () => {
		const text = "plan:\n<<<<<<< a\n  title: A\n||||||| base\n  title: C\n=======\n  title: B\n>>>>>>> b\n";
		expect(fixesOf(text, "structure/conflict-marker")).toEqual([
			["Keep the first version", false, "plan:\n  title: A\n"],
			["Keep the second version", false, "plan:\n  title: B\n"],
		]);
	});

	test("the same in a text with CRLF", () => {
		const text = "plan:\r\n<<<<<<< a\r\n  title: A\r\n=======\r\n  title: B\r\n>>>>>>> b\r\n";
		expect(fixesOf(text, "structure/conflict-marker").map(([, , after]) => after)).toEqual([
			"plan:\r\n  title: A\r\n",
			"plan:\r\n  title: B\r\n",
		]);
	});

	test("not where a marker is missing", () => {
		expect(fixesOf("plan:\n<<<<<<< a\n  title: A\n=======\n", "structure/conflict-marker")).toEqual([]);
		expect(fixesOf("plan:\n  title: A\n=======\n  title: B\n", "structure/conflict-marker")).toEqual([]);
	});
});

describe("no value", () => {
	test.each(["night:\n  date: # which?\n", "night:\n  date: ~\n", "night:\n---\nnote: A\n"])(
		"only its writer knows it: no value is offered as a fix of %j",
		(text) => {
			expect(codesOf(text)).toContain("structure/no-value");
			expect(fixesOf(text, "structure/no-value")).toEqual([]);
		},
	);
});

describe("two keys in one cell", () => {
	const fixed = (text: string) => fixesOf(text, "structure/two-kinds");

	test("a key of the cell is indented as the others are", () => {
		expect(fixed("plan:\n    title: A\nsummary: B\n")).toEqual([
			["Indent it", false, "plan:\n    title: A\n    summary: B\n"],
		]);
	});

	test.each([
		["a key that the cell does not know", "plan:\n  title: A\nsummry: B\n"],
		["a key that it has", "plan:\n  title: A\ntitle: B\n"],
		["a value on lines of its own", "plan:\n  title: A\nsummary:\n  B\n"],
	])("not %s", (_, text) => expect(fixed(text)).toEqual([]));
});

describe("a key of another kind", () => {
	const fixed = (text: string) => fixesOf(text, "structure/key-of-other-kind").map(([, , after]) => after);

	test("is deleted with its line, or with one comma", () => {
		expect(fixed("method:\n  kind: compass\n  star: Spica\n  at: '20:00'\n")).toEqual([
			"method:\n  kind: compass\n  at: '20:00'\n",
		]);
		expect(fixed("method: { star: Spica, kind: compass }\n")).toEqual(["method: { kind: compass }\n"]);
		expect(fixed("method: { kind: compass, star: Spica }\n")).toEqual(["method: { kind: compass }\n"]);
	});

	test("not one that goes over several lines", () => {
		expect(fixed("method:\n  kind: compass\n  stars:\n    - Spica\n    - Vega\n")).toEqual([]);
	});
});

describe("names", () => {
	test.each([
		["wide, fast", "wide, fast 3"],
		["wide # fast", '"wide # fast 3"'],
		["'wide: fast'", "'wide: fast 3'"],
	])("a free name is offered beside %s, in quotes where it needs them", (old, free) => {
		const name = old.replace(/'/g, "");
		const [first, second] = [old.includes("#") ? JSON.stringify(name) : old, JSON.stringify(`${name} 2`)];
		const text = `lens:\n  name: ${first}\n---\nlens:\n  name: ${first}\n---\nlens:\n  name: ${second}\n`;
		expect(fixesOf(text, "structure/name-repeated").map(([title, , after]) => [title, after])).toEqual([
			[`Rename to ${name} 3`, text.replace(`---\nlens:\n  name: ${first}\n`, `---\nlens:\n  name: ${free}\n`)],
		]);
	});

	test("where no name is near, those that there are", () => {
		const text = `lens:
  name: wide
---
lens:
  name: portrait
---
targets:
  - { name: A, lens: xyz, aim: Moon, exposure: 1 s }
`;
		expect(fixesOf(text, "structure/unknown-reference").map(([title, safe]) => [title, safe])).toEqual([
			["Change to wide", false],
			["Change to portrait", false],
		]);
	});
});

test("tabs in the indentation become spaces", () => {
	expect(fixesOf("plan:\n\ttitle: A\n\tsummary: B\n", "structure/yaml")[0]).toEqual([
		"Indent with spaces",
		false,
		"plan:\n  title: A\n  summary: B\n",
	]);
});

test("of a target without an exposure its exposure is told, and nothing of its frames", () => {
	const codes = codesOf(planWith({ targets: "- name: core\n  aim: galactic-centre\n  tracked: false" }));
	expect(codes).toContain("structure/missing-key");
	expect(codes.filter((code) => code.startsWith("target/"))).toEqual([]);
});

test("an empty plan is told once, and its fix leaves cells to fill in", () => {
	const [only, ...others] = checkText("");
	expect(others).toEqual([]);
	expect(only?.message).toContain("The plan is empty");
	const text = applyEdits("", only?.fixes[0]?.edits ?? []);
	expect(codesOf(text)).not.toContain("structure/missing-cell");
});

describe("a number without its unit", () => {
	test.each([
		["site", "way-open", "3", "3 h"],
		["site", "way-open", "30", "30 min"],
		["site", "elevation", "1450", "1450 m"],
		["night", "moon-allowed", "15", "15 %"],
	])("%s: %s: %s is %s, which is in range", (kind, key, written, better) => {
		const text = `${kind}:\n  ${key}: ${written}\n`;
		const found = fixesOf(text, "structure/unreadable");
		expect(found.map(([title]) => title)).toEqual([`Change to ${better}`]);
		const [[, , mended] = []] = found;
		const about = ["structure/unreadable", "structure/out-of-range"];
		expect(codesOf(String(mended)).filter((code) => about.includes(code))).toEqual([]);
	});
});

test("a name where nothing of its kind has one: where to add it is said", () => {
	const targets = '- name: core\n  aim: galactic-centre\n  opening: gap\n  at: "21:30"\n  exposure: 60 s';
	const found = checkText(planWith({ targets })).filter(({ code }) => code === "structure/unknown-reference");
	expect(found.map(({ message }) => message)).toEqual([
		"No opening of the site is called `gap`. The site has no openings yet: add one with this `name` under `openings`.",
	]);
});
