/** A target that begins when it comes to a place: the clock follows the date. */
import { describe, expect, test } from "vitest";
import { clockOf } from "../../shared/earth/zone.ts";
import { nightsOf } from "../../shared/evaluate/nights.ts";
import { writeNight } from "../../shared/findings/night-edits.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { codesOf, computed, evaluateText, planWith } from "../plan-text.ts";

const core = (place: string, more = ""): string =>
	`- name: core\n  aim: galactic-centre\n  at: ${place}\n  exposure: 60 s\n  frames: 5\n  trail: 2 px\n  foreground: true${more}`;
const text = (place: string, date = "2027-06-05"): string =>
	planWith({ night: `date: ${date}\narrive: "17:00"\nleave: "06:00"`, targets: core(place) });
const begins = (plan: string): string => {
	const { targets, night } = evaluateText(plan);
	return clockOf(night?.zone ?? "UTC", targets?.value?.[0]?.series.from ?? 0);
};

/** What the sky turns in half a minute is 0.13°; a bearing changes faster high up. */
const HALF_MINUTE = 0.14;

describe("a composition", () => {
	test.each([
		["{ altitude: 40° }", "target.altitude-start", 40],
		["{ altitude: 40°, setting: true }", "target.altitude-start", 40],
		["{ bearing: 120 }", "target.azimuth-start", 120],
		["{ bearing: 260 }", "target.azimuth-start", 260],
	])("%s: the first frame is then", (place, id, wanted) => {
		expect(Math.abs(computed(text(place), id) - wanted)).toBeLessThan(HALF_MINUTE);
	});

	test("a compass reading is a magnetic bearing", () => {
		// The declination is −14.7° (World Magnetic Model): 134.7° by the compass is 120.0° true.
		expect(Math.abs(computed(text("{ bearing: 134.7 M }"), "target.azimuth-start") - 120)).toBeLessThan(0.7);
	});

	test("comes four minutes earlier each day", () => {
		// By hand: right ascension 17 h 46 min, declination −29.0°, latitude −32.41°: cos H = (sin 40° − sin φ sin δ) /
		// (cos φ cos δ) = 0.519, H = 58.7°, 3 h 54 min before it transits at 01:27.
		expect(begins(text("{ altitude: 40° }"))).toBe("21:33");
		// The sidereal day is 3 min 56 s shorter than the mean solar one: 39 min in ten days.
		expect(begins(text("{ altitude: 40° }", "2027-06-15"))).toBe("20:54");
	});

	test("counts as a time of the plan: the evening keeps it, a method is done before it", () => {
		const { evening, tonight, targets } = evaluateText(text("{ altitude: 60° }"));
		const from = targets?.value?.[0]?.series.from;
		expect(evening?.steps.find(({ kind }) => kind === "sky")).toMatchObject({ from, fixed: true });
		// Aiming takes 3 min, a test frame of 60 s another 3.
		expect(tonight?.due).toBe((from ?? 0) - 360_000);
	});

	test("writing another night leaves it as it is", () => {
		const plan = readPlan(text("{ altitude: 50° }"));
		const date = { year: 2027, month: 7, day: 4 };
		const outcome = nightsOf(plan, date, date);
		const [choice] = outcome.ok ? outcome.nights : [];
		const written = choice && writeNight(plan, choice, evaluateText);
		expect(written?.ok && applyEdits(plan.text, written.edits)).toContain("at: { altitude: 50° }");
	});

	test("that does not come about is told, and the target is placed as if it had no time", () => {
		expect(codesOf(text("{ bearing: 180 }"))).toContain("target/never-there");
		expect(evaluateText(text("{ bearing: 180 }")).targets?.value?.[0]?.timed).toBe(false);
		const fixed = planWith({
			targets: "- name: wall\n  aim: { azimuth: 95, altitude: 40 }\n  at: { bearing: 100 }\n  exposure: 60 s",
		});
		expect(codesOf(fixed)).toContain("target/never-there");
	});
});

test("a series without a time of its own is done by its until, or has as many frames as are", () => {
	const until = (clock: string) => {
		const { evening, night } = evaluateText(
			planWith({
				method: "kind: compass",
				targets: `- name: Spica\n  aim: Spica\n  exposure: 60 s\n  frames: 30\n  trail: 2 px\n  until: "${clock}"`,
			}),
		);
		const step = evening?.steps.find(({ kind }) => kind === "sky");
		return step && `${clockOf(night?.zone ?? "UTC", step.until)} ${step.frames ?? 30}`;
	};
	// Spica is up, and the night is dark from 19:07 on: 30 frames of a minute.
	expect(until("20:00")).toBe("19:37 30");
	expect(until("19:20")).toBe("19:20 13");
});

describe("how dark a target has to be", () => {
	const own = (keys: string, from: string): string =>
		planWith({
			targets: `- name: Spica\n  aim: Spica\n  from: "${from}"\n  exposure: 60 s\n  foreground: true\n${keys}`,
		});

	test("its own sun-below: nautical dusk is at 18:36, astronomical dusk at 19:06", () => {
		expect(codesOf(own("", "18:40"))).toContain("target/in-twilight");
		expect(codesOf(own("  sun-below: 12°", "18:40"))).not.toContain("target/in-twilight");
		expect(codesOf(own("  sun-below: 12°", "18:30"))).toContain("target/in-twilight");
	});

	test("its own moon-allowed, and 10 % where nothing is said", () => {
		// The Moon is lit to 66 % in that night.
		const moonlit = (targetKeys: string, nightKeys = ""): readonly string[] =>
			codesOf(
				planWith({
					night: `date: 2027-06-12\narrive: "17:00"\nleave: "06:00"${nightKeys}`,
					method: "kind: compass",
					targets: `${core('"20:00"', targetKeys)}`,
				}),
			);
		expect(moonlit("")).toContain("target/with-moon");
		expect(moonlit("\n  moon-allowed: 70 %")).not.toContain("target/with-moon");
		expect(moonlit("\n  moon-allowed: 20 %", "\nmoon-allowed: 70 %")).toContain("target/with-moon");
		expect(evaluateText(text('"20:30"', "2027-06-07")).night).toMatchObject({ moonAllowed: 10 });
	});

	test("a night without darkness is no trouble for targets that ask for less", () => {
		const white = (keys: string): readonly string[] =>
			codesOf(
				planWith({
					site: "name: Skerry\nlatitude: 60 N\nlongitude: 12.6 E\nplace: [shore]",
					night: "date: 2027-06-20",
					method: "kind: compass",
					targets: `- name: Vega\n  aim: Vega\n  exposure: 4 s\n  foreground: true\n${keys}`,
				}),
			);
		expect(white("")).toContain("night/no-darkness");
		expect(white("  sun-below: 4°")).not.toContain("night/no-darkness");
	});
});
