import { readdirSync, readFileSync } from "node:fs";
import Ajv2020 from "ajv/dist/2020.js";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseAllDocuments } from "yaml";
import { ALL_METHODS } from "../../shared/methods/methods.ts";
import { readBearing } from "../../shared/notation/bearing.ts";
import { readClockTime } from "../../shared/notation/clock.ts";
import { readCoordinate } from "../../shared/notation/coordinate.ts";
import { readDate } from "../../shared/notation/date.ts";
import { readQuantity } from "../../shared/notation/quantity.ts";
import { planSchema } from "../../shared/outputs/reference/json-schema.ts";
import { firstValue, PlanReader, readPlan } from "../../shared/plan/plan.ts";
import { readSlice } from "../../shared/plan/read.ts";
import { nearestWord } from "../../shared/text/nearest.ts";
import { sliceStream } from "../../shared/text/stream.ts";
import { annotated, checkText, codesOf, marksOf, planWith } from "../plan-text.ts";

describe("words", () => {
	test("nearest words", () => {
		const known = ["latitude", "longitude", "elevation", "focal-length", "f-number"];
		expect(nearestWord("latitued", known)).toBe("latitude");
		expect(nearestWord("lat", known)).toBe("latitude");
		expect(nearestWord("focal", known)).toBe("focal-length");
		expect(nearestWord("xyzzy", known)).toBeUndefined();
	});
});

describe("the stream", () => {
	const pieces = fc.constantFrom(
		"a: 1\n",
		"---\n",
		"---",
		"...\n",
		"# c\n",
		"%YAML 1.2\n",
		"\n",
		"  --- \n",
		"note: |\n  x\n",
		"\r\n",
		"---\r\n",
		"\uFEFF",
		"--- # c\n",
		"----\n",
		"'q\n",
		"\t\n",
		"\u2028---\n",
	);

	test("slices joined are the text again, byte for byte", () => {
		fc.assert(
			fc.property(fc.array(pieces, { maxLength: 30 }), (parts) => {
				const text = parts.join("");
				const slices = sliceStream(text);
				expect(slices.map((slice) => slice.text).join("")).toBe(text);
				slices.reduce((at, slice) => {
					expect(slice.start).toBe(at);
					return at + slice.text.length;
				}, 0);
			}),
			{ numRuns: 3000, seed: 7 },
		);
	});

	test("where a generic YAML parser reads the stream without an error, the slices are its documents", () => {
		const clean = fc.constantFrom(
			"plan:\n  a: 1\n",
			"---\nsite: x\n",
			"---\n# c\nnight:\n  - 1\n",
			"...\n",
			"---\nnote: |\n  x\n  y\n",
			"\n",
			"# c\n",
		);
		fc.assert(
			fc.property(fc.array(clean, { maxLength: 10 }), (parts) => {
				const text = `a: 1\n${parts.filter((part) => part !== "plan:\n  a: 1\n").join("")}`;
				const documents = parseAllDocuments(text);
				if (!Array.isArray(documents) || documents.some(({ errors }) => errors.length > 0)) return;
				const own = sliceStream(text).filter((slice) => parseAllDocuments(slice.text).length > 0);
				expect(own.length).toBe(documents.length);
			}),
			{ numRuns: 2000, seed: 7 },
		);
	});

	test("unchanged cells are not read again: the same object for the same text", () => {
		const reader = new PlanReader();
		const text = planWith({});
		const before = reader.read(text);
		const after = reader.read(text.replace("eta Virginis", "Spica"));
		before.cells.forEach((cell, i) => {
			const same = cell.read === after.cells[i]?.read;
			expect(same).toBe(cell.read.kind !== "method");
		});
	});
});

describe("places", () => {
	test("an error underlines the smallest place that is wrong, in every style of YAML", () => {
		const marked = `plan:
  title: "Core"
---
site: { name: A, latitude: 95 S, longitude: 20.8 E }
#                          ^^^^ structure/out-of-range
---
night:
  date:   2027-06-31   # comment
#         ^^^^^^^^^^ structure/unreadable
  "arrive": '25:00'
#           ^^^^^^^ structure/unreadable
---
lens:
  focal-length: 24
#               ^^ structure/unreadable
  sensor: &full full-frame
  pixels: 6000 by 4000
#         ^^^^^^^^^^^^ structure/unreadable
---
lens:
  name: long
  focal-length: 85 mm
  sensor: *full
#         ^^^^^ structure/yaml
---
method:
  kind: square-lazer
#       ^^^^^^^^^^^^ structure/unknown-word
---
targets:
- name: core
  aim: galactic-centre
  exposure: 60 sek
#           ^^^^^^ structure/unreadable
  lense: wide
# ^^^^^ structure/unknown-key
`;
		const { text, marks } = annotated(marked);
		const expected = (found: readonly string[]) =>
			found.filter((mark) => / structure\/(?:out|unr|unknown-[wk]|yaml)/.test(mark));
		expect(expected(marksOf(text))).toEqual(marks);
		expect(expected(marksOf(text.replace(/\n/g, "\r\n")))).toEqual(marks);
	});

	test("one broken cell does not silence the others", () => {
		const text = planWith({
			lens: "focal-length: [24 mm\nsensor: {",
			targets: "- name: core\n  aim: galactic-centre\n  exposure: 60 sek",
		});
		expect(codesOf(text)).toEqual(expect.arrayContaining(["structure/yaml", "structure/unreadable"]));
	});

	test("anchors, aliases and merge keys", () => {
		const text = `lens:
  name: a
  focal-length: &f 24 mm
  sensor: full-frame
  pixel-pitch: 6 µm
---
targets:
  - &t { name: one, aim: galactic-centre, exposure: 60 s }
  - { <<: *t, name: two }
`;
		const plan = readPlan(text);
		expect(plan.cells.flatMap(({ read }) => read.problems)).toEqual([]);
		expect(firstValue(plan, "targets")).toEqual([
			{ name: "one", aim: "galactic-centre", exposure: 60 },
			{ name: "two", aim: "galactic-centre", exposure: 60 },
		]);
	});

	test("tabs in the indentation are told, tabs elsewhere are fine", () => {
		expect(codesOf("plan:\n\ttitle: A\n")).toContain("structure/yaml");
		expect(codesOf("plan:\n  title:\tA\n")).not.toContain("structure/yaml");
	});
});

describe("input from strangers", () => {
	const bomb = `a: &a [x,x,x,x,x,x,x,x,x]\n${"bcdefghij"
		.split("")
		.map((name, i) => `${name}: &${name} [${Array(9).fill(`*${"abcdefghij"[i]}`).join(",")}]`)
		.join("\n")}\n`;

	test.each([
		["nothing", "", "structure/missing-cell"],
		["one huge line", `plan: { title: ${"x".repeat(400_000)} }`, "structure/too-much"],
		["a file over 5 MB", "# x\n".repeat(1_300_000), "structure/too-much"],
		["conflict markers", "<<<<<<< ours\nplan:\n=======\n>>>>>>> theirs\n", "structure/conflict-marker"],
		["ten thousand documents", "note: x\n---\n".repeat(10_000), "structure/too-much"],
		["an alias bomb", `targets:\n${bomb.replace(/^/gm, "  ")}`, "structure/wrong-type"],
		[
			"an alias bomb in a list",
			`site:\n  name: A\n  skyline: [&a [0, 4], ${"*a, ".repeat(300)}[9, 9]]\n`,
			"structure/too-much",
		],
		["an alias to itself", "targets: &a [*a]\n", "structure/wrong-type"],
		["deep flow", `note: ${"[".repeat(5000)}`, "structure/too-much"],
		["deep lists", `note:\n  ${"- ".repeat(5000)}x`, "structure/too-much"],
		[
			"deep mappings",
			`note:\n${Array.from({ length: 120 }, (_, i) => `${" ".repeat(i + 1)}a:`).join("\n")}`,
			"structure/wrong-type",
		],
		["a number of a million digits", `lens:\n  f-number: ${"9".repeat(150_000)}`, "structure/unreadable"],
		["NUL bytes", "plan:\n  title: a\0b\n", "structure/not-text"],
		["lone surrogates and controls", 'plan:\n  title: "\\ud800 \u202e"\n  \ud800: 1\n', "structure/unknown-key"],
		["a tag", "plan: !!js/function 'x'\n", "structure/yaml"],
		["keys of an object's prototype", "plan:\n  title: A\n  __proto__: 1\n  constructor: 2\n", "structure/unknown-key"],
		["a cell of a prototype's name", "constructor:\n  a: 1\n", "structure/unknown-kind"],
		["complex keys", "? [a, b]\n: c\n", "structure/unknown-kind"],
	])("%s", (_, text, code) => expect(codesOf(text)).toContain(code));

	test("any text: no throw, places inside the text and inside a line", () => {
		const words = fc.constantFrom(
			"plan:",
			"site:",
			"night:",
			"---",
			"...",
			"\n",
			"\n  ",
			"  ",
			"- ",
			"[",
			"]",
			"{",
			"}",
			'"',
			"'",
			": ",
			"#",
			"&a",
			"*a",
			"<<",
			"|",
			">",
			"name: x",
			"latitude: 12 N",
			"date: 2027-06-05",
			"aim:",
			"\t",
			"\r\n",
			"±",
			"!t",
			"%",
			"@",
			"`",
			"? ",
			"\u2028",
			"kind: square-laser",
			"targets:",
			"exposure: 1 s",
			"method:",
			"longitude: 3",
		);
		fc.assert(
			fc.property(fc.array(fc.oneof(words, fc.string({ maxLength: 6 })), { maxLength: 40 }), (parts) => {
				const text = parts.join("");
				for (const { from, to, message } of checkText(text)) {
					expect(from).toBeGreaterThanOrEqual(0);
					expect(to).toBeLessThanOrEqual(text.length);
					expect(text.slice(from, to)).not.toContain("\n");
					expect(message).not.toMatch(/undefined|NaN/);
				}
			}),
			{ numRuns: 1500, seed: 20270605 },
		);
	});

	test("a sample with a piece cut out, doubled or changed anywhere: no throw", () => {
		const sample = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");
		fc.assert(
			fc.property(
				fc.nat(sample.length),
				fc.nat(30),
				fc.string({ maxLength: 5 }),
				fc.boolean(),
				(at, length, inserted, doubled) => {
					const piece = sample.slice(at, at + length);
					const text = sample.slice(0, at) + (doubled ? piece + piece : "") + inserted + sample.slice(at + length);
					for (const { from, to } of checkText(text)) expect(text.slice(from, to)).not.toContain("\n");
				},
			),
			{ numRuns: 800, seed: 3 },
		);
	});

	test("quantities and coordinates of any text neither throw nor take long", () => {
		const hard = [
			"1".repeat(100_000),
			`${"0".repeat(50_000)}x`,
			`${"1.".repeat(20_000)}`,
			`${" ".repeat(50_000)}N`,
			`1${"e1".repeat(20_000)}`,
		];
		for (const text of hard) {
			const start = performance.now();
			readQuantity(text, "angle");
			readCoordinate(text, "latitude");
			readBearing(text);
			readClockTime(text);
			readSlice(`lens:\n  sensor: ${text}\n`);
			expect(performance.now() - start).toBeLessThan(1000);
		}
		fc.assert(
			fc.property(
				fc.string(),
				(text) =>
					void [readQuantity(text, "angle"), readCoordinate(text, "longitude"), readBearing(text), readDate(text)],
			),
			{ numRuns: 2000, seed: 5 },
		);
	});
});

describe("the JSON Schema", () => {
	const validate = new Ajv2020({ strict: true, strictRequired: false, allErrors: true, allowUnionTypes: true }).compile(
		planSchema(),
	);

	test("every cell of every clean sample is valid by it", () => {
		const folder = new URL("../../samples/", import.meta.url);
		const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter(
			(name) => name.endsWith(".lode.yaml") && name !== "mistakes.lode.yaml",
		);
		expect(files.some((name) => name.includes("workshop"))).toBe(true);
		for (const file of files) {
			for (const document of parseAllDocuments(readFileSync(new URL(file, folder), "utf8"))) {
				expect(validate(document.toJS()), `${file}: ${JSON.stringify(validate.errors)}`).toBe(true);
			}
		}
	});

	test("a note that is still to write is right by it and by the reader, and says nothing; no other cell is", () => {
		for (const note of ["note:", "note: |", "note: |\n\n", 'note: ""', "note: ~", "note:\n  # later"]) {
			expect(validate(parseAllDocuments(`${note}\n`)[0]?.toJS()), note).toBe(true);
			const text = `${planWith({})}\n---\n${note}\n`;
			expect(checkText(text), note).toEqual([]);
			expect(firstValue(readPlan(text), "note"), note).toBe(undefined);
		}
		expect(validate(parseAllDocuments("site:\n")[0]?.toJS())).toBe(false);
		expect(codesOf(planWith({ site: "" }))).toContain("structure/no-value");
		expect(codesOf(planWith({ plan: 'title: ""' }))).toEqual(["structure/unreadable"]);
	});

	test("and mistakes are not", () => {
		for (const [text, why] of [
			["site: { name: A, latitude: 1, longitude: 2, hight: 3 m }", "unknown key"],
			["night: { arrive: '17:00' }", "missing key"],
			["lens: { focal-length: 24, sensor: full-frame }", "no unit"],
			["plan: { title: A }\nsite: {}", "two kinds"],
			["plot: {}", "unknown kind"],
			["method: { kind: squared }", "unknown word"],
			["method: { kind: compass, guide-star: Spica }", "key of another kind"],
			["method: { from: kits/one.lode.yaml, kind: compass, guide-star: Spica }", "key of another kind beside from"],
		] as const) {
			expect(validate(parseAllDocuments(text)[0]?.toJS()), why).toBe(false);
		}
	});

	test("a method's kind decides which keys it may have, as the reader has it", () => {
		const shown = (kind: string, key: string, value: string) => `method:\n  kind: ${kind}\n  ${key}: ${value}\n`;
		const examples = ALL_METHODS.flatMap(({ keys }) => Object.entries(keys));
		for (const { kind } of ALL_METHODS)
			for (const [key, { example }] of examples) {
				const text = shown(kind, key, example);
				const told = checkText(planWith({ method: text.replace(/^method:\n/, "").replace(/^ {2}/gm, "") }));
				const reads = !told.some(({ code }) => code === "structure/key-of-other-kind");
				expect(validate(parseAllDocuments(text)[0]?.toJS()), `${text} ${JSON.stringify(validate.errors)}`).toBe(reads);
			}
	});
});
