/** Panoramas: coverage against a sampler of its own, panels' places and rolls against composed rotations and spherical trigonometry. */
import { describe, expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { coverageOf, heldAs, rowsAround, rowsOver } from "../../shared/optics/panorama-rows.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import cases from "./panorama-cases.json" with { type: "json" };

const RAD = Math.PI / 180;
const CAMERA = { focalLength: 24, fNumber: 2, sensor: [36, 24], pixelPitch: 6, projection: "rectilinear" } as const;

/** Whether a rectilinear frame that is held level shows a direction, by the gnomonic projection's textbook formula. */
function shows(azimuth: number, altitude: number, a: number, h: number, width: number, height: number): boolean {
	const [d, p, p0] = [(a - azimuth) * RAD, h * RAD, altitude * RAD];
	const c = Math.sin(p0) * Math.sin(p) + Math.cos(p0) * Math.cos(p) * Math.cos(d);
	if (c <= 0) return false;
	const x = (24 * Math.cos(p) * Math.sin(d)) / c;
	const y = (24 * (Math.cos(p0) * Math.sin(p) - Math.sin(p0) * Math.cos(p) * Math.cos(d))) / c;
	return Math.abs(x) <= width / 2 && Math.abs(y) <= height / 2;
}

/** Ranges, corners included: over north, about the horizon, high up, below the horizon alone, a narrow one. */
const RANGES = [false, true].flatMap((portrait) =>
	(
		[
			[300, 430, -5, 60],
			[300, 420, 10, 55],
			[95, 215, 2, 42],
			[0, 90, 30, 80],
			[180, 260, -40, -10],
			[350, 380, 5, 75],
		] as const
	).map((range) => [portrait, ...range] as const),
);

describe("coverage", () => {
	test("has a gap where a finer sampler of another projection has one, and none where it has none", () => {
		const held = heldAs(CAMERA, false);
		let compared = 0;
		for (const altitude of [-20, 0, 15, 30, 45, 60])
			for (const overlap of [0, 0.1, 0.2, 0.3, 0.4, 0.5])
				for (const rows of [1, 2]) {
					const laid = rowsAround({ azimuth: 350, altitude }, 4, rows, overlap, held);
					const edge = (53.13 / 2) * (1 - overlap);
					let missing = 0;
					for (const [j, { altitude: middle, bearings }] of laid.entries()) {
						const [below, above] = [laid[j - 1], laid[j + 1]];
						const from = below ? (below.altitude + middle) / 2 : middle - edge;
						const until = Math.min(89, above ? (middle + above.altitude) / 2 : middle + edge);
						const [left, right] = [bearings[0] as number, bearings.at(-1) as number];
						for (let h = from; h <= until; h += 0.5)
							for (let a = left; a <= right; a += 0.5)
								if (!laid.some((row) => row.bearings.some((b) => shows(b, row.altitude, a, h, 36, 24)))) missing++;
					}
					const { gaps, looked, shown } = coverageOf(laid, overlap, held);
					const widest = Math.max(0, ...gaps.map(({ width }) => width));
					compared++;
					// A sliver narrower than the sampler's steps may be seen by one and not by the other.
					if (missing > 40) expect(widest, `${altitude}° ${overlap} ${rows}`).toBeGreaterThan(0);
					if (missing === 0) expect(widest, `${altitude}° ${overlap} ${rows}`).toBeLessThan(2);
					expect(shown).toBeLessThanOrEqual(looked);
				}
		expect(compared).toBe(72);
	});

	test("a range is shown from edge to edge by the panels it needs", () => {
		for (const [portrait, left, right, low, high] of RANGES) {
			const held = heldAs(CAMERA, portrait);
			const range = { left, right, low, high };
			const rows = rowsOver(range, undefined, undefined, 0.3, held);
			// The very corner of a range is the corner of a frame.
			const within = (from: number, until: number, i: number) => from + 0.1 + ((until - from - 0.2) * i) / 40;
			const steps = Array.from({ length: 41 }, (_, i) => i);
			for (const a of steps.map((i) => within(left, right, i)))
				for (const h of steps.map((i) => within(low, high, i)))
					expect(
						rows.some((row) => row.bearings.some((b) => shows(b, row.altitude, a, h, held.width, held.height))),
						`${a}° ${h}°`,
					).toBe(true);
		}
	});

	test("rows that end short of a range, or leave a strip between them, as an own sampler along the middle finds it", () => {
		const held = heldAs(CAMERA, false);
		let gaps = 0;
		for (const [low, high] of [
			[0, 40],
			[-20, 60],
			[5, 58],
			[-50, 85],
			[30, 89],
		] as const)
			for (const rows of [1, 2, 3])
				for (const columns of [1, 2]) {
					const range = { left: 80, right: 120, low, high };
					const laid = rowsOver(range, columns, rows, 0.3, held);
					const bearing = laid[0]?.bearings[0] as number;
					const missing = Array.from({ length: Math.round((high - low) * 20) + 1 }, (_, i) => low + i / 20).filter(
						(h) => !laid.some(({ altitude }) => shows(bearing, altitude, bearing, h, 36, 24)),
					);
					const { rowGaps } = coverageOf(laid, 0.3, held, range);
					// Between rows of several columns it is the gaps between columns that tell.
					const told = columns === 1 ? missing : missing.filter((h) => rowGaps.some((g) => h > g.from && h < g.until));
					const wide = rowGaps.reduce((sum, { from, until }) => sum + until - from, 0);
					expect(Math.abs(wide - told.length / 20), `${low}…${high} ${rows} × ${columns}`).toBeLessThan(0.21);
					for (const { from, until } of rowGaps) expect(missing.some((h) => h >= from && h <= until)).toBe(true);
					gaps += rowGaps.length;
				}
		expect(gaps).toBeGreaterThan(10);
	});

	test("rows that are typed reach a range's corners where they are enough, and the corners that they leave are told", () => {
		let [whole, short] = [0, 0];
		const highs = Array.from({ length: 17 }, (_, i) => [false, 100, 220, 5, 50 + i / 2] as const);
		const lows = Array.from({ length: 17 }, (_, i) => [false, 340, 430, -62 + i / 2, -4] as const);
		for (const [portrait, left, right, low, high] of [...RANGES, ...highs, ...lows])
			for (const count of [1, 2, 3, 4]) {
				const held = heldAs(CAMERA, portrait);
				const range = { left, right, low, high };
				const laid = rowsOver(range, undefined, count, 0.3, held);
				const enough = rowsOver(range, undefined, undefined, 0.3, held).length;
				const { rowGaps, shortSides } = coverageOf(laid, 0.3, held, range);
				const isShown = (a: number, h: number): boolean =>
					laid.some((row) => row.bearings.some((b) => shows(b, row.altitude, a, h, held.width, held.height)));
				for (const [edge, altitude, gapAt, inwards] of [
					["lower", low, 0, 1],
					["upper", high, laid.length, -1],
				] as const) {
					const told = shortSides.find((one) => one.edge === edge);
					const what = `${[left, right, low, high]} ${count} ${edge}`;
					if (rowGaps.some(({ above }) => above === gapAt)) continue;
					const bearings = Array.from({ length: 201 }, (_, i) => left + 0.1 + ((right - left - 0.2) * i) / 200);
					const missing = bearings.filter((a) => !isShown(a, altitude + 0.3 * inwards));
					expect(missing.length > 0 ? told : "nothing missing", what).toBeDefined();
					if (count >= enough) expect(told, what).toBeUndefined();
					whole += Number(count >= enough);
					if (!told) continue;
					short++;
					expect(isShown(told.bearing, told.ends + 0.2 * inwards), what).toBe(true);
					expect(isShown(told.bearing, told.ends - 0.2 * inwards), what).toBe(false);
				}
			}
		console.log(`corners: ${whole} edges whole, ${short} short`);
		expect(Math.min(whole, short)).toBeGreaterThan(8);
	});

	test("steps widen by 1 / cos altitude (REFERENCES §13)", () => {
		const [low, high] = rowsAround({ azimuth: 0, altitude: 40 }, 3, 2, 0.3, heldAs(CAMERA, false));
		for (const row of [low, high]) {
			const step = ((row?.bearings[1] ?? 0) as number) - ((row?.bearings[0] ?? 0) as number);
			expect(step).toBeCloseTo((0.7 * 73.7398) / Math.cos((row?.altitude ?? 0) * RAD), 3);
		}
	});
});

const plan = (latitude: number, azimuth: number, altitude: number, tracked: boolean): string => `site:
  name: Shelf
  latitude: ${latitude}
  longitude: 0.0
  elevation: 0 m
  timezone: UTC
---
night: { date: 2027-03-10 }
---
lens: { focal-length: 24 mm, f-number: 2, sensor: 36 x 24 mm, pixels: 6000 x 4000 }
---
tracker: { head: geared }
---
targets:
  - name: band
    aim: { azimuth: ${azimuth}, altitude: ${altitude} }
    panorama: { columns: 3, rows: 2 }
    at: "22:00"
    exposure: 300 s
    frames: 2
    tracked: ${tracked}
`;

const panelsOf = (latitude: number, azimuth: number, altitude: number, tracked = true) =>
	evaluate(readPlan(plan(latitude, azimuth, altitude, tracked))).targets?.value?.[0]?.panorama;

/** Parallactic angle of a direction: from the celestial pole's side to the zenith's, by the textbook's four-part formula. */
function parallactic(latitude: number, azimuth: number, altitude: number): number {
	const [p, a, h] = [latitude * RAD, azimuth * RAD, altitude * RAD];
	const x = Math.sin(p) * Math.cos(h) - Math.cos(p) * Math.sin(h) * Math.cos(a);
	return Math.atan2(-Math.cos(p) * Math.sin(a), x);
}

describe("panels", () => {
	test("keep their places among the stars as ERFA has them, and roll by the change of the parallactic angle", () => {
		let [worst, roll] = [0, 0];
		for (const { latitude, azimuth, altitude, panels } of cases) {
			const panorama = panelsOf(latitude, azimuth, altitude);
			expect(panorama?.panels).toHaveLength(6);
			for (const [i, panel] of (panorama?.panels ?? []).entries()) {
				const known = panels[i] as (typeof panels)[number];
				const cos = Math.cos(known.altitude * RAD);
				const beside = ((((panel.direction.azimuth - known.azimuth) % 360) + 540) % 360) - 180;
				worst = Math.max(worst, Math.hypot(beside * cos, panel.direction.altitude - known.altitude));
				const laid = panorama?.rows[panel.row - 1];
				const before = parallactic(latitude, laid?.bearings[panel.column - 1] ?? 0, laid?.altitude ?? 0);
				const now = parallactic(latitude, panel.direction.azimuth, panel.direction.altitude);
				const turned = (((((now - before) / RAD) % 360) + 540) % 360) - 180;
				roll = Math.max(
					roll,
					Math.abs(Math.abs(turned) - Math.abs(panel.roll)),
					Math.sign(turned) === Math.sign(panel.roll) || Math.abs(turned) < 1e-6 ? 0 : 1,
				);
				expect(panel.roll).toBeCloseTo(known.roll, 4);
			}
		}
		console.log(`panels: worst place ${worst.toExponential(1)}°, roll ${roll.toExponential(1)}°`);
		expect(worst).toBeLessThan(1e-4);
		expect(roll).toBeLessThan(1e-4);
	});

	test("untracked stay where they are, level", () => {
		for (const panel of panelsOf(-38, 120, 10, false)?.panels ?? []) {
			expect(panel.roll).toBeCloseTo(0, 9);
			expect([-8.6, 28.6].some((one) => Math.abs(panel.direction.altitude - one) < 0.1)).toBe(true);
		}
	});

	test("setting-first begins with the column that the sky carries down fastest, on both hemispheres", () => {
		for (const latitude of [50, 5, -38])
			for (const azimuth of [0, 40, 90, 180, 200, 270, 330]) {
				const laid = evaluate(
					readPlan(
						plan(latitude, azimuth, 30, true).replace("rows: 2 }", "rows: 2, order: setting-first, overlap: 60 % }"),
					),
				).targets?.value?.[0]?.panorama;
				const columns = laid?.panels.map(({ column }) => column) ?? [];
				expect([[3, 3, 2, 2, 1, 1].join(), [1, 1, 2, 2, 3, 3].join()]).toContain(columns.join());
				// How fast a place of the sky sinks, by its declination and hour angle a little later.
				const sinks = (a: number, h: number): number => {
					const [p, A, H] = [latitude * RAD, a * RAD, h * RAD];
					const sinDec = Math.sin(p) * Math.sin(H) + Math.cos(p) * Math.cos(H) * Math.cos(A);
					const cosDec = Math.sqrt(1 - sinDec * sinDec);
					const angle = Math.atan2(
						-Math.sin(A) * Math.cos(H),
						Math.cos(p) * Math.sin(H) - Math.sin(p) * Math.cos(H) * Math.cos(A),
					);
					const later = Math.asin(Math.sin(p) * sinDec + Math.cos(p) * cosDec * Math.cos(angle + 0.001));
					return H - later;
				};
				const { altitude = 0, bearings = [] } = laid?.rows[0] ?? {};
				const fall = bearings.map((one) => sinks(one, altitude));
				expect(fall[(columns[0] ?? 1) - 1], `${latitude} ${azimuth}`).toBeGreaterThanOrEqual(
					Math.max(fall[0] as number, fall[2] as number) - 1e-6,
				);
			}
	});

	test("are taken one after the other, 20 s apart, in the order that is asked for", () => {
		const panels = panelsOf(50, 180, 30)?.panels ?? [];
		expect(panels.map(({ row, column }) => `${row}${column}`)).toEqual(["11", "12", "13", "21", "22", "23"]);
		for (const [i, panel] of panels.entries()) {
			expect(panel.until - panel.at).toBe(600_000);
			if (i > 0) expect(panel.at - (panels[i - 1]?.until ?? 0)).toBe(20_000);
		}
	});
});
