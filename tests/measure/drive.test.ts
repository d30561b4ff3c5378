/**
 * A drive measured on a series: attitudes by the frames' own tracker (`tests/frames/camera.ts`, which shares no code with
 * `shared/`), with as much chance as the stars of a frame leave.
 */
import { describe, expect, test } from "vitest";
import type { Attitude } from "../../shared/alignment/attitude.ts";
import { measuredDrive } from "../../shared/measure/drive.ts";
import type { Vector } from "../../shared/sky/vector.ts";
import { axisOf, chance, heldAt, type Scene } from "../frames/camera.ts";
import { norm, spin, type V } from "../frames/vectors.ts";

const START = Date.UTC(2027, 5, 6, 0, 0, 0);

function series(
	latitude: number,
	tracker: NonNullable<Scene["tracker"]>,
	{ count = 30, every = 45, exposure = 20, noise = 2 / 3600, seed = 1 } = {},
) {
	const random = chance(seed);
	const scene = {
		latitude,
		longitude: 0,
		pressure: 1000,
		temperature: 10,
		at: START,
		exposure,
		azimuth: 130,
		altitude: 40,
		roll: 12,
		focal: 24,
		sensorWidth: 36,
		width: 3000,
		height: 2000,
		tracker,
	};
	const off = (): number => noise * (random() + random() + random() + random() - 2) * Math.sqrt(3);
	const frames = Array.from({ length: count }, (_, i) => {
		const at = START + i * every * 1000;
		// The stars' places are those of the whole exposure's middle.
		const moments = Array.from({ length: 9 }, (__, k) => heldAt(scene, at + ((k - 4) / 9) * exposure * 1000));
		const mean = (j: 0 | 1 | 2): V =>
			norm(
				moments.reduce<V>((sum, held) => [sum[0] + held[j][0], sum[1] + held[j][1], sum[2] + held[j][2]], [0, 0, 0]),
			);
		const [w, by] = [mean(2), off()];
		const moved = (v: V): V => spin(w, off(), spin([0, 0, 1], by, v));
		const [right, up, forward] = [moved(mean(0)), moved(mean(1)), moved(w)] as [Vector, Vector, Vector];
		return { at, exposure, attitude: { right, up, forward } satisfies Attitude };
	});
	const end = axisOf(latitude, tracker.along, tracker.across);
	const axis: Vector = latitude >= 0 ? end : [-end[0], -end[1], -end[2]];
	return { frames, axis };
}

describe("the drive, by a series of frames", () => {
	test.each([46, -32.4])("at %d°: amplitude, period and rate", (latitude) => {
		for (const [amplitude, period, rate, seed] of [
			[40, 600, 1, 1],
			[15, 480, 1.002, 2],
			[60, 240, 0.998, 3],
		] as const) {
			const { frames, axis } = series(
				latitude,
				{ along: 0.3, across: -0.5, rate, periodic: { amplitude: amplitude / 3600, period, phase: 70 } },
				{ seed },
			);
			const drive = measuredDrive(frames, axis, 1);
			if (!drive?.periodic) throw new Error("no swing");
			expect(Math.abs(drive.periodic.amplitude * 3600 - amplitude)).toBeLessThan(
				Math.max(1, 4 * drive.periodic.amplitudeSpread * 3600),
			);
			expect(drive.periodic.amplitudeSpread * 3600).toBeLessThan(2);
			expect(Math.abs(drive.periodic.period / period - 1)).toBeLessThan(0.02);
			expect(Math.abs(drive.periodic.period - period)).toBeLessThan(5 * drive.periodic.periodSpread + 1);
			expect(Math.abs(drive.fast - (rate - 1))).toBeLessThan(4 * drive.fastSpread + 1e-4);
		}
	});

	test("a drive without a swing is not given one: 300 series", () => {
		let swings = 0;
		for (let seed = 1; seed <= 300; seed++) {
			const { frames, axis } = series(46, { along: 0.3, across: 0.2 }, { count: 12 + (seed % 20), seed });
			if (measuredDrive(frames, axis, 1)?.periodic) swings++;
		}
		expect(swings).toBeLessThanOrEqual(2);
	});

	test("a series shorter than the period has none; half a dozen frames tell the rate", () => {
		const swing = { amplitude: 40 / 3600, period: 3600, phase: 0 };
		const { frames, axis } = series(46, { along: 0, across: 0, periodic: swing }, { count: 10 });
		const drive = measuredDrive(frames, axis, 1);
		expect(drive?.periodic?.period ?? 0).toBeLessThan(500);
		const few = series(46, { along: 0, across: 0, rate: 1.01 }, { count: 6 });
		expect(measuredDrive(few.frames, few.axis, 1)?.fast).toBeCloseTo(0.01, 3);
		expect(measuredDrive(few.frames.slice(0, 3), few.axis, 1)).toBeUndefined();
	});

	test("a turn by hand ends a run, and the longest one is taken", () => {
		const { frames, axis } = series(46, { along: 0.3, across: 0, rate: 1.004 }, { count: 20 });
		const by = (v: Vector): Vector => spin([0, 0, 1], 30, v as V) as Vector;
		const turned = frames.map((one, i) =>
			i < 7
				? one
				: {
						...one,
						attitude: {
							right: by(one.attitude.right),
							up: by(one.attitude.up),
							forward: by(one.attitude.forward),
						},
					},
		);
		expect(measuredDrive(frames, axis, 1)?.frames).toBe(20);
		const drive = measuredDrive(turned.slice(0, 9), axis, 1);
		expect(drive?.frames).toBe(7);
		expect(drive?.fast).toBeCloseTo(0.004, 3);
	});
});
