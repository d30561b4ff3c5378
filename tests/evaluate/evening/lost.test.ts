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

	test("what frames of the sky leave no time for is told: the ground, dark frames", () => {
		// At 20:29:40 the last of 30 minutes is taken; realigned, one takes as many until packing up from 20:50.
		const plan = (leave: string): readonly (readonly string[])[] =>
			alignmentsLost(
				evaluateText(
					planWith({
						night: `date: 2027-06-05\narrive: "17:00"\nleave: "${leave}"`,
						method: phone,
						targets:
							'- name: core over the gate\n  aim: galactic-centre\n  from: "20:30"\n  exposure: 10 s\n  gap: 0 s\n  frames: 60\n  trail: 2 px\n  foreground: { exposure: 60 s, frames: 2 }\n  darks: 60',
					}),
				),
			).map(({ ways }) => ways[0]?.without ?? []);
		// 20:30, the phone until 20:35, aiming and a test frame until 20:41, frames until 20:51; the ground takes 6 min, the
		// dark frames 11, of which 10 are beside packing up.
		expect(plan("21:08")).toEqual([[]]);
		expect(plan("21:06")).toEqual([["foreground"]]);
		expect(plan("21:01")).toEqual([["foreground", "darks"]]);
	});

	test("frames that would trail with the axis of another method are told so, with what holds", () => {
		const [row] = alignmentsLost(evaluateText(sample("dry-gorge")));
		expect(row?.ways.map(({ value, trailing }) => [value.method.kind, trailing.length])).toEqual([
			["sky-bearing", 0],
			["compass", 0],
			["phone", 1],
		]);
		// As the plan with that method alone says it.
		const cells = sample("dry-gorge").split("---\n");
		const alone = evaluateText(cells.filter((cell) => !/kind: (?:sky-bearing|compass)/.test(cell)).join("---\n"));
		const limits = alone.targets?.value?.[0]?.limits;
		expect(alone.aligned?.method.kind).toBe("phone");
		const [trailing] = row?.ways[2]?.trailing ?? [];
		expect(trailing?.chance).toBeCloseTo(limits?.chance as number, 6);
		expect(trailing?.longest).toBeCloseTo(limits?.tracked as number, 6);
		expect(trailing?.chance).toBeLessThan(0.9);
	});

	test("what is composed for a moment says by how much its frames miss it; the rest of a series that goes on does not", () => {
		const passed = (text: string): readonly (readonly number[])[] =>
			alignmentsLost(evaluateText(text)).map(({ ways }) => ways[0]?.passed.map(({ by }) => by / 60_000) ?? []);
		// The arch: 23:28 at 201°; a landmark takes 8 min, aiming and a test frame 6.
		expect(passed(sample("lone-arch"))).toEqual([[14], [16]]);
		expect(passed(sample("lone-arch").replace("at: { bearing: 201 }", 'from: "23:28"'))).toEqual([[], []]);
		// Of a series that lasts until 23:55 frames are taken again within its time.
		expect(passed(sample("lone-arch").replace("frames: 20", "frames: 50"))[0]).toEqual([]);
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
