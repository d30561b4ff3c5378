/** The writer of scalars, beside what two YAML parsers, of 1.2 and of 1.1, read from what it writes. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { asYaml, scalarText, written } from "../../shared/text/scalar.ts";
import { HOSTILE_NAMES } from "../hostile-names.ts";

const name = fc.oneof(
	fc.constantFrom(...HOSTILE_NAMES),
	fc.string({ unit: "binary", maxLength: 12 }),
	fc.string({ unit: fc.constantFrom(..."0123456789.-+:_eExobTtZz ~#,[]{}&*!|>'\"%@`?=\\\n\r\ty"), maxLength: 10 }),
);
const old = fc.constantFrom("", '"', "'", '"a: b"', "'it''s'", "plain", "|\n  block");

/** A scalar in the places where one may stand. */
const PLACES: readonly (readonly [flow: boolean, around: (scalar: string) => string])[] = [
	[false, (scalar) => `lens:\n  name: ${scalar}\n  other: 1\n`],
	[false, (scalar) => `lens:\r\n  name: ${scalar} # comment\r\n  other: 1\r\n`],
	[true, (scalar) => `lens: { name: ${scalar}, other: 1 }\n`],
	[true, (scalar) => `lens: {name: ${scalar}}\n`],
];

describe("a text", () => {
	test("is read back as it is, by YAML 1.2 and 1.1, wherever it is put", () => {
		fc.assert(
			fc.property(name, old, (text, before) => {
				for (const [flow, around] of PLACES) {
					const scalar = scalarText(text, { flow, old: before });
					expect(scalar).not.toMatch(/[\r\n\u0085\u2028\u2029]/);
					for (const version of ["1.1", "1.2"] as const)
						expect((parse(around(scalar), { version }) as { lens: { name: unknown } }).lens.name, scalar).toBe(text);
				}
			}),
			{ numRuns: 4000 },
		);
	});

	test("is read back from a list", () => {
		fc.assert(
			fc.property(fc.array(name, { maxLength: 4 }), (texts) => {
				for (const version of ["1.1", "1.2"] as const)
					expect(parse(`stars: ${written(texts)}\n`, { version })).toEqual({ stars: texts });
			}),
			{ numRuns: 2000 },
		);
	});

	test.each([
		"eta Virginis",
		"24 mm",
		"± 0.5°",
		"32° 24′ 44.3″ S",
		"-32.4123 N",
		"Africa/Johannesburg",
		"6000 x 4000",
		"f/2.8",
		"a:b",
		"a#b",
		"Café in der Öde",
		"🌌 core",
		"100 %",
		"it's",
	])("%s stays plain", (text) => {
		expect(scalarText(text)).toBe(text);
		expect(scalarText(text, { flow: true })).toBe(text);
	});

	test("keeps the quotes that were there, unless they cannot hold it", () => {
		expect(scalarText("wide", { old: "'long'" })).toBe("'wide'");
		expect(scalarText("wide", { old: '"long"' })).toBe('"wide"');
		expect(scalarText("it's", { old: "'long'" })).toBe("'it''s'");
		expect(scalarText("a\nb", { old: "'long'" })).toBe('"a\\nb"');
		expect(scalarText("wide, fast", { old: "long" })).toBe("wide, fast");
		expect(scalarText("wide, fast", { flow: true, old: "long" })).toBe('"wide, fast"');
	});

	test("of a million characters it ends within the time of a test, which their square would not", () => {
		for (const unit of [" ", "1", "1:", ":", "#", " #", "'", '"', "\\", "\n", "-", "1_", "2027-", "\u2028"]) {
			const text = unit.repeat(1_000_000 / unit.length);
			expect(scalarText(text).length, JSON.stringify(unit)).toBeGreaterThanOrEqual(text.length);
		}
	});
});

test("numbers and yes or no are written as such, and YAML as it is", () => {
	expect([written(12), written(true), written(asYaml("{ a: 1 }")), written("12"), written("true")]).toEqual([
		"12",
		"true",
		"{ a: 1 }",
		'"12"',
		'"true"',
	]);
});
