import { describe, expect, test } from "vitest";
import { aimPoint } from "../../shared/alignment/pointer.ts";
import type { EvaluatedMethod } from "../../shared/cells/method/method.ts";
import type { PoleSetUp } from "../../shared/methods/pole-sighting/pole-sighting.ts";
import { guideStars } from "../../shared/methods/square-laser/search.ts";
import { evaluateText, planWith } from "../plan-text.ts";
import {
	axisError,
	byCompass,
	byLaser,
	byMark,
	byPhone,
	byScope,
	bySweep,
	type Draw,
	dir,
	driftOf,
	later,
	normals,
	type V,
} from "./simulation.ts";

/** Fewer in mutation tests, which run these thousands of times. */
const DRAWS = Number(process.env.LODEBOOK_DRAWS) || 20_000;
const LATITUDES = [-65, -40, -15, 15, 40, 65];

/** Small spreads, so that the covariance's first order is the whole of it. */
const SPREADS =
	"uncertainty: { tilt-scale: ± 0.2°, level: ± 0.15°, roll: ± 0.1°, pan-scale: ± 0.2°, compass: ± 0.4°, magnetic-model: ± 0.1°, clock: ± 8 s, aim: ± 0.1°, squareness: ± 0.1°, landmark: ± 30 m, body: ± 0.05° }";

const siteAt = (latitude: number) =>
	`name: A\nlatitude: ${latitude}\nlongitude: 20\nelevation: 100 m\nlandmarks: [{ name: post, latitude: ${latitude + 0.05}, longitude: 20.09, elevation: 300 m }]`;

function evaluated(latitude: number, method: string): EvaluatedMethod {
	const text = planWith({
		site: siteAt(latitude),
		night: 'date: 2027-03-08\narrive: "16:00"\nleave: "06:00"',
		method: `${method}\n${SPREADS}`,
		tracker: "head: geared",
	});
	const value = evaluateText(text).methods[0]?.value;
	if (!value) throw new Error(text);
	return value;
}

/** Draws every source of the budget as the simulation takes it, and compares covariances. */
function compare(
	latitude: number,
	{ budget }: EvaluatedMethod,
	simulate: (draw: Draw) => V,
	methods: Readonly<Record<string, readonly (keyof Draw)[]>>,
): void {
	const next = normals(20270308 + latitude);
	let [n, a, c, aa, ac, cc] = [0, 0, 0, 0, 0, 0];
	for (let i = 0; i < DRAWS; i++) {
		const draw: Draw = {};
		for (const share of budget.shares) {
			const ins = methods[share.name];
			if (!ins) throw new Error(`the simulation has no ${share.name}`);
			for (const method of ins) draw[method] = (draw[method] ?? 0) + next() * share.spread;
		}
		const [along, across] = axisError(latitude, simulate(draw));
		n++;
		a += along;
		c += across;
		aa += along * along;
		ac += along * across;
		cc += across * across;
	}
	const covariance = { aa: aa / n - (a / n) ** 2, ac: ac / n - (a / n) * (c / n), cc: cc / n - (c / n) ** 2 };
	const { alongAlong, alongAcross, acrossAcross } = budget.covariance;
	// A variance of n draws has a relative spread of sqrt(2 / n) = 1 %; four of them, and a little for curvature.
	const tolerance = Math.max(0.05, 5 * Math.sqrt(2 / DRAWS));
	expect(covariance.aa / alongAlong).toBeCloseTo(1, -Math.log10(2 * tolerance));
	expect(covariance.cc / acrossAcross).toBeCloseTo(1, -Math.log10(2 * tolerance));
	expect(Math.abs(covariance.ac - alongAcross) / Math.sqrt(alongAlong * acrossAcross)).toBeLessThan(tolerance);
}

const direction = ({ setUp }: EvaluatedMethod, i = 0): V => {
	const mark = setUp.marks[i];
	if (!mark) throw new Error("no mark");
	return dir(mark.direction.azimuth, mark.direction.altitude);
};

describe.each(LATITUDES)(`${DRAWS} draws at latitude %d agree with the covariance`, (latitude) => {
	test("compass", () => {
		compare(latitude, evaluated(latitude, "kind: compass"), (draw) => byCompass(latitude, draw), {
			"tilt-scale": ["tilt"],
			level: ["level"],
			compass: ["bearing"],
			"magnetic-model": ["bearing"],
		});
	});

	test("sky-bearing", () => {
		// A bright star low in the east or west of either hemisphere.
		const body = latitude > 0 ? "Procyon" : "Canopus";
		const method = evaluated(latitude, `kind: sky-bearing\nbody: ${body}\nat: "21:30"`);
		const mark = direction(method);
		compare(latitude, method, (draw) => byMark(latitude, mark, 1, draw, true), {
			"tilt-scale": ["tilt"],
			level: ["level", "lean"],
			"pan-scale": ["pan"],
			aim: ["aimRight"],
			clock: ["clock"],
			body: ["bodyRight"],
		});
	});

	test("sky-bearing by the Sun's shadow", () => {
		const method = evaluated(latitude, "kind: sky-bearing\nbody: Sun");
		const mark = direction(method);
		expect(method.setUp.obstacles).toEqual([]);
		compare(latitude, method, (draw) => byMark(latitude, mark, 1, draw, true), {
			"tilt-scale": ["tilt"],
			level: ["level", "lean"],
			"pan-scale": ["pan"],
			aim: ["shadow"],
			clock: ["clock"],
			body: ["bodyRight"],
		});
	});

	test("landmark-bearing", () => {
		const method = evaluated(latitude, "kind: landmark-bearing\nlandmark: post");
		const mark = direction(method);
		const real = method.budget.shares.find(({ name }) => name === "landmark");
		const metres = ((real?.effects[0]?.across ?? 0) / Math.cos((latitude * Math.PI) / 180)) * (Math.PI / 180);
		expect(metres).toBeGreaterThan(0);
		compare(latitude, method, (draw) => byMark(latitude, mark, 1 / metres, draw, false), {
			"tilt-scale": ["tilt"],
			level: ["level", "lean"],
			"pan-scale": ["pan"],
			aim: ["aimRight"],
			landmark: ["metres"],
		});
	});

	test.each([90, 100])("square-laser at %d°", (offset) => {
		const aim = aimPoint(latitude, offset);
		// Past the zenith or within 10° of it a linear budget has no meaning; the plan says so (method/low-latitude).
		if (aim.side === "pole" || aim.altitude < 1 || aim.altitude > 80) return;
		const text = `kind: square-laser\nguide-star: eta Virginis\noffset: ${offset}°\nlocal-rules-checked: true`;
		compare(latitude, evaluated(latitude, text), (draw) => byLaser(latitude, offset, draw), {
			aim: ["aimUp", "aimRight"],
			level: ["level"],
			roll: ["roll"],
			squareness: ["square"],
			clock: ["clock"],
			body: ["bodyUp", "bodyRight"],
		});
	});

	test("star-sweep", () => {
		const method = evaluated(
			latitude,
			'kind: star-sweep\nstars: [Mintaka, zeta Virginis]\nreach: 2°\nat: "22:30"\nlocal-rules-checked: true',
		);
		const stars: [V, V] = [direction(method, 0), direction(method, 1)];
		compare(latitude, method, (draw) => bySweep(latitude, 90, stars, draw), {
			aim: ["aimUp", "aimSecond"],
			squareness: ["square"],
			body: ["bodyUp", "bodySecond"],
		});
	});

	test("phone", () => {
		compare(latitude, evaluated(latitude, "kind: phone"), (draw) => byPhone(latitude, draw), {
			"tilt-scale": ["tilt"],
			compass: ["bearing"],
			"magnetic-model": ["bearing"],
			aim: ["aimUp", "aimRight"],
		});
	});

	test("pole-sighting", () => {
		const method = evaluated(latitude, "kind: pole-sighting");
		const place = (method.setUp as PoleSetUp).poleStar;
		compare(latitude, method, (draw) => byScope(latitude, [place?.right ?? 0, place?.up ?? 0], draw), {
			aim: ["aimUp", "aimRight"],
			squareness: ["square", "squareAcross"],
			level: ["level"],
			clock: ["clock"],
			body: ["bodyUp", "bodyRight"],
		});
	});

	test("drift: the axis found from two measured drifts is off by what the measurements are", () => {
		const method = evaluated(
			latitude,
			'kind: drift\nfirst: { star: Mintaka, at: "21:30", frame: 240 s }\nsecond: { star: zeta Virginis, at: "01:20", frame: 300 s }',
		);
		const { budget, setUp: plan } = method;
		// Declination drift of the two stars for an axis off by a known amount, by exact rotation; then both are solved for.
		const frames = [240, 300];
		const stars = [direction(method, 0), direction(method, 1)];
		const np: V = dir(0, latitude);
		const declination = (v: V) => (Math.asin(v[0] * np[0] + v[1] * np[1] + v[2] * np[2]) * 180) / Math.PI;
		const driftFor = (axis: V) =>
			stars.map((star, i) => declination(driftOf(latitude, axis, star, frames[i] as number)) - declination(star));
		const h = 1e-4;
		const tilted = (along: number, across: number): V => {
			const base = dir(latitude >= 0 ? 0 : 180, Math.abs(latitude) + along);
			const turn = across / Math.cos((latitude * Math.PI) / 180);
			return [
				base[0] * Math.cos((turn * Math.PI) / 180) + base[1] * Math.sin((turn * Math.PI) / 180),
				base[1] * Math.cos((turn * Math.PI) / 180) - base[0] * Math.sin((turn * Math.PI) / 180),
				base[2],
			];
		};
		const [d1, d2] = [driftFor(tilted(h, 0)).map((d) => d / h), driftFor(tilted(0, h)).map((d) => d / h)] as [
			number[],
			number[],
		];
		const det = (d1[0] as number) * (d2[1] as number) - (d1[1] as number) * (d2[0] as number);
		const spread = budget.shares[0]?.spread ?? 0;
		// Error of the solution for measurement errors of `spread` in either star.
		const inverse = [
			[(d2[1] as number) / det, -(d2[0] as number) / det],
			[-(d1[1] as number) / det, (d1[0] as number) / det],
		] as const;
		expect(Math.abs(budget.along / (spread * Math.hypot(...inverse[0])) - 1)).toBeLessThan(0.01);
		expect(Math.abs(budget.across / (spread * Math.hypot(...inverse[1])) - 1)).toBeLessThan(0.01);
		expect(plan.obstacles).toEqual([]);
	});
});

describe("guide stars", () => {
	test("every star of the search passes within its reach in the dark, by the simulation's own turning of the sky", () => {
		for (const latitude of [-62, -32, 20, 44]) {
			const { tonight } = evaluateText(planWith({ site: siteAt(latitude), night: "date: 2027-03-08" }));
			if (!tonight) throw new Error("no night");
			const aim = aimPoint(latitude, 90);
			const stars = guideStars(aim, tonight, { reach: 1 });
			// At 62° south alpha Sextantis (V 4.48) is lost in two air masses: two are left.
			expect(stars.length).toBeGreaterThanOrEqual(latitude === -62 ? 2 : 3);
			for (const { direction: seen, miss, at: best, from, until } of stars) {
				const target = dir(aim.azimuth, aim.altitude);
				const separation = (v: V) =>
					(Math.acos(Math.min(1, v[0] * target[0] + v[1] * target[1] + v[2] * target[2])) * 180) / Math.PI;
				const start = dir(seen.azimuth, seen.altitude);
				expect(separation(start)).toBeCloseTo(miss, 4);
				expect(miss).toBeLessThanOrEqual(1);
				expect(separation(later(latitude, start, (from - best) / 1000))).toBeLessThan(1.01);
				expect(separation(later(latitude, start, (until - best) / 1000))).toBeLessThan(1.01);
				expect(tonight.night.sunDark.some((dark) => dark.from <= best && best <= dark.until)).toBe(true);
			}
		}
	});
});
