import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { signed, summed, unpacked } from "../../shared/sky/catalogue/packed.ts";
import { STAR_COUNT } from "../../shared/sky/catalogue/star-table.ts";
import { starAt, starColumns } from "../../shared/sky/stars.ts";

/** Every star with its proper motion, null where it is not known. */
const stars = Array.from({ length: STAR_COUNT }, (_, i) => {
	const motion = starColumns().motion.map((one) => one[i] as number);
	return { ...starAt(i), motion: motion.map((one) => (Number.isNaN(one) ? null : one)) };
});

/** Rows of a source, by their first number. */
function rowsOf(name: string): ReadonlyMap<number, readonly number[]> {
	const lines = readFileSync(new URL(`../../shared/sky/catalogue/${name}`, import.meta.url), "utf8").split("\n");
	const rows = lines.filter((line) => /^\d/.test(line)).map((line) => line.split(",").map(Number));
	return new Map(rows.map(([hip = 0, ...rest]) => [hip, rest]));
}

describe("the table of stars", () => {
	test("says of every star what it said before it was packed closer", () => {
		// Of the table in bytes that was there before, all its 5044 stars.
		const text = JSON.stringify(stars.map(({ motion, ...star }) => [star, ...motion]));
		expect(createHash("sha256").update(text).digest("hex")).toBe(
			"3665853bc5b77aaf505356cb21709c99bd4619b2543c23e408064a2309730d99",
		);
	});

	test("says what its sources say", () => {
		const { features } = createRequire(import.meta.url)("d3-celestial/data/stars.6.json") as {
			features: { id: number; properties: { mag: number }; geometry: { coordinates: [number, number] } }[];
		};
		const [astrometry, motions] = [rowsOf("astrometry.csv"), rowsOf("proper-motions.csv")];
		const byNumber = new Map(stars.map((star) => [star.hip, star]));
		expect(byNumber.size).toBe(features.length);
		for (const { id, properties, geometry } of features) {
			const star = byNumber.get(id);
			const [ra = 0, dec = 0, east, north] = astrometry.get(id) ?? [
				...geometry.coordinates,
				...(motions.get(id)?.map((one) => one * 1000) ?? []),
			];
			expect(star?.magnitude, `HIP ${id}`).toBeCloseTo(properties.mag, 2);
			expect(Math.abs((((star?.rightAscension ?? 0) - ra + 540) % 360) - 180), `HIP ${id}`).toBeLessThan(0.6e-6);
			expect(Math.abs((star?.declination ?? 0) - dec), `HIP ${id}`).toBeLessThan(0.6e-6);
			// The one that is in no list: tests/reference/README.md.
			if (id === 71681) continue;
			expect(star?.moves, `HIP ${id}`).toBe(east !== undefined);
			for (const [i, told] of [east, north].entries())
				if (told !== undefined) expect(Math.abs((star?.motion[i] ?? 0) - told), `HIP ${id}`).toBeLessThan(0.1001);
		}
	});

	test("rises with declination", () => {
		for (let i = 1; i < stars.length; i++)
			expect(stars[i]?.declination).toBeGreaterThanOrEqual(stars[i - 1]?.declination ?? 0);
	});
});

describe("packed numbers", () => {
	const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
	const packed = (values: readonly number[], low: number): string => {
		const bits = values
			.map((one) => "1".repeat(one >> low) + ((1 << (low + 1)) | (one & ((1 << low) - 1))).toString(2).slice(1))
			.join("");
		return (bits.match(/.{1,6}/g) ?? []).map((six) => DIGITS[Number.parseInt(six.padEnd(6, "0"), 2)]).join("");
	};

	test("are read as they were written", () => {
		fc.assert(
			fc.property(fc.array(fc.nat(3000)), fc.integer({ min: 0, max: 22 }), (values, low) => {
				expect([...unpacked({ low, text: packed(values, low) }, values.length)]).toEqual(values);
			}),
		);
	});

	test("and summed, or of either sign", () => {
		expect([...summed(Float64Array.of(3, 0, 4))]).toEqual([3, 3, 7]);
		expect([...signed(Float64Array.of(0, 1, 2, 3, 4))]).toEqual([0, -1, 1, -2, 2]);
	});
});
