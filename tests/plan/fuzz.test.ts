/** Whatever is read: an answer and words for what is wrong, in bounded time; nothing throws. LODEBOOK_FUZZ and LODEBOOK_SEED as in tests/server/fuzz.test.ts. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { createEvaluator, evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { readBearing } from "../../shared/notation/bearing.ts";
import { readCoordinate } from "../../shared/notation/coordinate.ts";
import { readDate } from "../../shared/notation/date.ts";
import { DIMENSIONS, readQuantity } from "../../shared/notation/quantity.ts";
import { format } from "../../shared/plan/format.ts";
import { type PlanReader, PlanReader as Reader, readPlan } from "../../shared/plan/plan.ts";
import { findStar } from "../../shared/sky/stars.ts";
import { cursorContext } from "../../shared/text/cursor.ts";

const RUNS = Number(process.env.LODEBOOK_FUZZ ?? 0) * 4 || 400;
const OPTIONS = {
	numRuns: RUNS,
	...(process.env.LODEBOOK_SEED === undefined ? {} : { seed: Number(process.env.LODEBOOK_SEED) }),
};

const piece = fc.oneof(
	fc.constantFrom(
		"plan:\n  title: A\n---\n",
		"site:\n",
		"  latitude: 32 S\n",
		"  longitude: 20 E\n",
		"night:\n  date: 2027-06-05\n",
		"---\n",
		"...\n",
		"lens: { focal-length: 24 mm }\n",
		"method:\n  kind: square-laser\n",
		"targets:\n  - aim: Moon\n",
		"log:\n  - at: 2027-06-05T22:00:00\n",
	),
	fc.constantFrom(
		"&a",
		"*a",
		"<<: *a\n",
		"[",
		"]",
		"{",
		"}",
		"? ",
		": ",
		"- ",
		"|\n",
		">-\n",
		"!!binary ",
		"!<x> ",
		"%YAML 9.9\n",
		"\t",
		"\0",
		"\uD800",
		"\u202E",
		"\uFEFF",
		"\r",
		'"',
		"'",
		"#",
		"1e999",
		"9".repeat(400),
		"-0",
		".inf",
		".nan",
		"0x1F",
		"1_000",
		"~",
		"null",
		"__proto__: ",
		"2027-02-30",
		"25:61",
		"± ",
		"°",
		"′",
		"″",
		"∞",
	),
	fc.string({ unit: "binary", maxLength: 8 }),
);
const text = fc.array(piece, { maxLength: 30 }).map((pieces) => pieces.join(""));

describe("any text", () => {
	test("is read, reckoned and checked; findings stand inside of it", () => {
		fc.assert(
			fc.property(text, (source) => {
				const findings = check(evaluate(readPlan(source)));
				for (const { from, to, message } of findings) {
					expect(from).toBeGreaterThanOrEqual(0);
					expect(to).toBeGreaterThanOrEqual(from);
					expect(to).toBeLessThanOrEqual(source.length);
					expect(message.length).toBeLessThan(2000);
				}
				format(source);
			}),
			OPTIONS,
		);
	}, 600_000);

	test("edited again and again, says what it says read afresh", () => {
		const edit = fc.record({ at: fc.nat(), length: fc.nat(40), piece });
		fc.assert(
			fc.property(text, fc.array(edit, { minLength: 1, maxLength: 8 }), (source, edits) => {
				const reader: PlanReader = new Reader();
				const evaluator = createEvaluator();
				let now = source;
				for (const { at, length, piece: typed } of edits) {
					const from = at % (now.length + 1);
					now = now.slice(0, from) + typed + now.slice(from + length);
					const words = (list: ReturnType<typeof check>) =>
						list.map(({ code, from: start, to, message }) => [code, start, to, message]);
					expect(words(check(evaluator(reader.read(now))))).toEqual(words(check(evaluate(readPlan(now)))));
				}
			}),
			OPTIONS,
		);
	}, 600_000);

	test("the cursor anywhere in it is somewhere or nowhere", () => {
		fc.assert(
			fc.property(text, fc.nat(), (source, at) => {
				const context = cursorContext(source, at % (source.length + 1));
				if (context) expect(context.from).toBeLessThanOrEqual(source.length);
			}),
			OPTIONS,
		);
	});
});

describe("any value", () => {
	const value = fc.oneof(
		fc.string({ unit: fc.constantFrom(..."0123456789.-+±°′″\"' NSEWM,:xe/mfpkhsind_∞"), maxLength: 24 }),
		fc.string({ maxLength: 30 }),
	);

	test("quantities, bearings, coordinates, dates, names of stars: a finite number, or a word why not", () => {
		fc.assert(
			fc.property(value, (source) => {
				for (const dimension of Object.keys(DIMENSIONS) as (keyof typeof DIMENSIONS)[]) {
					const reading = readQuantity(source, dimension);
					if (reading.ok) expect(Number.isFinite(reading.value)).toBe(true);
					else expect(reading.why).not.toBe("");
				}
				const bearing = readBearing(source);
				if (bearing) expect(bearing.degrees >= 0 && bearing.degrees < 360).toBe(true);
				for (const axis of ["latitude", "longitude"] as const) {
					const reading = readCoordinate(source, axis);
					if (reading.ok) expect(Math.abs(reading.degrees)).toBeLessThanOrEqual(axis === "latitude" ? 90 : 180);
				}
				readDate(source);
				findStar(source);
			}),
			{ ...OPTIONS, numRuns: RUNS * 5 },
		);
	});

	test("long ones take no longer than their length", () => {
		for (const unit of ["9", " ", "°", "1 ", "1°", "a", "-", "1e", "′1", "N", ":", "1:", "α"]) {
			const source = unit.repeat(20_000);
			const start = performance.now();
			for (const dimension of Object.keys(DIMENSIONS) as (keyof typeof DIMENSIONS)[]) readQuantity(source, dimension);
			readBearing(source);
			readCoordinate(source, "latitude");
			readDate(source);
			findStar(source);
			// Far above what it takes (a millisecond), far below what a pattern that tries every way would.
			expect(performance.now() - start).toBeLessThan(2000);
		}
	});
});
