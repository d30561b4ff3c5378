/** Nights by framing: their windows against astronomy-engine's own horizon coordinates, minute by minute. */

import { readFileSync } from "node:fs";
import {
	Horizon,
	MakeTime,
	Observer,
	RotateVector,
	Rotation_EQJ_EQD,
	SphereFromVector,
	Spherical,
	VectorFromSphere,
} from "astronomy-engine";
import { expect, test } from "vitest";
import type { WantedFraming } from "../../shared/evaluate/framings.ts";
import { type NightChoice, nightsOf } from "../../shared/evaluate/nights.ts";
import { EXAMPLE_LINE } from "../../shared/notation/shape.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { both, totalMinutes } from "../../shared/sky/intervals.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const OBSERVER = new Observer(-32.4123, -54.3622, 145);
const day = (month: number, date: number) => ({ year: 2027, month, day: date });

function nights(text: string, wanted?: WantedFraming, from = day(6, 1), until = day(6, 20)): readonly NightChoice[] {
	const outcome = nightsOf(readPlan(text), from, until, undefined, wanted);
	if (!outcome.ok) throw new Error("not ok");
	return [...outcome.nights];
}

/** The galactic centre (J2000 266.417°, −29.008°) as seen, with the library's usual refraction. */
function core(at: number): { readonly azimuth: number; readonly altitude: number } {
	const time = MakeTime(new Date(at));
	const j2000 = VectorFromSphere(new Spherical(-29.0078, 266.4168, 1), time);
	const { lat, lon } = SphereFromVector(RotateVector(Rotation_EQJ_EQD(time), j2000));
	return Horizon(time, OBSERVER, lon / 15, lat, "normal");
}

test("the time counts while the core is between two bearings and above an altitude, no more and no less", () => {
	const all = nights(planWith({}));
	for (const wanted of [
		{ bearings: [80, 130] },
		{ above: 60 },
		{ bearings: [80, 130], above: 40 },
		{ bearings: [300, 20] },
	] as const) {
		const is = (at: number): boolean => {
			const { azimuth, altitude } = core(at);
			return (
				(!("above" in wanted) || altitude >= wanted.above) &&
				(!("bearings" in wanted) ||
					(((azimuth - wanted.bearings[0]) % 360) + 360) % 360 <=
						(((wanted.bearings[1] - wanted.bearings[0]) % 360) + 360) % 360)
			);
		};
		let [minutes, counted] = [0, 0];
		for (const [i, night] of nights(planWith({}), wanted).entries()) {
			// Where the alignment waits for the windows they may begin otherwise: what is in both is compared.
			for (const { from, until } of night.windows)
				for (let at = from + 60_000; at < until - 60_000; at += 300_000) {
					expect(is(at), `${JSON.stringify(wanted)} ${new Date(at).toISOString()}`).toBe(true);
					minutes += 5;
				}
			const without = (all[i] as NightChoice).windows;
			expect(totalMinutes(both(night.windows, without))).toBeLessThanOrEqual(totalMinutes(without) + 1e-6);
			for (const { from, until } of without)
				for (let at = from + 60_000; at < until - 60_000; at += 300_000)
					if (is(at) && is(at - 60_000) && is(at + 60_000)) {
						counted++;
						const shown = night.windows.some((one) => at >= one.from - 60_000 && at <= one.until + 60_000);
						// A method that is worked later, for a window that comes later, may take the first minutes.
						if (!shown) expect(at, JSON.stringify(wanted)).toBeLessThan((night.windows[0]?.from ?? Infinity) + 60_000);
					}
		}
		expect(minutes).toBeGreaterThan(wanted && "bearings" in wanted && wanted.bearings[0] === 300 ? 0 : 100);
		expect(counted).toBeGreaterThan(10);
	}
});

test("the arch whole, ground in the frame, one target alone; what the plan has not is said", () => {
	const arch = planWith({
		site: "name: Flat\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nelevation: 145 m\ntimezone: America/Montevideo\nplace: [open]\nobstructions:\n  - { name: pine, outline: [[60, 0], [60, 12], [75, 12], [75, 0]] }",
		targets:
			"- name: arch\n  aim: milky-way-arch\n  panorama: {}\n  exposure: 30 s\n- name: core\n  aim: galactic-centre\n  exposure: 30 s",
	});
	const span = [day(3, 20), day(4, 20)] as const;
	const sum = (wanted?: WantedFraming): number =>
		nights(arch, wanted, ...span).reduce((minutes, one) => minutes + one.minutes, 0);
	const [any, whole, ground] = [sum(), sum({ wholeArch: true }), sum({ withGround: true })];
	expect(whole).toBeGreaterThan(0);
	expect(whole).toBeLessThan(any);
	// A panorama is not one frame: only the core counts, while it is low enough.
	expect(ground).toBe(sum({ withGround: true, target: "core" }));
	expect(ground).toBeGreaterThan(0);
	expect(sum({ target: "core", wholeArch: true })).toBe(0);
	for (const one of nights(arch, { target: "core" }, ...span)) expect(one.targets).toEqual(["core"]);
	const none = (text: string, wanted: WantedFraming) => nightsOf(readPlan(text), ...span, undefined, wanted).ok;
	expect(none(arch, { target: "gate" })).toBe(false);
	expect(none(planWith({}), { wholeArch: true })).toBe(false);
});

test("a comet above an altitude in the dark: never where it stays below", () => {
	const text = planWith({ targets: `- name: comet\n  aim: { comet: "${EXAMPLE_LINE}" }\n  exposure: 30 s` });
	const all = nights(text, undefined, day(1, 1), day(3, 1));
	const high = nights(text, { above: 15 }, day(1, 1), day(3, 1));
	for (const [i, one] of high.entries()) expect(one.minutes).toBeLessThanOrEqual((all[i]?.minutes ?? 0) + 15);
	expect(nights(text, { above: 89.9 }, day(1, 1), day(3, 1)).every(({ minutes }) => minutes === 0)).toBe(true);
});

test("a narrow thing that stands anywhere on the frame's lower edge is ground, wherever the target has moved meanwhile", () => {
	// A pump of 4° at 284.5°; nothing else reaches the lower edge of the portrait frame, and the comet sinks along it.
	const text = readFileSync(new URL("../../samples/dusk-comet.lode.yaml", import.meta.url), "utf8");
	const comet = evaluateText(text).targets?.value?.find((target) => target?.framing);
	expect(comet?.framing?.fits()).toHaveLength(1);
});
