/** A more accurate method is offered only where it is done before the frames. */
import { expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { readPlan } from "../../shared/plan/plan.ts";

/** A cave whose one star for a laser passes at 00:45. */
const cave = (at: string): string => `site:
  name: Kittiwake cave
  latitude: 50.2 N
  longitude: 5.5 W
  skyline: [[0, 70], [100, 60], [150, 4], [230, 4], [270, 60]]
  openings:
    - { name: mouth, outline: [[140, 1], [240, 1], [225, 40], [190, 55], [150, 40]] }
---
night: { date: 2027-08-03, arrive: "22:40", leave: "01:30" }
---
lens: { focal-length: 24 mm, sensor: full-frame, pixels: 6000 x 4000 }
---
tracker: { head: geared }
---
method: { kind: phone }
---
targets:
  - { name: core, aim: galactic-centre, at: "${at}", exposure: 35 s, frames: 2 }
`;

const found = (from: string): string =>
	check(
		evaluate(
			readPlan(
				exampleText({
					site: "name: Fold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 60], [90, 30], [180, 60], [270, 30]]",
					night: 'date: 2027-06-05\narrive: "18:30"\nleave: "02:00"',
					method: "kind: phone",
					targets: `- name: core\n  aim: galactic-centre\n  from: "${from}"\n  exposure: 60 s`,
				}),
			),
		),
	).find(({ code }) => code === "method/better-available")?.message ?? "";

test("whatever the frames' time, what is offered for a time is offered for one before them", () => {
	let timed = 0;
	for (let minute = 19 * 60 + 30; minute <= 23 * 60 + 30; minute += 20) {
		const from = `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, "0")}`;
		const [, at] = / at (\d\d:\d\d)/.exec(found(from)) ?? [];
		if (at === undefined) continue;
		timed++;
		expect(at < from, `frames at ${from}: ${at}`).toBe(true);
	}
	expect(timed).toBeGreaterThan(3);
});

test("a star that passes after the frames is not offered, however accurate", () => {
	const message = (at: string): string =>
		check(evaluate(readPlan(cave(at)))).find(({ code }) => code === "method/better-available")?.message ?? "";
	expect(message("01:05")).toMatch(/theta Aquilae at 00:45/);
	expect(message("23:36")).not.toContain("theta Aquilae");
});
