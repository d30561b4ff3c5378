/** Alignment lost: what can align again, by hand, and what must hold for any plan. */

import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { clockOf } from "../../../shared/earth/zone.ts";
import type { Evaluation } from "../../../shared/evaluate/evaluate.ts";
import { alignmentsLost } from "../../../shared/evaluate/evening/lost.ts";
import { contains } from "../../../shared/sky/intervals.ts";
import { evaluateText, planWith } from "../../plan-text.ts";
import { FIRST_PLAN, randomPlan } from "../../random-plans.ts";

const sample = (name: string): string =>
	readFileSync(new URL(`../../../samples/${name}.lode.yaml`, import.meta.url), "utf8");

/** `20:30, 12 to come: landmark-bearing water tower 20:30–20:38, by 01:33, 12 left`. */
function told(evaluation: Evaluation): readonly string[] {
	const { night } = evaluation;
	const clock = (at: number): string => clockOf(night?.zone ?? "UTC", at);
	return alignmentsLost(evaluation).flatMap(({ at, planned, ways }) => [
		`${clock(at)}, ${planned} to come`,
		...ways.map(({ value, from, until, latest, frames }) =>
			[
				`  ${[value.method.kind, ...value.setUp.marks.map(({ name }) => name)].join(" ")}`,
				`${clock(from)}–${clock(until)}, by ${clock(latest)}, ${frames} left`,
			].join(": "),
		),
	]);
}

const phone = "kind: phone\nreads: magnetic";

describe("by hand", () => {
	test("another guide star later, the landmark at once; one frame is left until packing up at 01:50", () => {
		// 01:50 less 90 s for the frame, 7 min for aiming and a test frame, 8 min for the alignment: 01:33:30.
		expect(told(evaluateText(sample("roofless-chapel")))).toEqual([
			"20:30, 12 to come",
			"  square-laser zeta Virginis: 21:12–21:22, by 21:14, 12 left",
			"  landmark-bearing water tower: 20:30–20:38, by 01:33, 12 left",
		]);
	});

	test("each half hour of the clock, less the frames that were taken: 12 of 48 s in the first ten minutes", () => {
		expect(told(evaluateText(sample("dry-gorge"))).filter((line) => line.includes("to come"))).toEqual([
			"19:50, 20 to come",
			"20:00, 8 to come",
		]);
	});

	test("fewer frames are left than are still to come where the night ends", () => {
		// The phone is done at 22:05; aiming takes 3 min and a test frame 3: 22:11 to 23:50 are 99 min.
		const text = planWith({
			night: 'date: 2027-06-05\narrive: "17:00"\nleave: "00:00"',
			method: phone,
			targets:
				'- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 60 s\n  frames: 140\n  trail: 2 px',
		});
		expect(told(evaluateText(text)).slice(0, 4)).toEqual([
			"21:30, 140 to come",
			"  phone: 21:30–21:35, by 23:38, 129 left",
			"22:00, 110 to come",
			"  phone: 22:00–22:05, by 23:38, 99 left",
		]);
	});

	test("nothing where the only method has no star any more; what corrects another's axis is no way back", () => {
		const laser = 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true';
		const short = 'date: 2027-06-05\narrive: "17:00"\nleave: "20:59"';
		const targets =
			'- name: core over the gate\n  aim: galactic-centre\n  from: "20:30"\n  exposure: 60 s\n  frames: 12\n  trail: 2 px';
		const drift = "kind: drift";
		expect(told(evaluateText(planWith({ night: short, method: [laser, drift], targets })))).toEqual([
			"20:30, 12 to come",
		]);
	});

	test("a tripod that is moved is aligned again anyway: only frames until then are lost", () => {
		const text = planWith({
			method: phone,
			targets: [
				'- name: core\n  aim: galactic-centre\n  from: "20:30"\n  exposure: 60 s\n  frames: 30\n  trail: 2 px',
				'- name: arch\n  aim: Antares\n  from: "22:00"\n  exposure: 60 s\n  frames: 10\n  trail: 2 px\n  tripod: moved',
			].join("\n"),
		});
		expect(told(evaluateText(text)).filter((line) => line.includes("to come"))).toEqual([
			"20:30, 30 to come",
			// From 21:00 the tripod is carried and set up; it is aligned by 21:20.
			"21:30, 10 to come",
			"22:00, 10 to come",
		]);
	});

	test("none without tracked frames", () => {
		const targets =
			'- name: arcs\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 60 s\n  frames: 20\n  stars: trails';
		expect(alignmentsLost(evaluateText(planWith({ targets })))).toEqual([]);
	});
});

const COUNT = Number(process.env.LODEBOOK_EVENINGS ?? 300);

describe(`${COUNT} random plans from LODEBOOK_SEED=${FIRST_PLAN} on`, () => {
	let ways = 0;
	test("each way back works at its minute, is done before its frames, and leaves no more than were to come", () => {
		for (let seed = FIRST_PLAN; seed < FIRST_PLAN + COUNT; seed++) {
			const evaluation = evaluateText(randomPlan(seed));
			const { night, evening, methods } = evaluation;
			let before = Number.NEGATIVE_INFINITY;
			for (const { at, planned, ways: list } of alignmentsLost(evaluation)) {
				expect(at, `plan ${seed}`).toBeGreaterThan(before);
				before = at;
				expect(evening).toBeDefined();
				for (const { of, value, from, until, latest, frames } of list) {
					ways++;
					const where = `plan ${seed} at ${clockOf(night?.zone ?? "UTC", at)} by method ${of}`;
					expect(value.method.kind, where).toBe(methods[of]?.value?.method.kind);
					expect(value.works, where).toBe(true);
					expect(contains(value.setUp.windows, value.setUp.at as number), where).toBe(true);
					expect(Math.abs((value.setUp.at as number) - (from + until) / 2), where).toBeLessThan(60_000);
					expect(from, where).toBeGreaterThanOrEqual(at);
					expect((until - from) / 1000, where).toBe(value.takes);
					expect(latest, where).toBeGreaterThanOrEqual(from);
					expect(frames, where).toBeGreaterThan(0);
					expect(frames, where).toBeLessThanOrEqual(planned);
				}
			}
		}
		expect(ways).toBeGreaterThan(COUNT);
	});
});
