import { describe, expect, test } from "vitest";
import { rayOf } from "../../shared/optics/camera.ts";
import { directionsAlong } from "../../shared/photo/along.ts";
import { levelAxes, solveAttitude } from "../../shared/photo/attitude.ts";
import { fewerPoints } from "../../shared/photo/fewer-points.ts";
import { skylineOfLines } from "../../shared/photo/skyline-of.ts";
import { toDirection } from "../../shared/sky/horizontal.ts";
import { outlineOf } from "../../shared/sky/outline.ts";
import { skylineOf } from "../../shared/sky/skyline.ts";
import { halfTurn } from "../../shared/sky/vector.ts";

describe("a skyline of traced lines", () => {
	test("a line alone is itself; where nothing was traced the one before stays", () => {
		const line = [
			[100, 4],
			[110, 9],
			[120, 3],
		] as const;
		expect(skylineOfLines([line], undefined)).toEqual(line);
		expect(skylineOfLines([[...line].reverse()], undefined)).toEqual(line);
		const before = [
			[0, 1],
			[105, 30],
			[180, 20],
		] as const;
		const is = skylineOf(skylineOfLines([line], before));
		const was = skylineOf(before);
		for (const bearing of [0, 50, 99.9, 120.1, 150, 180, 300])
			expect(is.skylineAt(bearing)).toBeCloseTo(was.skylineAt(bearing), 1);
		for (const [bearing, altitude] of line) expect(is.skylineAt(bearing)).toBeCloseTo(altitude, 1);
		expect(is.skylineAt(105)).toBeCloseTo(6.5, 1);
	});

	test("an overhang is a step at its tip, a wall one at its edge, and of two lines the higher hides", () => {
		const overhang = skylineOf(
			skylineOfLines(
				[
					[
						[100, 5],
						[110, 20],
						[105, 10],
						[115, 8],
					],
				],
				undefined,
			),
		);
		expect(overhang.skylineAt(107)).toBeCloseTo(15.5, 1);
		expect(overhang.skylineAt(109.9)).toBeCloseTo(19.85, 1);
		expect(overhang.skylineAt(110.1)).toBeCloseTo(9, 1);
		const wall = skylineOf(
			skylineOfLines(
				[
					[
						[350, 2],
						[0, 2],
						[0, 30],
						[10, 30],
					],
					[
						[5, 31],
						[15, 31],
					],
				],
				undefined,
			),
		);
		expect([359.9, 0.1, 4, 6, 12].map((bearing) => Math.round(wall.skylineAt(bearing)))).toEqual([2, 30, 30, 31, 31]);
	});

	test("a hand's trembling goes, corners stay", () => {
		const drawn = Array.from({ length: 400 }, (_, i): readonly [number, number] => [
			i / 10,
			Math.abs(i / 10 - 20) + 0.005 * Math.sin(i),
		]);
		const fewer = fewerPoints(drawn, 0.02);
		expect(fewer.length).toBeLessThan(8);
		expect(fewer[0]).toEqual(drawn[0]);
		expect(fewer.at(-1)).toEqual(drawn.at(-1));
		expect(Math.min(...fewer.map(([x]) => Math.abs(x - 20)))).toBeLessThan(0.2);
	});
});

describe("straight lines of a photo", () => {
	const photo = { width: 6000, height: 4000, projection: "rectilinear" as const, scale: 3000 };
	const axes = levelAxes(350, 35, 4);
	/** By the camera's own rays, turned by hand. */
	const sky = (x: number, y: number) => {
		const ray = rayOf({ projection: "rectilinear", focalLength: 3000 }, x - 3000, 2000 - y);
		const [right, down, forward] = axes;
		const parts = [ray[0], -ray[1], ray[2]] as const;
		const [east, north, up] = [0, 1, 2].map(
			(i) => parts[0] * (right[i] as number) + parts[1] * (down[i] as number) + parts[2] * (forward[i] as number),
		) as [number, number, number];
		return toDirection([east, north, up]);
	};
	const marks = [
		[500, 3500],
		[5500, 3300],
		[3000, 300],
	].map(([x = 0, y = 0]) => {
		const { azimuth, altitude } = sky(x, y);
		return { x, y, bearing: azimuth, altitude };
	});
	const attitude = solveAttitude(photo, marks);
	if ("code" in attitude) throw new Error(attitude.code);

	test("are bent on the sky: their directions keep within the tolerance of them, over north too", () => {
		const places = [
			[200, 200],
			[5800, 200],
			[5800, 3800],
			[200, 3800],
		] as const;
		const along = directionsAlong(attitude, places, 0.03, true);
		if ("code" in along) throw new Error(along.code);
		expect(along.length).toBeGreaterThan(20);
		expect(along.length).toBeLessThan(200);
		const { corners } = outlineOf(along.map(({ bearing, altitude }) => [bearing, altitude]));
		for (let i = 0; i < 400; i++) {
			const side = Math.floor(i / 100);
			const [from, to] = [places[side] as readonly number[], places[(side + 1) % 4] as readonly number[]];
			const part = (i % 100) / 100;
			const { azimuth, altitude } = sky(
				(from[0] as number) + part * ((to[0] as number) - (from[0] as number)),
				(from[1] as number) + part * ((to[1] as number) - (from[1] as number)),
			);
			const off = Math.min(
				...corners.map((a, k) => {
					const b = corners[(k + 1) % corners.length] ?? a;
					const wide = Math.cos((altitude * Math.PI) / 180);
					const [dx, dy] = [halfTurn(b[0] - a[0]) * wide, b[1] - a[1]];
					const [ex, ey] = [halfTurn(azimuth - a[0]) * wide, altitude - a[1]];
					const t = Math.max(0, Math.min(1, (ex * dx + ey * dy) / (dx * dx + dy * dy || 1)));
					return Math.hypot(ex - t * dx, ey - t * dy);
				}),
			);
			expect(off).toBeLessThan(0.05);
		}
	});

	test("a place at which the lens shows nothing is named by its number", () => {
		const none = { at: (x: number) => (x > 10 ? undefined : { bearing: x, altitude: 0, plusMinus: 0.1 }) };
		expect(
			directionsAlong(
				none,
				[
					[1, 1],
					[20, 1],
				],
				0.03,
				false,
			),
		).toEqual({ code: "no-sky", index: 1 });
	});
});
