import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { CELL_KIND_NAMES, CELL_KINDS } from "../../shared/cells/kinds.ts";
import { bearingWords, readBearing } from "../../shared/notation/bearing.ts";
import { coordinateText, coordinateWords, readCoordinate } from "../../shared/notation/coordinate.ts";
import { cellAt, modelAt, pointedAt } from "../../shared/plan/field-at.ts";
import { format, formatEdits } from "../../shared/plan/format.ts";
import { cellName, readPlan } from "../../shared/plan/plan.ts";
import { refactoringsAt } from "../../shared/plan/refactorings.ts";
import { kindsToAdd, skeletonOf } from "../../shared/plan/skeleton.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { Lines } from "../../shared/text/lines.ts";
import { withoutGaps } from "../../shared/text/template.ts";
import { codesOf } from "../plan-text.ts";

const folder = new URL("../../samples/", import.meta.url);
const SAMPLES = readdirSync(folder)
	.filter((name) => name.endsWith(".lode.yaml"))
	.map((name) => [name, readFileSync(new URL(name, folder), "utf8")] as const);

const values = (text: string): unknown => readPlan(text).cells.map(({ read }) => [read.kind, read.content]);

describe("formatting", () => {
	test.each(SAMPLES)("%s: says the same afterwards, and a second time changes nothing", (_, text) => {
		const messy = text
			.replace(/"(\d\d:\d\d)"/g, "$1")
			.replace(/: (?=\S)/g, ":   ")
			.replace(/$/gm, "  ");
		const formatted = format(messy);
		expect(values(formatted)).toEqual(values(messy));
		expect(formatEdits(formatted)).toEqual([]);
	});

	test("any text: never throws, is stable, and says the same", () => {
		const piece = fc.constantFrom(
			"site:",
			"\n",
			"  ",
			"at: 21:04",
			"---",
			'"',
			"note: |",
			"a",
			" # c",
			"{",
			"}",
			"[",
			":",
			"\t",
			"\r\n",
			"night:\n  arrive: 19:00 ",
		);
		fc.assert(
			fc.property(fc.array(piece, { maxLength: 20 }), (pieces) => {
				const text = pieces.join("");
				const formatted = format(text);
				expect(format(formatted)).toBe(formatted);
				expect(values(formatted)).toEqual(values(text));
			}),
			{ numRuns: 1500 },
		);
	});
});

describe("other ways to write the same", () => {
	test("coordinates and bearings are read back as they were, to a tenth of a second and of a degree", () => {
		fc.assert(
			fc.property(
				fc.double({ min: -90, max: 90, noNaN: true }),
				fc.double({ min: 0, max: 360, noNaN: true }),
				(latitude, bearing) => {
					for (const text of [coordinateText(latitude, "latitude"), coordinateWords(latitude, "latitude")]) {
						const read = readCoordinate(text, "latitude");
						expect(read.ok && Math.abs(read.degrees - latitude)).toBeLessThan(2e-5);
					}
					for (const north of ["true", "magnetic"] as const) {
						const read = readBearing(bearingWords(bearing, north));
						expect(read?.north).toBe(north);
						expect(Math.abs((((read?.degrees ?? 999) - bearing + 540) % 360) - 180)).toBeLessThan(0.0501);
					}
				},
			),
		);
	});

	test("at each value of the samples: what a refactoring writes checks as before", () => {
		for (const [name, text] of SAMPLES) {
			if (name.startsWith("mistakes")) continue;
			const plan = readPlan(text);
			let count = 0;
			for (const cell of plan.cells)
				for (const [path] of cell.read.places)
					for (const { title, edits } of refactoringsAt(cell, path, -26.5)) {
						count++;
						const written = applyEdits(text, edits);
						expect(title).toMatch(/^(Convert to|Split into)/);
						expect(codesOf(written).filter((code) => code.startsWith("structure/"))).toEqual([]);
					}
			expect(count).toBeGreaterThan(1);
		}
	});

	test("an exposure is split into whole frames, in block and in flow style", () => {
		const text =
			"targets:\n  - aim: Moon\n    exposure: 60 s\n  - { aim: Moon, exposure: 90 s, frames: 2 }\n  - { aim: Sun, exposure: 2 ms }\n";
		const [cell] = readPlan(text).cells;
		if (!cell) throw new Error("no cell");
		const split = (path: string): readonly string[] =>
			refactoringsAt(cell, path, undefined).map(({ edits }) => applyEdits(text, edits).replace(text.slice(0, 11), ""));
		expect(split("0.exposure")[0]).toContain("- aim: Moon\n    frames: 2\n    exposure: 30 s\n");
		expect(split("1.exposure")[1]).toContain("{ aim: Moon, exposure: 30 s, frames: 6 }");
		expect(split("2.exposure").join()).not.toContain("frames:");
		expect(refactoringsAt(cell, "0.aim", undefined)).toEqual([]);
	});
});

describe("places in a plan", () => {
	test("every kind's skeleton lacks nothing but values, and is offered once where one may stand", () => {
		for (const kind of CELL_KIND_NAMES) {
			const text = `${withoutGaps(skeletonOf(kind))}\n`;
			expect(
				codesOf(text).filter(
					(code) =>
						code.startsWith("structure/") &&
						code !== "structure/missing-cell" &&
						code !== "structure/no-value" &&
						!(kind === "note" && code === "structure/unreadable"),
				),
			).toEqual([]);
			const { cells } = readPlan(text);
			expect(kindsToAdd({ cells }).some((one) => one.kind === kind)).toBe(CELL_KINDS[kind].many);
		}
		expect(
			kindsToAdd({ cells: [] })
				.filter(({ missing }) => missing)
				.map(({ kind }) => kind),
		).toEqual(["plan", "site", "night", "lens", "method", "targets"]);
	});

	test("the model at a path; the smallest key or value at an offset; the cell at a border is the later one", () => {
		expect(modelAt("site", "landmarks.0.name")?.shape.type).toBe("text");
		expect(modelAt("site", "landmarks.x")).toBe(undefined);
		expect(modelAt("targets", "0.aim.azimuth")?.shape.type).toBe("bearing");
		expect(modelAt("night", "date.year")).toBe(undefined);
		expect(modelAt("plan", "constructor")).toBe(undefined);
		const text = "plan:\n  title: A\n---\nsite:\n  name: Long stand\n";
		const { cells } = readPlan(text);
		expect(cellAt(cells, text.indexOf("---"))?.read.kind).toBe("site");
		expect(cellAt(cells, 0)?.read.kind).toBe("plan");
		const [, site] = cells;
		if (!site) throw new Error("no site");
		expect(pointedAt(site, site.text.indexOf("stand"))).toMatchObject({ path: "name", part: "value" });
		expect(pointedAt(site, site.text.indexOf("name"))).toMatchObject({ path: "name", part: "key" });
		expect(cellName({ text, cells, cut: undefined }, site)).toBe("Long stand");
	});

	test("lines as editors count them", () => {
		const lines = new Lines("a\nb\r\nc\rd");
		expect([0, 2, 5, 7].map((offset) => lines.at(offset))).toEqual([
			{ line: 0, column: 0 },
			{ line: 1, column: 0 },
			{ line: 2, column: 0 },
			{ line: 3, column: 0 },
		]);
		expect([lines.count, lines.start(2), lines.start(99)]).toEqual([4, 5, 7]);
	});
});
