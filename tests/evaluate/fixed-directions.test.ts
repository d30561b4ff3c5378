/** Fixed directions and arcs: what a running tracker does to them, and the same darkness and view as for any target. */
import { describe, expect, test } from "vitest";
import { nightsOf } from "../../shared/evaluate/nights.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { toVector } from "../../shared/sky/horizontal.ts";
import { separation } from "../../shared/sky/vector.ts";
import { checkText, codesOf, computed, evaluateText, valuesOf } from "../plan-text.ts";

/** The example plan with one target, its keys given line by line. */
const plan = (lines: readonly string[], changes: object = {}): string =>
	exampleText({ ...changes, targets: ["- name: field", ...lines.map((line) => `  ${line}`)].join("\n") });

const targetOf = (text: string) => {
	const target = evaluateText(text).targets?.value?.[0];
	if (!target) throw new Error("no target");
	return target;
};

describe("a fixed direction", () => {
	test("with the tracker running is carried with the stars; without it stays", () => {
		const series = ['from: "21:30"', "exposure: 60 s", "frames: 60"];
		const star = targetOf(plan(["aim: Spica", ...series]));
		const start = star.directionAt(star.series.from);
		const aim = `aim: { azimuth: ${start.azimuth}, altitude: ${start.altitude} }`;
		const carried = targetOf(plan([aim, ...series]));
		for (const share of [0, 0.5, 1]) {
			const at = carried.series.from + share * (carried.series.until - carried.series.from);
			const off = separation(toVector(carried.directionAt(at)), toVector(star.directionAt(at)));
			// Refraction alone keeps it from the star.
			expect(off, `${share}`).toBeLessThan(0.05);
		}
		const text = plan([aim, ...series]);
		expect(Math.abs(computed(text, "target.altitude-end") - start.altitude)).toBeGreaterThan(5);
		const still = targetOf(plan([aim, ...series, "tracked: false"]));
		expect(still.directionAt(still.series.until)).toEqual(still.directionAt(still.series.from));
	});

	test("with the tracker running trails as any tracked frame does: too long an exposure is told", () => {
		const long = ['from: "21:30"', "exposure: 600 s", "trail: 0.5 px"];
		const compass = { method: "kind: compass" };
		expect(codesOf(plan(["aim: { azimuth: 20, altitude: 45 }", ...long], compass))).toContain(
			"target/tracked-too-long",
		);
		expect(codesOf(plan(["aim: { azimuth: 20, altitude: 45 }", "tracked: false", ...long], compass))).not.toContain(
			"target/tracked-too-long",
		);
	});

	test("in the sky is in view and usable as anything there; behind the skyline it is a frame of the ground", () => {
		const frames = ["exposure: 10 s", "tracked: false"];
		const sky = targetOf(plan(["aim: { azimuth: 20, altitude: 45 }", ...frames]));
		const night = evaluateText(plan(["aim: Spica", ...frames])).night;
		expect(sky.usable).toEqual(night?.moonless);
		// The skyline at 190° is some 50° high.
		const hidden = plan(["aim: { azimuth: 190, altitude: 20 }", ...frames]);
		expect(valuesOf(hidden).get("target.in-view")).toBe("no sky in the middle of the frame");
		expect(targetOf(hidden).usable).toEqual([night?.onSite]);
		expect(codesOf(hidden)).not.toContain("target/hidden");
		// Where stars are asked for, it is hidden.
		const asked = plan(["aim: { azimuth: 190, altitude: 20 }", 'from: "21:30"', "stars: sharp", ...frames]);
		expect(codesOf(asked)).toContain("target/hidden");
		expect(valuesOf(asked).get("target.in-view")).toBe("never");
	});

	test.each([["stars: trails"], ["stars: sharp"], ["tracked: true"]])(
		"with %s in twilight or under the Moon is told so as any target is, and less where the ground may be meant",
		(key) => {
			const severity = (time: string, night: object, ...keys: readonly string[]) =>
				Object.fromEntries(
					checkText(
						plan(
							["aim: { azimuth: 20, altitude: 45 }", `from: "${time}"`, "exposure: 5 s", "frames: 60", ...keys],
							night,
						),
					).map(({ code, severity }) => [code, severity]),
				);
			expect(severity("18:50", {}, key)["target/in-twilight"]).toBe("warning");
			expect(severity("18:50", {}, "tracked: false")["target/in-twilight"]).toBe("info");
			// By day nobody means the stars.
			expect(severity("17:05", {}, "tracked: false")["target/in-twilight"]).toBeUndefined();
			const moon = { night: 'date: 2027-06-15\narrive: "17:00"\nleave: "02:00"' };
			expect(severity("21:30", moon, key)["target/with-moon"]).toBe("warning");
			expect(severity("21:30", moon, "tracked: false")["target/with-moon"]).toBe("info");
		},
	);

	test.each([["aim: { azimuth: 20, altitude: 45 }"], ["aim: Spica"]])(
		"nights and the plan itself count the same minutes: %s",
		(aim) => {
			for (const keys of [["stars: trails"], ["tracked: false"]]) {
				const text = plan([aim, "exposure: 10 s", ...keys], { method: null, tracker: null });
				const outcome = nightsOf(readPlan(text), { year: 2027, month: 6, day: 5 }, { year: 2027, month: 6, day: 5 });
				const [night] = outcome.ok ? [...outcome.nights] : [];
				expect(night?.minutes).toBeCloseTo(computed(text, "target.minutes-usable"), 6);
			}
		},
	);
});
