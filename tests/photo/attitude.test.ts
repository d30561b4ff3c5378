import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type Attitude, levelAxes, type Photo, type PhotoMark, solveAttitude } from "../../shared/photo/attitude.ts";
import { separation, type Vector } from "../../shared/sky/vector.ts";

const RAD = Math.PI / 180;
const sky = (bearing: number, altitude: number): Vector => [
	Math.cos(altitude * RAD) * Math.sin(bearing * RAD),
	Math.cos(altitude * RAD) * Math.cos(bearing * RAD),
	Math.sin(altitude * RAD),
];

function solved(photo: Photo, marks: readonly PhotoMark[]): Attitude {
	const attitude = solveAttitude(photo, marks);
	if ("code" in attitude) throw new Error(JSON.stringify(attitude));
	return attitude;
}

interface Recorded {
	readonly width: number;
	readonly height: number;
	readonly cases: readonly {
		readonly projection: Photo["projection"];
		readonly scale: number | null;
		readonly marks: readonly (readonly [number, number, number, number])[];
		readonly solvedScale: number;
		readonly probes: readonly (readonly [number, number, number, number])[];
	}[];
}

describe("attitudes by SciPy (tests/reference/make-photo-cases.py)", () => {
	const { width, height, cases } = JSON.parse(
		readFileSync(new URL("../reference/photo-cases.json", import.meta.url), "utf8"),
	) as Recorded;

	test("every direction within 0.001°, scales within a hundred-thousandth", () => {
		expect(cases.length).toBeGreaterThan(30);
		for (const { projection, scale, marks, solvedScale, probes } of cases) {
			const attitude = solved(
				{ width, height, projection, scale: scale ?? undefined },
				marks.map(([x, y, bearing, altitude]) => ({ x, y, bearing, altitude })),
			);
			expect(Math.abs(attitude.scale / solvedScale - 1), projection).toBeLessThan(1e-5);
			for (const [x, y, bearing, altitude] of probes) {
				const found = attitude.at(x, y);
				// Beyond what the lens can show there is nothing on either side.
				if (!found || Number.isNaN(bearing)) continue;
				expect(separation(sky(found.bearing, found.altitude), sky(bearing, altitude)), projection).toBeLessThan(0.001);
			}
		}
	});
});

describe("made cases", () => {
	/** What an exact camera would show: by the solved attitude's own place of a direction, checked against its `at`. */
	const camera = (photo: Photo, bearing: number, altitude: number, roll: number) => {
		const axes = levelAxes(bearing, altitude, roll);
		const scale = photo.scale ?? 0;
		return (b: number, a: number): PhotoMark => {
			const v = sky(b, a);
			const [x, y, z] = axes.map((row) => row[0] * v[0] + row[1] * v[1] + row[2] * v[2]) as [number, number, number];
			const theta = Math.acos(z);
			const radius =
				photo.projection === "rectilinear"
					? Math.tan(theta)
					: photo.projection === "equidistant"
						? theta
						: 2 * Math.sin(theta / 2);
			const across = Math.hypot(x, y) || 1;
			return {
				x: photo.width / 2 + (scale * radius * x) / across,
				y: photo.height / 2 + (scale * radius * y) / across,
				bearing: b,
				altitude: a,
			};
		};
	};

	test.each(["rectilinear", "equidistant", "equisolid"] as const)(
		"%s: two marks give the attitude, three the focal length too; the horizon counts",
		(projection) => {
			const photo: Photo = { width: 6000, height: 4000, projection, scale: 4000 };
			const shot = camera(photo, 200, 25, 7);
			const marks = [shot(185, 5), shot(214, 12), shot(200, 45)];
			const arch = shot(205, 33);
			for (const [given, chosen] of [
				[photo, marks.slice(0, 2)],
				[{ ...photo, scale: undefined }, marks],
				// One landmark and a point of the level horizon.
				[photo, [shot(185, 5), { ...shot(214, 12), bearing: undefined }]],
				// One landmark and a tower of which only the bearing is known.
				[photo, [shot(185, 5), { ...shot(214, 12), altitude: undefined }]],
			] as const) {
				const attitude = solved(given, chosen);
				expect(attitude.scale).toBeCloseTo(4000, 3);
				const seen = attitude.at(arch.x, arch.y);
				expect(seen?.bearing).toBeCloseTo(205, 5);
				expect(seen?.altitude).toBeCloseTo(33, 5);
				expect(seen?.plusMinus).toBeGreaterThan(0.01);
				expect(seen?.plusMinus).toBeLessThan(0.5);
				const place = attitude.place(205, 33);
				expect(place?.[0]).toBeCloseTo(arch.x, 3);
				expect(place?.[1]).toBeCloseTo(arch.y, 3);
				expect(attitude.disagree).toEqual([]);
				expect(Math.max(...attitude.residuals)).toBeLessThan(1e-6);
			}
		},
	);

	test("a mark that is wrong by 3° is named; of two that disagree both are", () => {
		const photo: Photo = { width: 6000, height: 4000, projection: "rectilinear", scale: 4000 };
		const shot = camera(photo, 200, 25, 7);
		const marks = [shot(185, 5), shot(214, 12), shot(200, 45), { ...shot(190, 20), bearing: 193 }];
		expect(solved(photo, marks).disagree).toEqual([3]);
		expect(solved({ ...photo, scale: undefined }, [...marks, shot(215, 30)]).disagree).toEqual([3]);
		expect(solved(photo, [shot(185, 5), { ...shot(214, 12), bearing: 217 }]).disagree).toEqual([0, 1]);
	});

	test("the ± is what the marks' errors make of it: 400 random sets of clicks", () => {
		const photo: Photo = { width: 6000, height: 4000, projection: "rectilinear", scale: 4000 };
		const shot = camera(photo, 200, 25, 7);
		const marks = [shot(185, 5), shot(214, 12), shot(200, 45), shot(190, 30)];
		const arch = shot(212, 35);
		let seed = 5;
		const random = (): number => {
			seed = (seed * 48_271) % 2_147_483_647;
			return seed / 2_147_483_647;
		};
		const normal = (): number => Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
		const pixels = 15;
		let [sum, told] = [0, 0];
		for (let i = 0; i < 400; i++) {
			const attitude = solved(
				photo,
				marks.map((mark) => ({ ...mark, x: mark.x + pixels * normal(), y: mark.y + pixels * normal() })),
			);
			const seen = attitude.at(arch.x, arch.y);
			if (!seen) throw new Error("not seen");
			sum += separation(sky(seen.bearing, seen.altitude), sky(212, 35)) ** 2;
			told += seen.plusMinus ** 2;
		}
		// The spread is estimated from five spare numbers each time: its mean square is right.
		expect(Math.sqrt(told / sum)).toBeGreaterThan(0.9);
		expect(Math.sqrt(told / sum)).toBeLessThan(1.15);
	});

	test("what cannot be solved is told as data", () => {
		const photo: Photo = { width: 6000, height: 4000, projection: "rectilinear", scale: 4000 };
		const mark = { x: 1000, y: 1000, bearing: 10, altitude: 5 };
		expect(solveAttitude(photo, [mark])).toEqual({ code: "few", needed: 2, found: 1 });
		expect(solveAttitude({ ...photo, scale: undefined }, [mark, { ...mark, x: 2000, bearing: 20 }])).toMatchObject({
			code: "few",
			needed: 3,
		});
		expect(solveAttitude(photo, [mark, mark])).toMatchObject({ code: expect.stringMatching(/together|undetermined/) });
		expect(solveAttitude(photo, [mark, { ...mark, x: 7000 }])).toEqual({ code: "outside", index: 1 });
	});
});
