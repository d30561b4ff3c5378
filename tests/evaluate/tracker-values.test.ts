/** What follows from a tracker's cell. */
import { expect, test } from "vitest";
import { swingTime } from "../../shared/alignment/periodic-error.ts";
import { evaluateText } from "../plan-text.ts";

const plan = (tracker: string, date = "2027-06-05"): string =>
	`site: { name: A, latitude: 32 S, longitude: 54 W }
---
night: { date: ${date} }
---
lens: { focal-length: 50 mm, f-number: 2, sensor: full-frame, pixels: 6000 x 4000 }
---
tracker: ${tracker}
`;

const valuesOf = (text: string): Readonly<Record<string, string>> => {
	const evaluation = evaluateText(text);
	const cell = evaluation.plan.cells.find(({ read }) => read.kind === "tracker");
	return Object.fromEntries((cell ? evaluation.valuesOf(cell) : []).map(({ id, text }) => [id, text]));
};

test("a drive swings by a pixel no sooner than it says: the sine itself, at every phase", () => {
	for (const [amplitude, period, far] of [
		[40 / 3600, 600, 25 / 3600],
		[10 / 3600, 480, 19.9 / 3600],
		[300 / 3600, 240, 4 / 3600],
	] as const) {
		const time = swingTime({ amplitude, period }, far) ?? Number.NaN;
		const farthest = (t: number): number => {
			let most = 0;
			for (let phase = 0; phase < 2 * Math.PI; phase += 0.001)
				most = Math.max(most, Math.abs(amplitude * (Math.sin((2 * Math.PI * t) / period + phase) - Math.sin(phase))));
			return most;
		};
		expect(farthest(time) / far).toBeCloseTo(1, 4);
		expect(farthest(time * 0.99)).toBeLessThan(far);
	}
	expect(swingTime({ amplitude: 1, period: 600 }, 2.01)).toBe(undefined);
});

test("periodic error in pixels of the lens, and how far it turns until it must be wound back", () => {
	// 6 µm at 50 mm are 24.75″: 40″ are 1.6 px, and 600 s / π · asin(24.75 / 80) are 60 s.
	expect(valuesOf(plan("{ periodic-error: { amplitude: 40 arcsec, period: 10 min }, turn-limit: 2 h }"))).toEqual({
		"tracker.swing": "1.6 px",
		"tracker.swing-pixel": "60 s",
		// Two hours of 15.041°.
		"tracker.limit-turn": "30.1°",
	});
	const small = "{ periodic-error: { amplitude: 10 arcsec, period: 10 min }, turn-limit: 2 h, rate: half }";
	expect(valuesOf(plan(small))).toMatchObject({
		"tracker.swing-pixel": "never: the drive swings less",
		"tracker.limit-turn": "15.0°",
	});
});

test("the constants in force on the evening, and none where none is known or the head has no scales", () => {
	const zeros = "zeros: [{ since: 2027-06-01, tilt: 0.6°, pan: -0.9° }, { since: 2027-07-01, tilt: -0.2° }]";
	expect(valuesOf(plan(`{ ${zeros} }`))).toEqual({
		"tracker.tilt-zero": "0.60° too much",
		"tracker.pan-zero": "0.90° too far anticlockwise",
	});
	expect(valuesOf(plan(`{ ${zeros} }`, "2027-07-03"))["tracker.tilt-zero"]).toBe("0.20° too little");
	expect(valuesOf(plan(`{ ${zeros}, head: ball }`))).toEqual({});
	expect(valuesOf(plan("{ head: geared }"))).toEqual({});
});
