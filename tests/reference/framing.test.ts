/** How targets lie in their frames against ERFA and composed rotations; when the Moon lights the ground against PyEphem. */
import { expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import cases from "./framing-cases.json" with { type: "json" };

const plan = (latitude: number, longitude: number, date: string, targets: string): string => `site:
  name: Shelf
  latitude: ${latitude}
  longitude: ${longitude}
  elevation: 0 m
  timezone: UTC
---
night: { date: ${date} }
---
lens: { focal-length: 24 mm, f-number: 2, sensor: 36 x 24 mm, pixels: 6000 x 4000 }
---
tracker: { head: geared }
---
targets:
${targets}
`;

const apart = (a: number, b: number, turn: number): number => {
	const beside = (((a - b) % turn) + turn) % turn;
	return Math.min(beside, turn - beside);
};

test("the Milky Way's slant, north and the roll, at the first frame and an hour later, on both hemispheres", () => {
	const worst = { milkyWay: 0, north: 0, roll: 0 };
	for (const { latitude, longitude, at, rightAscension, declination, start, end } of cases.frames) {
		// Behind noon by the clock of the zone a date is its own evening's: the plan's zone is UTC.
		const hour = Number(at.slice(11, 13));
		const day = new Date(Date.parse(at) - (hour < 12 ? 86_400_000 : 0)).toISOString().slice(0, 10);
		const text = plan(
			latitude,
			longitude,
			day,
			`  - name: band
    aim: { right-ascension: ${rightAscension}°, declination: ${declination}° }
    at: "${at.slice(11, 16)}"
    exposure: 300 s
    frames: 12`,
		);
		const target = evaluate(readPlan(text)).targets?.value?.[0];
		expect(target?.series.from, at).toBe(Date.parse(at));
		const [first, last] = [target?.framing?.start(), target?.framing?.end()];
		expect(first?.roll).toBeCloseTo(0, 9);
		for (const [ours, known] of [
			[first, start],
			[last, end],
		] as const) {
			worst.milkyWay = Math.max(worst.milkyWay, apart(ours?.milkyWay ?? Number.NaN, known.milkyWay, 180));
			worst.north = Math.max(worst.north, apart(ours?.north ?? Number.NaN, known.north, 360));
		}
		worst.roll = Math.max(worst.roll, apart(last?.roll ?? Number.NaN, end.roll, 360));
	}
	console.log("framing, worst:", worst);
	for (const one of Object.values(worst)) expect(one).toBeLessThan(0.02);
});

test("moonlight from a side begins and ends when PyEphem's Moon does", () => {
	let [worst, compared] = [0, 0];
	for (const { latitude, longitude, date, facing, side, lit } of cases.moonlight) {
		const text = plan(
			latitude,
			longitude,
			date,
			`  - name: ground
    aim: { azimuth: ${facing}, altitude: 20 }
    exposure: 10 s
    foreground: { light: moon${side ? `, lit-from: ${side}` : ""} }`,
		);
		// The night of a date is the evening's by the Sun, whatever the clock of its zone.
		const found = evaluate(readPlan(text)).targets?.value?.[0]?.moonlight?.() ?? [];
		expect(found.length, `${date} ${facing} ${side}`).toBe(lit.length);
		for (const [i, one] of found.entries())
			for (const [ours, known] of [
				[one.from, lit[i]?.[0]],
				[one.until, lit[i]?.[1]],
			] as const) {
				worst = Math.max(worst, Math.abs(ours / 1000 - (known ?? 0)));
				compared++;
			}
	}
	console.log(`moonlight: worst ${worst.toFixed(0)} s of ${compared}`);
	expect(compared).toBeGreaterThan(9);
	expect(worst).toBeLessThan(60);
});
