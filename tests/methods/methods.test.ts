/**
 * The numbers of every method, in many places and nights, as they were when they were last looked over: one that changes
 * shows here. That they are right is shown elsewhere: tests/reference has the simulation and the published values.
 */
import { describe, expect, test } from "vitest";
import { axisFromDrifts, correctionOf, declinationDrift, partFromDrift } from "../../shared/alignment/drift.ts";
import { longestExposure, longestUntracked } from "../../shared/alignment/longest-exposure.ts";
import { passes } from "../../shared/alignment/passes.ts";
import { aimPoint, axisErrorOf, axisOfPointer } from "../../shared/alignment/pointer.ts";
import { fieldRotation, trailFor, trailsOf } from "../../shared/alignment/trail.ts";
import { axisErrorAllowed, chanceWithin, trailQuantile } from "../../shared/alignment/trail-chance.ts";
import type { EvaluatedMethod } from "../../shared/cells/method/method.ts";
import { bearingBodies } from "../../shared/methods/sky-bearing/search.ts";
import { guideStars } from "../../shared/methods/square-laser/search.ts";
import { toldBeside } from "../../shared/methods/square-laser/set-up.ts";
import { beamPlace } from "../../shared/methods/square-laser/square-laser.ts";
import { sweepPairs } from "../../shared/methods/star-sweep/search.ts";
import { apparentDirection, hourPlaceOf } from "../../shared/sky/place.ts";
import { findStar } from "../../shared/sky/stars.ts";
import { told } from "../../shared/text/sentence.ts";
import { evaluateText } from "../plan-text.ts";
import { held } from "../reference/held.ts";

/** Numbers to six figures, instants to a second: another processor's last digit is no change. */
function rounded(value: unknown): unknown {
	if (typeof value === "number" && value > 1e11 && Number.isFinite(value))
		return new Date(Math.round(value / 1000) * 1000).toISOString().replace(".000Z", "Z");
	if (typeof value === "number") return Number.isFinite(value) && value !== 0 ? Number(value.toPrecision(6)) : value;
	if (Array.isArray(value)) return value.map(rounded);
	if (typeof value === "object" && value !== null)
		return Object.fromEntries(
			Object.entries(value).flatMap(([key, one]) => (typeof one === "function" ? [] : [[key, rounded(one)]])),
		);
	return value;
}

/** A line for each part: numbers, instants and the codes of obstacles, without a word. */
const lines = (value: object): readonly string[] =>
	Object.entries(rounded(value) as object).map(([key, one]) => `${key}: ${JSON.stringify(one)}`);

/** The numbers of a method: its own, its windows, its budget. */
function numbersOf({ works, setUp, budget }: EvaluatedMethod): object {
	const { marks, obstacles, sources, windows, pictures: _, ...own } = setUp;
	return {
		works,
		...own,
		windows: windows.flatMap(({ from, until }) => [from, until]),
		marks: marks.flatMap(({ direction }) => [direction.azimuth, direction.altitude]),
		obstacles: obstacles.map(({ type, ...numbers }) => [type, ...Object.values(numbers).filter(isNumber)]),
		effects: sources.map(({ spread, effects }) => [spread, ...effects.flatMap(({ along, across }) => [along, across])]),
		radius95: budget.radius95,
	};
}

const isNumber = (value: unknown): value is number => typeof value === "number";

interface Place {
	readonly latitude: string;
	readonly longitude?: string;
	readonly date?: string;
	readonly arrive?: string;
	readonly leave?: string;
	readonly site?: string;
	readonly tracker?: string;
}

const planAt = (
	method: string,
	{
		latitude,
		longitude = "20 E",
		date = "2027-06-05",
		arrive = "17:00",
		leave = "05:00",
		site = "",
		tracker = "head: geared",
	}: Place,
): string => `site:
  name: A
  latitude: ${latitude}
  longitude: ${longitude}
  elevation: 900 m
  timezone: UTC
${site}---
night:
  date: ${date}
  arrive: "${arrive}"
  leave: "${leave}"
---
lens: { focal-length: 24 mm, f-number: 2, sensor: 36 x 24 mm, pixels: 6000 x 4000 }
---
tracker:
  ${tracker}
---
method:
  ${method.replace(/\n/g, "\n  ")}
`;

const LANDMARKS = `  landmarks:
    - { name: mast, bearing: 130° }
    - { name: tower, latitude: 32.4391 S, longitude: 20.0102 E, elevation: 1492 m }
    - { name: near, latitude: 32.4124 S, longitude: 20.0001 E }
`;
const WALLS = "  skyline: [[0, 20], [90, 40], [180, 55], [270, 25]]\n";
const CAVE = "  openings:\n    - { name: mouth, outline: [[300, 5], [60, 5], [60, 60], [300, 60]] }\n";

const WAYS: Readonly<Record<string, readonly (readonly [string, Place])[]>> = {
	"square-laser": [
		[
			'kind: square-laser\nguide-star: eta Virginis\nat: "18:01"\nlocal-rules-checked: true',
			{ latitude: "32.4123 S", site: WALLS },
		],
		[
			'kind: square-laser\nguide-star: eta Virginis\nat: "20:30"',
			{ latitude: "32.4123 S", tracker: "head: ball\n  level: ± 0.1°\n  tilt-zero: 0.4°\n  pan-zero: -0.3°" },
		],
		["kind: square-laser\nguide-star: Sabik", { latitude: "32.4123 S" }],
		["kind: square-laser\nguide-star: zeta Virginis\noffset: 95°\nreach: 6°", { latitude: "52 N", date: "2027-04-10" }],
		["kind: square-laser", { latitude: "5 N" }],
		["kind: square-laser\nguide-star: Nosuchstar", { latitude: "40 N" }],
		["kind: square-laser\nguide-star: theta Virginis\noffset: 80°", { latitude: "5 S" }],
		["kind: square-laser\nguide-star: eta Virginis", { latitude: "66 N", date: "2027-06-21" }],
		[
			"kind: square-laser\nguide-star: eta Virginis\nuncertainty: { aim: ± 0.1°, clock: ± 30 s, squareness: ± 0.2°, roll: ± 0.1° }",
			{ latitude: "32.4123 S", site: CAVE },
		],
		["kind: square-laser\nguide-star: eta Virginis\noffset: 130°", { latitude: "60 N", date: "2027-04-10" }],
		[
			"kind: square-laser\nguide-star: eta Virginis",
			{ latitude: "60 N", date: "2027-04-10", site: "  skyline: [[0, 80]]\n" },
		],
	],
	"sky-bearing": [
		[
			'kind: sky-bearing\nbody: Moon\nat: "17:20"',
			{ latitude: "32.4123 S", date: "2027-06-10", tracker: "head: geared\n  tilt-scale: ± 0.5°\n  pan-scale: ± 0.5°" },
		],
		["kind: sky-bearing\nbody: Canopus", { latitude: "32.4123 S", site: WALLS }],
		["kind: sky-bearing\nbody: Sun", { latitude: "48 N", arrive: "16:00", tracker: "head: fixed" }],
		["kind: sky-bearing\nbody: Spica", { latitude: "10 S" }],
		["kind: sky-bearing\nbody: Venus", { latitude: "48 N" }],
		["kind: sky-bearing", { latitude: "32.4123 S" }],
		["kind: sky-bearing\nbody: Nosuch", { latitude: "32.4123 S", tracker: "head: ball" }],
	],
	"landmark-bearing": [
		["kind: landmark-bearing\nlandmark: tower", { latitude: "32.4123 S", site: LANDMARKS }],
		["kind: landmark-bearing\nlandmark: mast", { latitude: "60 N", site: LANDMARKS, tracker: "head: fixed" }],
		[
			"kind: landmark-bearing\nlandmark: near\nuncertainty: { landmark: ± 3 m }",
			{ latitude: "32.4123 S", site: LANDMARKS },
		],
		["kind: landmark-bearing", { latitude: "32.4123 S", site: LANDMARKS }],
		["kind: landmark-bearing\nlandmark: steeple", { latitude: "32.4123 S", site: LANDMARKS, tracker: "head: ball" }],
		["kind: landmark-bearing\nlandmark: mast", { latitude: "89 N", site: LANDMARKS }],
	],
	compass: [
		["kind: compass", { latitude: "32.4123 S" }],
		["kind: compass\nuncertainty: { compass: ± 1°, magnetic-model: ± 0.2° }", { latitude: "72 N", longitude: "96 W" }],
		[
			"kind: compass",
			{ latitude: "10 N", date: "2033-01-01", tracker: "head: geared\n  tilt-scale: ± 0.2°\n  pan-scale: ± 0.2°" },
		],
		["kind: compass", { latitude: "32.4123 S", tracker: "head: ball" }],
	],
	phone: [
		["kind: phone", { latitude: "32.4123 S" }],
		["kind: phone\nuncertainty: { compass: ± 3°, level: ± 0.2° }", { latitude: "60 N" }],
		["kind: phone", { latitude: "32.4123 S", tracker: "head: ball" }],
	],
	"star-sweep": [
		["kind: star-sweep\nstars: [Spica, Rigel]", { latitude: "32.4123 S", date: "2027-02-10" }],
		['kind: star-sweep\nstars: [Procyon, Altair]\nat: "20:00"', { latitude: "45 N", date: "2027-09-10" }],
		["kind: star-sweep\nstars: [Spica, theta Virginis]", { latitude: "45 S" }],
		["kind: star-sweep\nstars: [Spica, Nosuch]", { latitude: "45 S" }],
		["kind: star-sweep", { latitude: "45 N" }],
		["kind: star-sweep\nstars: [Spica]\noffset: 100°\nreach: 3°", { latitude: "45 N" }],
		["kind: star-sweep\nstars: [Altair, Procyon]\noffset: 80°\nreach: 5°", { latitude: "45 N", date: "2027-10-10" }],
	],
	drift: [
		["kind: drift", { latitude: "32.4123 S" }],
		["kind: drift\nuncertainty: { aim: ± 0.05° }", { latitude: "55 N", site: WALLS }],
		[
			'kind: drift\nfirst: { star: Spica, at: "18:30", frame: 4 min }\nsecond: { star: Sirius, at: "18:10", frame: 3 min }',
			{ latitude: "32.4123 S", date: "2027-05-05" },
		],
		[
			'kind: drift\nfirst: { star: Spica, at: "21:00" }\nsecond: { star: Altair, at: "23:30", frame: 6 min }',
			{ latitude: "45 N" },
		],
		[
			'kind: drift\nfirst: { star: Spica, at: "20:00" }\nsecond: { star: eta Virginis, at: "20:10" }',
			{ latitude: "32.4123 S" },
		],
		[
			'kind: drift\nfirst: { star: Nosuch, at: "20:00" }\nsecond: { star: Polaris, at: "20:10" }',
			{ latitude: "32.4123 S" },
		],
		['kind: drift\nfirst: { star: Spica, at: "20:00" }', { latitude: "52 N", site: WALLS }],
		[
			'kind: drift\nfirst: { star: Antares, at: "20:00" }\nsecond: { star: Regulus, at: "20:20" }',
			{ latitude: "10 S" },
		],
	],
	"pole-sighting": [
		["kind: pole-sighting", { latitude: "45 N" }],
		["kind: pole-sighting", { latitude: "32.4123 S", site: WALLS }],
		["kind: pole-sighting", { latitude: "32.4123 S" }],
		["kind: pole-sighting", { latitude: "8 N" }],
		["kind: pole-sighting\nstar: Nosuch", { latitude: "45 N" }],
		["kind: pole-sighting\nstar: Kochab", { latitude: "45 N" }],
		["kind: pole-sighting", { latitude: "66 N", date: "2027-06-21" }],
	],
};

describe.each(Object.entries(WAYS))("%s", (_, methods) => {
	test.each(methods.map(([method, place]) => [method.replace(/\n/g, ", "), place.latitude, method, place] as const))(
		"%s at %s",
		(_words, _latitude, method, place) => {
			const value = evaluateText(planAt(method, place)).methods[0]?.value;
			if (!value) throw new Error("no method");
			expect(lines(numbersOf(value))).toMatchSnapshot();
		},
	);
});

const found12 = (list: readonly { name: string; at: number; radius95: number }[]): readonly string[] =>
	list.slice(0, 12).map(({ name, at, radius95 }) => `${name}: ${JSON.stringify(rounded([at, radius95]))}`);

describe("searches", () => {
	test.each([
		["32.4123 S", "2027-06-05", WALLS],
		["52 N", "2027-10-10", ""],
		["45 S", "2027-12-20", CAVE],
		["66 N", "2027-06-21", ""],
	] as const)("guide stars, bodies and pairs at %s on %s", (latitude, date, site) => {
		const { tonight } = evaluateText(planAt("kind: compass", { latitude, date, site }));
		if (!tonight) throw new Error("no night");
		for (const offset of [90, 100]) {
			const aim = aimPoint(tonight.spot.latitude, offset);
			const found = [
				guideStars(aim, tonight, { reach: 1 }),
				guideStars(aim, tonight, { reach: 3, faintest: 3.5, most: 5 }),
				guideStars(aim, tonight, { reach: 1, twilight: true }),
			];
			expect(
				found.flatMap((list, i) =>
					list.map(
						({ star, at, from, until, miss, clearance, cost, neighbour }) =>
							`${i} ${star.name}: ${JSON.stringify(rounded([at, from, until, miss, clearance, cost, neighbour?.star.name]))}`,
					),
				),
			).toMatchSnapshot();
			for (const list of found)
				for (const [i, one] of list.entries())
					if (i > 0) expect(one.cost).toBeGreaterThanOrEqual(list[i - 1]?.cost ?? 0);
		}
		expect(found12(bearingBodies({}, tonight))).toMatchSnapshot();
		expect(found12(sweepPairs({ reach: 1.5 }, tonight).slice(0, 8))).toMatchSnapshot();
	});

	test("a pass is where the star is nearest, and its half time is when it comes within reach", () => {
		for (const latitude of [-60, -32, 0, 48]) {
			const { tonight } = evaluateText(planAt("kind: compass", { latitude: `${latitude}` }));
			if (!tonight) throw new Error("no night");
			const { spot } = tonight;
			for (const name of ["Spica", "eta Virginis", "Altair"]) {
				const star = findStar(name);
				if (!star) throw new Error(name);
				const at = Date.UTC(2027, 5, 5, 20);
				const direction = apparentDirection({ type: "star", name, star }, spot, at);
				if (direction.altitude < 5) continue;
				const found = passes(star.index, hourPlaceOf(spot, direction), 2, spot, {
					from: at - 3_600_000,
					until: at + 3_600_000,
				});
				expect(found.length).toBe(1);
				expect(Math.abs((found[0]?.best ?? 0) - at)).toBeLessThan(2000);
				expect(found[0]?.least).toBeLessThan(0.01);
				// 2° along the parallel, at 15.04° of hour angle an hour.
				expect((found[0]?.halfMs ?? 0) / 60_000).toBeCloseTo(
					(2 / Math.cos((star.declination * Math.PI) / 180) / 15.041) * 60,
					0,
				);
				expect(
					passes(
						star.index,
						hourPlaceOf(spot, { ...direction, altitude: direction.altitude + (direction.altitude > 45 ? -10 : 10) }),
						0.5,
						spot,
						{
							from: at - 60_000,
							until: at + 60_000,
						},
					).every(({ least }) => least <= 0.5),
				).toBe(true);
			}
		}
	});
});

describe("pieces", () => {
	test("aim points, and the axis that follows from where a pointer points", () => {
		for (const latitude of [-65, -32, -5, 0.5, 20, 60])
			for (const offset of [60, 80, 90, 110]) {
				const aim = aimPoint(latitude, offset);
				const axis = axisOfPointer(aim, offset, aim.side);
				expect(axis.altitude).toBeCloseTo(Math.abs(latitude), 9);
				expect(axisErrorOf(latitude, axis).along).toBeCloseTo(0, 5);
				expect(axisErrorOf(latitude, { ...axis, altitude: axis.altitude + 1 }).along).toBeCloseTo(1, 4);
				expect(axisErrorOf(latitude, { ...axis, azimuth: axis.azimuth + 1 }).across).toBeCloseTo(
					Math.cos((latitude * Math.PI) / 180),
					2,
				);
			}
		expect(rounded([aimPoint(-32, 90), aimPoint(32, 100), aimPoint(5, 80), aimPoint(40, 50)])).toMatchSnapshot();
	});

	test("an axis error as hands correct it; one drift's part; drifts that tell both parts and those that do not", () => {
		const [lower, raise] = [
			correctionOf(-32, { along: 0.4, across: 0.5 }),
			correctionOf(60, { along: -0.4, across: -0.5 }),
		];
		expect(lower.tilt).toBe(-0.4);
		expect(lower.pan).toBeCloseTo(-0.59, 2);
		expect(raise.tilt).toBe(0.4);
		expect(raise.pan).toBeCloseTo(1, 12);
		expect(raise.panPerAcross).toBeCloseTo(2, 12);
		for (const latitude of [-50, -10, 30, 70]) {
			// Drifts that an axis error of our own makes are found to come from it.
			const error = { along: 0.3, across: -0.7 };
			const drifts = [-80, -10, 35].map((hourAngle) => {
				const { along, across } = declinationDrift(latitude, hourAngle);
				return { hourAngle, rate: along * error.along + across * error.across, spread: 0.01 };
			});
			const found = axisFromDrifts(latitude, drifts);
			expect(found?.error.along).toBeCloseTo(0.3, 9);
			expect(found?.error.across).toBeCloseTo(-0.7, 9);
			expect(found?.covariance.alongAlong).toBeGreaterThan(0);
			expect(axisFromDrifts(latitude, drifts.slice(0, 1))).toBe(undefined);
			expect(axisFromDrifts(latitude, [])).toBe(undefined);
			const [one] = drifts;
			if (!one) throw new Error("no drift");
			expect(axisFromDrifts(latitude, [one, { ...one, hourAngle: one.hourAngle + 180 }])).toBe(undefined);
			const part = partFromDrift(latitude, one);
			expect(Math.hypot(part.direction.along, part.direction.across)).toBeCloseTo(1, 12);
			expect(part.size).toBeCloseTo(error.along * part.direction.along + error.across * part.direction.across, 9);
			// The covariance is that of the least squares: half the spread, a quarter of it.
			const finer = axisFromDrifts(
				latitude,
				drifts.map((drift) => ({ ...drift, spread: 0.005 })),
			);
			expect((found?.covariance.acrossAcross ?? 0) / (finer?.covariance.acrossAcross ?? 1)).toBeCloseTo(4, 6);
		}
	});

	test("where to put the beam, in words", () => {
		const words = (right: number, up: number): string =>
			told(beamPlace(toldBeside({ right, up, total: Math.hypot(right, up) }, 1), "Spica"));
		expect([
			words(0.3, 0.8),
			words(-0.3, -0.8),
			words(0.01, 0.8),
			words(-0.3, 0.01),
			words(0.3, 0),
			words(0.04, -0.04),
			words(0.05, 0.05),
		]).toEqual([
			"0.30° to the left and 0.80° below Spica",
			"0.30° to the right and 0.80° above Spica",
			"0.80° below Spica",
			"0.30° to the right of Spica",
			"0.30° to the left of Spica",
			"on Spica",
			"0.05° to the left and 0.05° below Spica",
		]);
	});

	test("trails, chances and longest exposures of many shots", () => {
		const camera = evaluateText(planAt("kind: compass", { latitude: "32 S" })).lenses[0]?.value?.camera;
		const { tonight } = evaluateText(planAt("kind: compass", { latitude: "32.4123 S" }));
		if (!camera || !tonight) throw new Error("no lens");
		const shots = [0.5, 1].flatMap((rate) =>
			[false, true].map((vertical) =>
				held({
					camera,
					vertical,
					aim: { azimuth: 110, altitude: 50 },
					spot: tonight.spot,
					isSky: ({ altitude }) => altitude >= 10,
					rate,
					periodicError: vertical ? { amplitude: 0.01, period: 600 } : undefined,
				}),
			),
		);
		const spread = { covariance: { alongAlong: 0.04, alongAcross: 0.01, acrossAcross: 0.25 } };
		expect(
			shots.flatMap((shot) =>
				lines({
					trails: trailFor(trailsOf(shot, 120), { along: 0.5, across: -0.3 }),
					straight: trailFor(trailsOf(shot, 60), { along: 0, across: 0 }),
					off: trailFor(trailsOf(shot, 60), { along: 0.5, across: -0.3 }),
					chance: [0.5, 1, 2, 5, 20].map((limit) => chanceWithin(trailsOf(shot, 60), spread, limit)),
					allowed: axisErrorAllowed(trailsOf(shot, 60), 2),
					rotation: fieldRotation(shot, spread, 60),
					longest: [1, 3].map((limit) => longestExposure(shot, spread, limit)),
					untracked: longestUntracked(shot, 2),
				}),
			),
		).toMatchSnapshot();
		const [shot] = shots.slice(-2);
		if (!shot) throw new Error("no shot");
		const trails = trailsOf(shot, 60);
		const quantile = trailQuantile(trails, spread, 0.9);
		expect(chanceWithin(trails, spread, quantile)).toBeCloseTo(0.9, 2);
		expect(chanceWithin(trailsOf(shot, longestExposure(shot, spread, 2)), spread, 2)).toBeCloseTo(0.9, 2);
		expect(longestExposure(shot, { covariance: { alongAlong: 1e-12, alongAcross: 0, acrossAcross: 1e-12 } }, 500)).toBe(
			14_400,
		);
		expect(longestExposure(shot, spread, 0)).toBe(0);
	});
});
