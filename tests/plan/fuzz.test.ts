/** Whatever is read: an answer and words for what is wrong, in bounded time; nothing throws. LODEBOOK_FUZZ and LODEBOOK_SEED as in tests/server/fuzz.test.ts. */
import { readFileSync } from "node:fs";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { createEvaluator, evaluate } from "../../shared/evaluate/evaluate.ts";
import { check, checking } from "../../shared/findings/check.ts";
import { readBearing } from "../../shared/notation/bearing.ts";
import { readCoordinate } from "../../shared/notation/coordinate.ts";
import { readDate } from "../../shared/notation/date.ts";
import { DIMENSIONS, readQuantity } from "../../shared/notation/quantity.ts";
import { pointedAt } from "../../shared/plan/field-at.ts";
import { format } from "../../shared/plan/format.ts";
import { type PlanReader, PlanReader as Reader, readPlan } from "../../shared/plan/plan.ts";
import { type ReadSlice, readSlice } from "../../shared/plan/read.ts";
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
	test("is read, evaluated and checked; findings are inside of it", () => {
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

/** Lines that lists of entries are made of, and others that make it doubtful where an entry ends. */
const line = fc.oneof(
	{
		weight: 6,
		arbitrary: fc.constantFrom(
			"  - name: core",
			"  - { name: Antares, aim: Antares, exposure: 30 s }",
			"  - aim: { azimuth: 95, altitude: 12 }",
			"  - at: 2027-06-05T22:00:00",
			"    aim: galactic-centre",
			"    aim:",
			"      azimuth: 95",
			"      altitude: 12°",
			'    from: "20:30"',
			"    at: 20:30",
			"    exposure: 30 s # a comment",
			"    frames: 2",
			"    frames: two",
			"    frames: 2",
			"    opening:",
			"    expossure: 3 s",
		),
	},
	{
		weight: 3,
		arbitrary: fc.constantFrom(
			"",
			"   ",
			"# a comment",
			"      # deep",
			"    # level",
			"  -",
			"  -   name: far",
			"   - name: odd",
			" - name: odd too",
			"- name: flat",
			"  flat: 1",
			"  - - name: inside",
			"  - text",
			"  - name: A & B!",
			"  - &a { name: anchored }",
			"  - *a",
			"    aim: &b Moon",
			"    lens: *b",
			"  - !!map { name: tagged }",
			"    name: ! x",
			"    <<: *a",
			"    <<: { lens: wide }",
			'  - name: "open',
			'    closed"',
			"  - name: 'it''s",
			"      over two lines'",
			"  - name: |",
			"      block",
			"    text: >-",
			"  - [a,",
			"    b]",
			"    aim: { azimuth: 95,",
			"  altitude: 12 }",
			"\t- name: tab",
			"    name:\ttab",
			"    ? complex",
			"    : key",
			"  - name: a: b",
			"  - name: plain",
			"      over two lines",
			"...",
			"targets:",
			"log: # again",
			"note: x",
			"%YAML 1.1",
			"\uFEFF",
			"\u2028",
			"\u00A0",
			"<<<<<<< ours",
		),
	},
	{ weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 6 }) },
);
/** Lines of entries as they should be. */
const entry = fc
	.tuple(
		fc.constantFrom(
			"  - name: core",
			"  -   until: Moon",
			"  - { name: Antares, opening: west }",
			"  - name: A & B!",
			"  - from: 1",
		),
		fc.uniqueArray(
			fc.constantFrom(
				"    exposure: 30 s # a comment",
				"    frames: two",
				"    expossure: 3 s",
				"    opening:",
				"    aim:\n      azimuth: 95\n      altitude: 12°",
				'    lens: "two\n      lines"',
				"    summary: >-\n      folded\n\n      text\n",
				"    trail: |+\n      kept\n\n",
				"    gap: [a,\n      b]",
				"    foreground: plain\n      goes on",
				"    <<: { lens: wide }",
				"",
				"# a comment",
				"      # deep",
				"   ",
			),
			{ maxLength: 5 },
		),
	)
	.map(([first, more]) => [first, ...more].flatMap((one) => one.split("\n")));
const listText = fc
	.record({
		head: fc.constantFrom("", "", "---\n", "--- # first\n", "# before\n\n", "%TAG ! x\n", "--- !x\n"),
		key: fc.constantFrom(
			...Array<string>(8).fill("targets:"),
			"log:",
			"log: # all",
			"targets: &x",
			'"targets":',
			"targets: !!seq",
			"log: []",
			"note:",
		),
		entries: fc.array(entry, { maxLength: 6 }),
		nasty: fc.array(fc.tuple(fc.nat(), line), { maxLength: 1 }),
		shift: fc.constantFrom(0, 0, 0, 2, 1),
		newline: fc.constantFrom("\n", "\n", "\n", "\r\n", "\r\n", "\r"),
		mixed: fc.array(fc.nat(), { maxLength: 1 }),
		ended: fc.boolean(),
	})
	.map(({ head, key, entries, nasty, shift, newline, mixed, ended }) => {
		const lines = entries.flat().map((one) => (one.startsWith("  ") ? one.slice(shift) : one));
		for (const [at, one] of nasty) lines.splice(at % (lines.length + 1), 0, one);
		const all = [key, ...lines];
		const broken = all.map((one, i) =>
			i === all.length - 1 && !ended ? one : one + (mixed.some((at) => at % all.length === i) ? "\n" : newline),
		);
		return `${head}${broken.join("")}`;
	});

/** A cell as plain values, so that cells can be compared whatever they were read by. */
const plain = ({ kind, content, places, problems }: ReadSlice): unknown => ({
	kind,
	content,
	places: [...places],
	problems,
});

describe("lists read entry by entry", () => {
	test("say what the whole says, whatever stands in them", () => {
		let cut = 0;
		fc.assert(
			fc.property(listText, fc.nat(), (source, offset) => {
				for (const cell of new Reader().read(source).cells) {
					const { text: slice, read } = cell;
					if (read.entries) cut++;
					const whole = readSlice(slice);
					expect(plain(read)).toEqual(plain(whole));
					for (const [path, place] of whole.places) expect(read.places.get(path)).toEqual(place);
					const at = offset % (slice.length + 1);
					expect(pointedAt(cell, at)).toEqual(pointedAt({ ...cell, read: whole }, at));
				}
			}),
			{ ...OPTIONS, numRuns: RUNS * 10 },
		);
		// Not all of them were read as a whole.
		expect(cut).toBeGreaterThan(RUNS / 4);
	}, 600_000);

	test("edited again and again, say what they say read afresh, and keep what was not touched", () => {
		const edit = fc.record({
			at: fc.nat(),
			gone: fc.nat(3),
			typed: fc.oneof(entry, fc.array(line, { maxLength: 2 })),
		});
		fc.assert(
			fc.property(listText, fc.array(edit, { minLength: 1, maxLength: 8 }), (source, edits) => {
				const reader = new Reader();
				const lines = source.split("\n");
				reader.read(source);
				for (const { at, gone, typed } of edits) {
					lines.splice(1 + (at % lines.length), gone, ...typed);
					for (const { text: slice, read } of reader.read(lines.join("\n")).cells)
						expect(plain(read)).toEqual(plain(readSlice(slice)));
				}
			}),
			{ ...OPTIONS, numRuns: RUNS * 3 },
		);
	}, 600_000);

	test("an edit of one entry, and comments anywhere, leave the content of the others the same object", () => {
		const entryOf = (i: number): string => `  - name: t${i}\n    aim: Moon\n    exposure: ${i} s\n`;
		const list = (...entries: readonly string[]): string => `targets:\n${entries.join("")}`;
		const reader = new Reader();
		const contentOf = (text: string) => reader.read(text).cells[0]?.read.content as readonly unknown[];
		const first = contentOf(list(entryOf(1), entryOf(2), entryOf(3)));
		const second = contentOf(list(entryOf(1), entryOf(22), entryOf(3)));
		expect(second[0]).toBe(first[0]);
		expect(second[1]).not.toBe(first[1]);
		expect(second[2]).toBe(first[2]);
		// Open quotes: read as a whole, which loses nothing.
		const third = contentOf(list(entryOf(1), entryOf(22), entryOf(3), '  - name: "four\n'));
		expect(third[0]).toBe(first[0]);
		const fourth = contentOf(list(entryOf(1), "# a comment\n", entryOf(22), `${entryOf(3)}    # another\n`));
		expect(fourth[0]).toBe(second[0]);
		expect(fourth[1]).toBe(second[1]);
		expect(fourth[2]).toBe(second[2]);
	});
});

describe("a plan of many targets", () => {
	const sample = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");
	const target = (i: number): string =>
		`  - name: more ${i}\n    aim: ${["galactic-centre", "Spica", "moon"][i % 3]}\n    from: "${18 + (i % 6)}:${10 + 4 * i}"\n    exposure: 30 s\n    frames: ${2 + i}\n`;
	const many = sample.replace(/---\nnote:[\s\S]*$/, "") + Array.from({ length: 10 }, (_, i) => target(i)).join("");
	const said = (findings: ReturnType<typeof check>) =>
		findings.map(({ code, severity, from, to, message, fixes }) => ({ code, severity, from, to, message, fixes }));

	test("edited anywhere, says what it says read afresh, fixes included", () => {
		const edit = fc.oneof(
			// A digit, anywhere; far more often than not it stays a plan.
			{ weight: 6, arbitrary: fc.record({ at: fc.nat(), digit: fc.nat(9) }) },
			{
				weight: 1,
				arbitrary: fc.record({
					at: fc.nat(),
					line: fc.constantFrom("", "# a comment", target(3).trimEnd(), '  - name: "open'),
				}),
			},
			{ weight: 1, arbitrary: fc.record({ at: fc.nat(), gone: fc.integer({ min: 1, max: 8 }) }) },
		);
		fc.assert(
			fc.property(fc.array(edit, { minLength: 1, maxLength: 12 }), (edits) => {
				const reader = new Reader();
				const evaluator = createEvaluator();
				let now = many;
				check(evaluator(reader.read(now)));
				for (const one of edits) {
					if ("digit" in one) {
						const digits = [...now.matchAll(/\d/g)];
						const at = digits[one.at % digits.length]?.index ?? 0;
						now = `${now.slice(0, at)}${one.digit}${now.slice(at + 1)}`;
					} else {
						const lines = now.split("\n");
						if ("gone" in one) lines.splice(one.at % lines.length, one.gone);
						else lines.splice(one.at % lines.length, 0, one.line);
						now = lines.join("\n");
					}
					expect(said(check(evaluator(reader.read(now))))).toEqual(said(check(evaluate(readPlan(now)))));
				}
			}),
			{ ...OPTIONS, numRuns: Math.ceil(RUNS / 10) },
		);
	}, 600_000);

	test("is checked in steps, target by target, with the same result", () => {
		const evaluation = evaluate(readPlan(many));
		const steps = checking(evaluation);
		let count = 0;
		let step = steps.next();
		for (; !step.done; step = steps.next()) count++;
		expect(count).toBeGreaterThan(12);
		expect(said(step.value)).toEqual(said(check(evaluation)));
	});

	test("an edit of one target leaves all that was computed of the others", () => {
		const reader = new Reader();
		const evaluator = createEvaluator();
		const before = evaluator(reader.read(many)).targets?.value ?? [];
		const after = evaluator(reader.read(many.replace("frames: 5\n", "frames: 55\n"))).targets?.value ?? [];
		expect(after.map((one, i) => one === before[i]).filter((same) => !same)).toHaveLength(1);
		expect(after).toHaveLength(12);
	});

	test("nothing but the last two texts is held, however many there were", async () => {
		setFlagsFromString("--expose-gc");
		const collect = runInNewContext("gc") as () => void;
		const reader = new Reader();
		const evaluator = createEvaluator();
		const evaluated: WeakRef<object>[] = [];
		for (let i = 0; i < 8; i++) {
			const evaluation = evaluator(reader.read(many.replace("32.4123 S", `32.41${10 + i} S`)));
			check(evaluation);
			const { site, night, tonight, targets, methods } = evaluation;
			for (const one of [site, night, tonight, targets?.value?.[5], methods[0]?.value])
				if (one) evaluated.push(new WeakRef(one));
			// References are followed to the end of a task.
			await new Promise((rested) => setTimeout(rested, 0));
		}
		collect();
		expect(evaluated.filter((one) => one.deref() !== undefined).length).toBeLessThanOrEqual(2 * 5);
		expect(evaluated).toHaveLength(8 * 5);
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
