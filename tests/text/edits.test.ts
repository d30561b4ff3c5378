import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { applyEdits, EditsRefused, editsOnce, type TextEdit } from "../../shared/text/edits.ts";

const edit = (from: number, to: number, text: string): TextEdit => ({ from, to, text });

/** Edits one after another that leave room between them. */
const apart = fc
	.array(fc.record({ gap: fc.nat(3), length: fc.nat(3), text: fc.string({ maxLength: 4 }) }), { maxLength: 12 })
	.map((parts) => {
		let at = 0;
		return parts.map(({ gap, length, text }) => {
			const from = at + gap + 1;
			at = from + length;
			return edit(from, at, text);
		});
	});

describe("edits", () => {
	test("are made as one would from the end, whatever order they are given in", () => {
		fc.assert(
			fc.property(
				fc.string({ minLength: 100, maxLength: 120 }),
				apart.chain((edits) => fc.shuffledSubarray(edits, { minLength: edits.length })),
				(text, edits) => {
					const expected = [...edits]
						.sort((a, b) => b.from - a.from)
						.reduce((result, one) => result.slice(0, one.from) + one.text + result.slice(one.to), text);
					expect(applyEdits(text, edits)).toBe(expected);
				},
			),
		);
	});

	test("at one place are made in their order, before what is replaced there", () => {
		expect(applyEdits("abc", [edit(1, 2, "B"), edit(1, 1, "x"), edit(1, 1, "y")])).toBe("axyBc");
		expect(applyEdits("abc", [edit(0, 1, "A"), edit(1, 1, "x"), edit(1, 2, "B")])).toBe("AxBc");
	});

	test.each([
		["the same twice", [edit(1, 2, "B"), edit(1, 2, "B")]],
		["one that begins within another", [edit(0, 2, "A"), edit(1, 3, "B")]],
		["one within another", [edit(0, 3, "A"), edit(1, 1, "B")]],
		["one behind the end", [edit(2, 4, "A")]],
		["one that ends before it begins", [edit(2, 1, "A")]],
	])("are refused when there is %s", (_, edits) => {
		expect(() => applyEdits("abc", edits)).toThrow(EditsRefused);
		expect(() => applyEdits("abc", [...edits].reverse())).toThrow(EditsRefused);
	});

	test("that say the same again are made once; of two that differ at one place the first", () => {
		const edits = [
			edit(1, 2, "B"),
			edit(0, 0, "x"),
			edit(1, 2, "B"),
			edit(0, 0, "x"),
			edit(1, 2, "C"),
			edit(0, 0, "y"),
		];
		expect(editsOnce(edits)).toEqual([edit(0, 0, "x"), edit(0, 0, "y"), edit(1, 2, "B")]);
		expect(applyEdits("abc", editsOnce(edits))).toBe("xyaBc");
	});

	test("very many of a long text end within the time of a test, which their product would not", () => {
		const text = "a \n".repeat(1_500_000);
		const result = applyEdits(
			text,
			Array.from({ length: 1_500_000 }, (_, i) => edit(3 * i + 1, 3 * i + 2, "")),
		);
		expect(result.length).toBe(3_000_000);
	});
});
