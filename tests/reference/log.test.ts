import { describe, expect, test } from "vitest";
import { constantError } from "../../shared/alignment/constant-error.ts";
import { measuredDrift, partFromDrift } from "../../shared/alignment/drift.ts";
import { axisFromSolved } from "../../shared/alignment/solved-frames.ts";
import { fieldRotation } from "../../shared/alignment/trail.ts";
import type { Example } from "../../shared/findings/finding.ts";
import { ALL_METHODS } from "../../shared/methods/methods.ts";
import { pixelScaleArcsec } from "../../shared/optics/camera.ts";
import { type Direction, toDirection } from "../../shared/sky/horizontal.ts";
import { airlessDirection, findBody, type SkyBody, type Spot } from "../../shared/sky/place.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { checkText, codesOf, computed, evaluateText, planWith, valuesOf } from "../plan-text.ts";
import { held } from "./held.ts";
import { axisError, dir, driftOf, frameDrift, later, normals, spin, throughAir, type V } from "./simulation.ts";

const cameraOf = {
	focalLength: 24,
	fNumber: 2,
	sensor: [36, 24] as const,
	pixelPitch: 6,
	projection: "rectilinear" as const,
};
const noAir = { pressure: 0, temperature: 10 };

/** An axis that is off by a known amount. */
function offAxis(latitude: number, along: number, across: number): V {
	const base = dir(latitude >= 0 ? 0 : 180, Math.abs(latitude) + along);
	const turn = across / Math.cos((latitude * Math.PI) / 180);
	return spin([0, 0, -1], turn, base);
}

/** The air over the test sites: ISO 2533 at sea level, 10 °C. */
const seen = (v: V): V => throughAir(v, 1013.25, 10);

/** A log entry of the drift that a level camera, turned by that axis under air, would show. */
function entry(
	latitude: number,
	axis: V,
	name: string,
	instant: number,
	seconds = 240,
	{ keys = "", rate = 1, camera = cameraOf, own = 0 } = {},
): string {
	const body = findBody(name) as SkyBody;
	const { azimuth, altitude } = airlessDirection(body, { latitude, longitude: 20, elevation: 0, air: noAir }, instant);
	const [right, up] = frameDrift(latitude, axis, dir(azimuth, altitude), seconds, { seen, rate, own });
	const toPixels = 3600 / pixelScaleArcsec(camera);
	const at = new Date(instant).toISOString();
	const hours = Number(at.slice(11, 13));
	const date = new Date(instant - (hours < 12 ? 86_400_000 : 0)).toISOString().slice(0, 10);
	return `- { date: ${date}, at: "${at.slice(11, 19)}", frame: ${seconds} s, star: ${name}, drift: { right: ${(right * toPixels).toFixed(5)} px, up: ${(up * toPixels).toFixed(5)} px }${keys} }`;
}

/** A plan at such a site, its head set by scales. */
const planOf = (latitude: number, log: readonly string[], changes: Example = {}): string =>
	planWith({
		site: `name: A\nlatitude: ${latitude}\nlongitude: 20\nelevation: 0 m\ntimezone: Etc/UTC`,
		night: "date: 2027-06-05",
		lens: "focal-length: 24 mm\nf-number: 2\nsensor: 36 x 24 mm\npixel-pitch: 6 µm",
		method: "kind: sky-bearing\nbody: Jupiter",
		log: log.join("\n"),
		...changes,
	});

const logOf = (text: string) => {
	const value = evaluateText(text).log?.value;
	if (!value) throw new Error("no log");
	return value;
};

/** An instant of the evening of a day in June 2027. */
const june = (day: number, hours: number): number => Date.UTC(2027, 5, day, 0, Math.round(hours * 60));

const LONG = { ...cameraOf, focalLength: 135 };
const LONG_LENS = "focal-length: 135 mm\nf-number: 2\nsensor: 36 x 24 mm\npixel-pitch: 6 µm";
const cos = (degrees: number) => Math.cos((degrees * Math.PI) / 180);

describe("the axis from two drifts, against a turning camera under another refraction formula", () => {
	test.each([
		[-32.4, 0.9, -1.3, "Antares", "Denebola"],
		[-32.4, 0, 0, "Altair", "Denebola"],
		[39, -0.6, 0.8, "Antares", "Denebola"],
		[39, 0, 0, "Antares", "Regulus"],
		[55, 0.4, 0.5, "Vega", "Regulus"],
		[-8, 0.3, -0.2, "Altair", "Denebola"],
	] as const)(
		"at latitude %d an axis off by %d° and %d° is found from %s and %s",
		(latitude, along, across, one, other) => {
			const axis = offAxis(latitude, along, across);
			const [realAlong, realAcross] = axisError(latitude, axis);
			const { evenings } = logOf(
				planOf(latitude, [entry(latitude, axis, one, june(5, 21.5)), entry(latitude, axis, other, june(5, 21.7))]),
			);
			const found = evenings[0]?.found;
			expect(Math.abs((found?.error.along ?? 9) - realAlong)).toBeLessThan(0.01);
			expect(Math.abs((found?.error.across ?? 9) - realAcross)).toBeLessThan(0.01);
			expect(found?.spread.along).toBeGreaterThan(0.01);
		},
	);

	test("a star at 14°: refraction left out would be a tenth of a degree", () => {
		const latitude = 39;
		const axis = offAxis(latitude, 0, 0);
		// In the west.
		const instant = Date.UTC(2027, 3, 2, 20, 20);
		const spot: Spot = { latitude, longitude: 20, elevation: 0, air: noAir };
		const place = airlessDirection(findBody("Sirius") as SkyBody, spot, instant);
		expect(place.altitude).toBeGreaterThan(12);
		expect(place.altitude).toBeLessThan(16);
		const [log] = [logOf(planOf(latitude, [entry(latitude, axis, "Sirius", instant)])).evenings[0]];
		expect(log?.part?.size).toBeCloseTo(0, 2);
		const [right, up] = frameDrift(latitude, axis, dir(place.azimuth, place.altitude), 240, { seen });
		const airless = { ...spot, air: noAir };
		const uncorrected = measuredDrift(findBody("Sirius") as SkyBody, airless, {
			at: instant,
			seconds: 240,
			right: right * 3600,
			up: up * 3600,
			spread: 1,
			rate: 1,
		});
		const part = partFromDrift(latitude, uncorrected).size;
		expect(Math.abs(part)).toBeGreaterThan(0.09);
	});

	test("at half rate", () => {
		const axis = offAxis(39, 0.5, -0.4);
		const options = { rate: 0.5 };
		const log = [
			entry(39, axis, "Antares", june(5, 21.5), 120, options),
			entry(39, axis, "Denebola", june(5, 21.7), 120, options),
		];
		const found = logOf(planOf(39, log, { tracker: "rate: half" })).evenings[0]?.found;
		const [along, across] = axisError(39, axis);
		expect(Math.abs((found?.error.along ?? 9) - along)).toBeLessThan(0.01);
		expect(Math.abs((found?.error.across ?? 9) - across)).toBeLessThan(0.01);
	});

	test("the Moon's own motion is no axis error", () => {
		// A frame on the Moon at a perfect axis: its motion among the stars, by its places at both ends.
		const latitude = 39;
		const spot: Spot = { latitude, longitude: 20, elevation: 0, air: noAir };
		const moon = findBody("Moon") as SkyBody;
		const at = june(14, 21);
		const ends = [-120_000, 120_000].map((ms) => {
			const { azimuth, altitude } = airlessDirection(moon, spot, at + ms);
			return spin(dir(0, latitude), ((15.041067 / 3600) * ms) / 1000, seen(dir(azimuth, altitude)));
		}) as [V, V];
		const place = airlessDirection(moon, spot, at);
		const middle = toDirection(seen(dir(place.azimuth, place.altitude)));
		expect(middle.altitude).toBeGreaterThan(10);
		const [from, to] = ends.map(toDirection) as [Direction, Direction];
		const scale = 3600 / pixelScaleArcsec(cameraOf);
		const right = (to.azimuth - from.azimuth) * cos(middle.altitude) * scale;
		const up = (to.altitude - from.altitude) * scale;
		expect(Math.hypot(right, up)).toBeGreaterThan(1.5);
		const { evenings } = logOf(
			planOf(latitude, [
				`- { date: 2027-06-14, at: "21:00", frame: 240 s, star: moon, drift: { right: ${right} px, up: ${up} px } }`,
			]),
		);
		expect(Math.abs(evenings[0]?.part?.size ?? 9)).toBeLessThan(0.02);
	});
});

describe("an evening", () => {
	const latitude = -32.4;
	const pair = (day: number, hours: number, along: number, across: number, keys = "", camera = LONG): string[] => {
		const axis = offAxis(latitude, along, across);
		return [
			entry(latitude, axis, "Antares", june(day, hours), 240, { keys, camera }),
			entry(latitude, axis, "Denebola", june(day, hours + 0.2), 240, { keys, camera }),
		];
	};
	const planned = (log: readonly string[], changes: Example = {}) =>
		planOf(latitude, log, { lens: LONG_LENS, ...changes });
	const bearing = "kind: sky-bearing\nbody: Jupiter";

	test("corrected and measured again: the last pair is the axis, the first the scales'", () => {
		const text = planned([...pair(5, 21, 0.88, 0.5), ...pair(5, 22, 0, 0)]);
		const [evening] = logOf(text).evenings;
		expect(evening?.found?.error.along).toBeCloseTo(0, 2);
		expect(evening?.found?.error.across).toBeCloseTo(0, 2);
		expect(valuesOf(text).get("log.correction")).toMatch(/^(?:raise|lower) the tilt by 0\.0\d°/);
		expect(evening?.constants.tilt?.value).toBeCloseTo(-0.88, 1);
		expect(evening?.constants.pan?.value).toBeCloseTo(0.5 / cos(latitude), 1);
	});

	test("entries count in the order of the clock, however they are written", () => {
		const log = [...pair(5, 21, 0.88, 0.5), ...pair(5, 22, 0, 0)];
		const [evening] = logOf(planned([...log].reverse())).evenings;
		expect(evening?.found?.error.along).toBeCloseTo(0, 2);
	});

	test("after midnight is later than before", () => {
		const right = offAxis(latitude, 0, 0);
		const after = ["Antares", "Altair"].map((star) =>
			entry(latitude, right, star, june(6, 0.5), 240, { camera: LONG }),
		);
		const [evening] = logOf(planned([...after, ...pair(5, 22, 0.88, 0.5)])).evenings;
		expect(evening?.found?.error.along).toBeCloseTo(0, 2);
	});

	test("a third drift that agrees makes the axis surer; one that does not says that the axis was moved", () => {
		const axis = offAxis(latitude, 0.88, 0.5);
		const third = (one: V) => entry(latitude, one, "Antares", june(5, 22), 240, { camera: LONG });
		const two = logOf(planned(pair(5, 21, 0.88, 0.5))).evenings[0];
		const agreeing = logOf(planned([...pair(5, 21, 0.88, 0.5), third(axis)])).evenings[0];
		expect(agreeing?.found?.spread.across).toBeLessThan(two?.found?.spread.across ?? 0);
		const text = planned([...pair(5, 21, 1.4, 0.8), third(offAxis(latitude, 0, 0))]);
		const moved = logOf(text).evenings[0];
		expect(moved?.found).toBeUndefined();
		expect(moved?.part?.size).toBeCloseTo(0, 2);
		expect(moved?.part?.entry).toBe(2);
		expect(valuesOf(text).get("log.correction")).toBeUndefined();
		expect(moved?.constants.tilt?.value).toBeCloseTo(-1.4, 1);
	});

	test("a star measured twice and then another are one determination", () => {
		const axis = offAxis(latitude, 0.5, 0.3);
		const at = (name: string, hours: number) => entry(latitude, axis, name, june(5, hours), 240, { camera: LONG });
		const [evening] = logOf(planned([at("Antares", 21), at("Antares", 21.2), at("Denebola", 21.4)])).evenings;
		expect(evening?.found?.error.along).toBeCloseTo(0.5, 2);
		expect(evening?.found?.spread.along).toBeLessThan(0.2);
	});

	test("an evening with a method that sets nothing by a scale tells no scale; tilt and pan each have their own", () => {
		const keys = (kind: string) => `, method: ${kind}`;
		const constants = (kind: string) => logOf(planned(pair(5, 21, 0.6, 0.9, keys(kind)))).evenings[0]?.constants;
		for (const { kind, byScale } of ALL_METHODS) expect(Object.keys(constants(kind) ?? {}), kind).toEqual([...byScale]);
		// Without a word the plan's first method counts.
		for (const { kind } of ALL_METHODS) {
			const text = planned(pair(5, 21, 0.6, 0.9), { method: [`kind: ${kind}`, bearing] });
			expect(logOf(text).evenings[0]?.constants, kind).toEqual(
				Object.fromEntries(
					Object.entries(constants(kind) ?? {}).map(([part, one]) => [part, { ...one, method: kind }]),
				),
			);
		}
	});

	test("set by a laser, then by scales: the scales' own measurement counts for them", () => {
		const log = [...pair(5, 21, 0.1, 0.1, ", method: square-laser"), ...pair(5, 22, 0.6, 0.9, ", method: compass")];
		const [evening] = logOf(planned(log)).evenings;
		expect(evening?.constants.tilt?.value).toBeCloseTo(-0.6, 1);
		expect(evening?.constants.pan).toBeUndefined();
	});

	test("a ball head has no scales to err", () => {
		expect(logOf(planned(pair(5, 21, 0.6, 0.9), { tracker: "head: ball" })).evenings[0]?.constants).toEqual({});
	});

	test("a star that was not up says nothing, and is told", () => {
		const log = pair(5, 21, 0.5, 0.3);
		const text = planned([...log, (log[1] ?? "").replace(/at: "[\d:]+"/, 'at: "03:00"')]);
		expect(logOf(text).evenings).toEqual([{ ...logOf(planned(log)).evenings[0], entries: [0, 1, 2] }]);
		expect(codesOf(text)).toContain("log/star-below-horizon");
	});

	test("a note alone is clean, and says nothing", () => {
		const text = planned(["- { date: 2027-06-04, note: clouds }", "- note: wind"]);
		expect(codesOf(text).filter((code) => code.startsWith("log/"))).toEqual([]);
		expect(logOf(text).evenings.map(({ found }) => found)).toEqual([undefined, undefined]);
	});
});

describe("constants of the scales, written and measured again", () => {
	const latitude = -32.4;
	/** A head whose tilt scale shows 0.6° too much and whose pan goes 0.9° too far, set with zeros. */
	const evening = (day: number, zeros: { tilt: number; pan: number }): string[] => {
		const axis = offAxis(latitude, zeros.tilt - 0.6, (0.9 - zeros.pan) * cos(latitude));
		return [
			entry(latitude, axis, "Antares", june(day, 21), 240, { camera: LONG }),
			entry(latitude, axis, "Denebola", june(day, 21.2), 240, { camera: LONG }),
		];
	};
	const none = { tilt: 0, pan: 0 };
	const before = [1, 2, 3].flatMap((day) => evening(day, none));
	const tracker = "head: geared\ntilt-scale: ± 0.5°";
	const planned = (log: readonly string[], body = tracker) => planOf(latitude, log, { lens: LONG_LENS, tracker: body });
	const fixOf = (text: string) => checkText(text).find(({ code }) => code === "log/constant-error")?.fixes[0];

	test("three evenings say 0.6° and 0.9°, the fix appends a row, and two good evenings leave it so", () => {
		const text = planned(before);
		const { constant } = logOf(text);
		expect(constant.tilt?.value).toBeCloseTo(0.6, 1);
		expect(constant.pan?.value).toBeCloseTo(0.9, 1);
		const fixed = applyEdits(text, fixOf(text)?.edits ?? []);
		expect(fixed).toMatch(/zeros: \[\{ since: 2027-06-04, tilt: 0\.\d+°, pan: 0\.\d+° \}\]/);
		// Before its evening the row changes nothing that was measured.
		expect(logOf(fixed).constant).toEqual(constant);
		const zeros = { tilt: constant.tilt?.value ?? 0, pan: constant.pan?.value ?? 0 };
		const later = [4, 5].flatMap((day) => evening(day, zeros));
		const after = planned([...before, ...later], /tracker:\n((?: {2}.*\n)+)/.exec(fixed)?.[1]?.replace(/^ {2}/gm, ""));
		expect(logOf(after).constant.tilt?.value).toBeCloseTo(0.6, 1);
		expect(logOf(after).constant.tilt?.evenings).toBe(5);
		expect(logOf(after).constant.pan?.value).toBeCloseTo(0.9, 1);
		expect(logOf(after).evenings[4]?.found?.error.along).toBeCloseTo(0, 1);
		expect(codesOf(after)).not.toContain("log/constant-error");
		expect(computed(after, "log.tilt-zero")).toBeCloseTo(0.6, 1);
	});

	test.each([
		[
			"in brackets",
			"zeros: [{ since: 2027-05-01, tilt: 0.1° }] # found in May",
			"zeros: [{ since: 2027-05-01, tilt: 0.1° }, { since",
		],
		["below the key", "zeros:\n  - { since: 2027-05-01, tilt: 0.1° } # May\nhead: geared", "# May\n    - { since"],
		["at the key's column", "zeros:\n- since: 2027-05-01\n  tilt: 0.1°\nhead: geared", "tilt: 0.1°\n  - { since"],
		["over lines", "zeros: [\n  { since: 2027-05-01,\n    tilt: 0.1° },\n]", "tilt: 0.1° }, { since"],
	])("a row is appended to rows %s", (_, body, expected) => {
		const text = planned(before, body);
		expect(logOf(text).constant.tilt?.value).toBeCloseTo(0.7, 1);
		const fixed = applyEdits(text, fixOf(text)?.edits ?? []);
		expect(fixed).toContain(expected);
		expect(codesOf(fixed).filter((code) => code.startsWith("log/") || code.startsWith("yaml"))).toEqual([]);
		expect(evaluateText(fixed).tracker?.zeros).toHaveLength(2);
	});

	test("without a tracker's cell one is added", () => {
		const text = planOf(latitude, before, { lens: LONG_LENS, tracker: null });
		const fixed = applyEdits(text, fixOf(text)?.edits ?? []);
		expect(evaluateText(fixed).tracker?.zeros?.[0]?.since).toEqual({ year: 2027, month: 6, day: 4 });
		expect(codesOf(fixed)).not.toContain("log/constant-error");
	});

	test("the plain keys hold always: evenings are measured with them", () => {
		const body = "tilt-zero: 0.6°\npan-zero: 0.9°";
		const text = planned(
			[1, 2].flatMap((day) => evening(day, { tilt: 0.6, pan: 0.9 })),
			body,
		);
		expect(logOf(text).constant.tilt?.value).toBeCloseTo(0.6, 1);
		expect(codesOf(text)).not.toContain("log/constant-error");
	});

	test("by date: rows in any order, what a row leaves out stays, an evening has what was in force", () => {
		const zeros = (since: number, rest: string) => `{ since: 2027-06-0${since}, ${rest} }`;
		const tools = (day: number) =>
			evaluateText(
				planWith({
					night: `date: 2027-06-0${day}`,
					tracker: `tilt-zero: 0.2°\nzeros: [${zeros(7, "pan: 0.4°")}, ${zeros(3, "tilt: 0.5°, pan: -0.3°")}]`,
				}),
			).tonight?.tools;
		expect(tools(2)).toMatchObject({ tiltZero: 0.2, panZero: 0 });
		expect(tools(3)).toMatchObject({ tiltZero: 0.5, panZero: -0.3 });
		expect(tools(6)).toMatchObject({ tiltZero: 0.5, panZero: -0.3 });
		expect(tools(7)).toMatchObject({ tiltZero: 0.5, panZero: 0.4 });
	});

	test("pan-zero moves the value, the step and the picture alike", () => {
		for (const method of [
			"kind: landmark-bearing\nlandmark: water tower",
			'kind: sky-bearing\nbody: Jupiter\nat: "19:00"',
		]) {
			const shown = (body: string) => {
				const { methods, plan, valuesOf: of } = evaluateText(planWith({ tracker: body, method }));
				const cell = plan.cells.find(({ read }) => read.kind === "method");
				const pan = (cell ? of(cell) : []).find(({ id }) => id === "method.pan-offset");
				const one = methods[0]?.value;
				return {
					offset: Number(pan?.value),
					turn: pan?.text,
					steps: one?.steps().map(({ number }) => number),
					picture: one?.setUp.pictures.turn?.offset,
				};
			};
			const [plain, moved] = [shown("head: geared"), shown("head: geared\npan-zero: 0.9°")];
			expect(moved.offset).toBeCloseTo(plain.offset - 0.9, 9);
			expect(moved.picture).toBeCloseTo(moved.offset, 9);
			expect(moved.steps).toContain(moved.turn);
			expect(moved.turn).not.toBe(plain.turn);
		}
	});
});

describe("constants of evenings that scatter", () => {
	test("evenings that setting by a scale does not explain disagree, seldom by chance", () => {
		const of = (...values: readonly number[]) => constantError(values.map((value) => ({ value, spread: 0.1 })))?.apart;
		expect(of(0.4, 2.4)).toBeCloseTo(2, 9);
		expect(of(0.4, 0.5, 0.3, 2.6, 2.4, 2.5)).toBeCloseTo(2.3, 9);
		expect(of(0.4, 1.2, 0.1)).toBeUndefined();
		const next = normals(5);
		for (const count of [2, 5, 12]) {
			let wrong = 0;
			for (let i = 0; i < 4000; i++)
				if (of(...Array.from({ length: count }, () => 1 + next() * Math.hypot(0.5, 0.1))) !== undefined) wrong++;
			expect(wrong / 4000).toBeGreaterThan(0.004);
			expect(wrong / 4000).toBeLessThan(0.016);
		}
	});

	test("where they disagree no row is offered, and by how much is said", () => {
		const axes = [0, 2.2].map((along) => offAxis(-32.4, along, 0));
		const text = planOf(
			-32.4,
			axes.flatMap((axis, i) => [
				entry(-32.4, axis, "Antares", june(1 + i, 22), 1200),
				entry(-32.4, axis, "Denebola", june(1 + i, 22.5), 1200),
			]),
		);
		const values = valuesOf(text);
		expect(values.get("log.tilt-zero")).toBeNull();
		expect(values.get("log.tracker-correction") ?? "").not.toContain("tilt");
		const findings = checkText(text);
		expect(findings.map(({ code }) => code)).not.toContain("log/constant-error");
		expect(findings.find(({ code }) => code === "log/evenings-disagree")?.message).toMatch(/differs by up to 2\.\d°/);
	});

	test("the stated spread is the mean's true one, with evenings good and poor", () => {
		const normal = normals(7);
		const RUNS = 4000;
		let [squares, within, weighted, equal] = [0, 0, 0, 0];
		for (let run = 0; run < RUNS; run++) {
			const evenings = Array.from({ length: 12 }, (_, i) => {
				const spread = i % 3 === 0 ? 0.6 : 0.1;
				return { value: 0.4 + 0.2 * normal() + spread * normal(), spread };
			});
			const found = constantError(evenings);
			if (!found) continue;
			const off = Math.abs(found.value - 0.4);
			squares += (off / found.spread) ** 2;
			within += off <= 2 * found.spread ? 1 : 0;
			weighted += off ** 2;
			equal += (evenings.reduce((sum, { value }) => sum + value, 0) / 12 - 0.4) ** 2;
		}
		// The scatter is itself estimated from twelve: Student's distribution with 11 degrees has √(11 / 9) = 1.11.
		expect(Math.sqrt(squares / RUNS)).toBeGreaterThan(0.95);
		expect(Math.sqrt(squares / RUNS)).toBeLessThan(1.25);
		expect(within / RUNS).toBeGreaterThan(0.9);
		expect(weighted).toBeLessThan(0.8 * equal);
	});

	test("two evenings that happen to agree are no surer than they were measured", () => {
		const one = { value: 0.4, spread: 0.2 };
		expect(constantError([one, one])?.spread).toBeCloseTo(0.2 / Math.SQRT2, 9);
		expect(constantError([one])).toBeUndefined();
	});

	test("a worked case of the method of moments, by hand", () => {
		// w = 25, 100, 25; mean = (25·0 + 100·0.5 + 25·1)/150 = 0.5; Q = 12.5; τ² = (12.5 − 2)/(150 − 11250/150) = 0.14.
		const found = constantError([
			{ value: 0, spread: 0.2 },
			{ value: 0.5, spread: 0.1 },
			{ value: 1, spread: 0.2 },
		]);
		expect(found?.scatter).toBeCloseTo(Math.sqrt(0.14), 9);
		expect(found?.value).toBeCloseTo(0.5, 9);
		expect(found?.spread).toBeCloseTo(1 / Math.sqrt(2 / 0.18 + 1 / 0.15), 9);
	});
});

describe("solved frames", () => {
	test.each([
		["a turn of the plate by 60°", 0, 60],
		["a tracked run of 20 minutes", 1200, (1200 * 15.041067) / 3600],
	] as const)("two solved frames, %s: the axis is found", (_, seconds, turn) => {
		for (const latitude of [39, -32.4]) {
			const spot: Spot = { latitude, longitude: 20, elevation: 0, air: noAir };
			const at = Date.UTC(2027, 5, 5, 22);
			const axis = offAxis(latitude, 0.7, -0.4);
			// The camera looks somewhere, some way up; the plate turns it about the axis.
			const forward = dir(120, 35);
			const up = spin(
				forward,
				25,
				spin(
					spin([0, 0, 1], 0, [Math.cos((-120 * Math.PI) / 180), Math.sin((-120 * Math.PI) / 180), 0]),
					0,
					dir(120, 125),
				),
			);
			const sense = latitude >= 0 ? -1 : 1;
			const turned = (v: V) => spin(axis, sense * turn, v);
			const first = solve(spot, at, forward, up);
			const second = solve(spot, at + seconds * 1000, turned(forward), turned(up));
			const found = axisFromSolved(spot, first, second);
			const [along, across] = axisError(latitude, axis);
			expect(found?.turn).toBeCloseTo(turn, 2);
			expect(found?.error.along).toBeCloseTo(along, 2);
			expect(found?.error.across).toBeCloseTo(across, 2);
		}
	});

	test("two frames without a turn between them tell nothing", () => {
		const frame = { at: 0, rightAscension: 200, declination: -20, positionAngle: 10 };
		expect(axisFromSolved({ latitude: 39, longitude: 0, elevation: 0, air: noAir }, frame, frame)).toBeUndefined();
	});

	/** What a plate solver would say of a camera: found by a search over J2000 places, with the project's own sky only to look up. */
	function solve(spot: Spot, at: number, forward: V, up: V) {
		const seen = (ra: number, dec: number): V => {
			const { azimuth, altitude } = airlessDirection(
				{ type: "fixed", name: "p", rightAscension: ra, declination: dec },
				spot,
				at,
			);
			return dir(azimuth, altitude);
		};
		const dot = (a: V, b: V) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
		const find = (target: V): [number, number] => {
			let [ra, dec] = [0, 0];
			let best = -2;
			for (let r = 0; r < 360; r += 5)
				for (let d = -85; d <= 85; d += 5)
					if (dot(seen(r, d), target) > best) [best, ra, dec] = [dot(seen(r, d), target), r, d];
			for (let step = 4; step > 1e-7; step /= 1.6) {
				for (const [dr, dd] of [
					[step, 0],
					[-step, 0],
					[0, step],
					[0, -step],
				] as const) {
					const value = dot(seen(ra + dr, dec + dd), target);
					if (value > best) [best, ra, dec] = [value, ra + dr, dec + dd];
				}
			}
			return [((ra % 360) + 360) % 360, dec];
		};
		const [rightAscension, declination] = find(forward);
		const above = find(
			spin(
				[
					forward[1] * up[2] - forward[2] * up[1],
					forward[2] * up[0] - forward[0] * up[2],
					forward[0] * up[1] - forward[1] * up[0],
				],
				2,
				forward,
			),
		);
		const R = Math.PI / 180;
		const y = Math.sin((above[0] - rightAscension) * R) * Math.cos(above[1] * R);
		const x =
			Math.sin(above[1] * R) * Math.cos(declination * R) -
			Math.cos(above[1] * R) * Math.sin(declination * R) * Math.cos((above[0] - rightAscension) * R);
		return { at, rightAscension, declination, positionAngle: Math.atan2(y, x) / R };
	}
});

describe("field rotation", () => {
	test("an axis off by e across, a frame on the horizon's east-west line: ωt e cos δ, against two stars turned exactly", () => {
		const latitude = 39;
		const shot = {
			camera: cameraOf,
			vertical: false,
			aim: { azimuth: 90, altitude: 0.001 },
			spot: { latitude, longitude: 0, elevation: 0, air: noAir },
			rate: 1,
		};
		const predicted = fieldRotation(
			held(shot),
			{ covariance: { alongAlong: 0, alongAcross: 0, acrossAcross: 1 } },
			300,
		);
		const axis = offAxis(latitude, 0, 1);
		const left = dir(88, 0);
		const right = dir(92, 0);
		const slope = (a: V, b: V) => Math.atan2(b[2] - a[2], b[1] - a[1]);
		const change =
			(slope(driftOf(latitude, axis, left, 300), driftOf(latitude, axis, right, 300)) - slope(left, right)) *
			(180 / Math.PI);
		const turned = Math.abs(((change + 540) % 360) - 180);
		expect(predicted).toBeCloseTo(turned, 4);
		expect(later(latitude, left, 0)).toEqual([
			expect.closeTo(left[0], 9),
			expect.closeTo(left[1], 9),
			expect.closeTo(left[2], 9),
		]);
	});
});
