/** What leaves the frames whole: default times of methods, what is suggested first, how late a fallback may begin. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { clockOf } from "../../../shared/earth/zone.ts";
import type { Evaluation } from "../../../shared/evaluate/evaluate.ts";
import { suggestionsFor, withCost } from "../../../shared/evaluate/suggestions.ts";
import { eveningRows } from "../../../shared/outputs/evening.ts";
import { both } from "../../../shared/sky/intervals.ts";
import { told } from "../../../shared/text/sentence.ts";
import { evaluateText, planWith } from "../../plan-text.ts";
import { FIRST_PLAN, randomPlan } from "../../random-plans.ts";

const sample = (name: string): string =>
	readFileSync(new URL(`../../../samples/${name}.lode.yaml`, import.meta.url), "utf8");
const alignRow = (evaluation: Evaluation): string => {
	const row = eveningRows(evaluation).find(({ kind }) => kind === "align");
	return `${row?.times} ${/not done by.*$/.exec(row?.about ?? "")?.[0] ?? ""}`;
};
const target = (from: string): string =>
	`- name: core over the gate\n  aim: galactic-centre\n  from: "${from}"\n  exposure: 60 s\n  frames: 12\n  trail: 2 px`;

describe("fallbacks", () => {
	test("the chapel: getting ready for 20:30 takes 7 min, the landmark 8", () => {
		expect(alignRow(evaluateText(sample("roofless-chapel")))).toBe(
			"19:56–20:06 not done by 20:06: fallback 1 (bearing from a landmark), begun by 20:15",
		);
	});

	test("none that comes too late", () => {
		// At 20:06 the laser is done; for frames at 20:20 one gets ready from 20:14, and the landmark takes 8 min.
		const fallback = (from: string): string =>
			alignRow(
				evaluateText(
					planWith({
						method: [
							'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true',
							"kind: phone\nreads: magnetic\ntakes: 8 min",
						],
						targets: target(from),
					}),
				),
			);
		expect(fallback("20:20")).toBe("19:56–20:06 not done by 20:06: fallback 1 (phone)");
		expect(fallback("20:19")).toBe("19:56–20:06 ");
	});

	test("those that may begin as late as each other are told together, others by time", () => {
		const told = (name: string): string => /not done by.*$/.exec(alignRow(evaluateText(sample(name))))?.[0] ?? "";
		expect(told("dry-gorge")).toBe("not done by 19:39: fallback 1 (compass) or fallback 2 (phone)");
		const method = [
			'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true',
			"kind: phone\nreads: magnetic\ntakes: 4 min",
			"kind: compass\ntakes: 8 min",
		];
		expect(alignRow(evaluateText(planWith({ method, targets: target("20:30") })))).toBe(
			"19:56–20:06 not done by 20:06: fallback 2 (compass), begun by 20:16; fallback 1 (phone), begun by 20:20",
		);
	});

	test("one with a clock time of its own is there whenever it works", () => {
		// Sirius can be sighted until 21:56; for frames at 20:30 one gets ready from 20:24, and the sighting takes 8 min.
		expect(alignRow(evaluateText(sample("terrace-near-the-line")))).toBe(
			"19:32–19:47 not done by 20:16: fallback 1 (bearing from the sky)",
		);
	});
});

test("a method with a clock time of its own is in the evening where nothing is tracked, and one without is not", () => {
	const skerry = sample("midsummer-skerry");
	const rows = (text: string) => eveningRows(evaluateText(text)).filter(({ kind }) => kind === "align");
	const at = /at: "(20:\d\d)"/.exec(skerry)?.[1];
	const [row, ...others] = rows(skerry);
	expect(others).toEqual([]);
	expect(row?.say).toBe("Align: bearing from the sky");
	// The sighting takes 8 min, half of it before its time.
	const middle = ((row?.at ?? 0) + (row?.until ?? 0)) / 2;
	expect(clockOf("Europe/Oslo", middle)).toBe(at);
	expect(rows(skerry.replace(`  at: "${at}"\n`, ""))).toEqual([]);
});

const COUNT = Number(process.env.LODEBOOK_EVENINGS ?? 300);

test(`the default times of methods in ${COUNT} random plans from LODEBOOK_SEED=${FIRST_PLAN} on: after setting up, in time for the frames, wherever there is such a minute`, () => {
	let some = 0;
	for (let seed = FIRST_PLAN; seed < FIRST_PLAN + COUNT; seed++) {
		const { methods, tonight } = evaluateText(randomPlan(seed));
		for (const { value } of methods) {
			if (!value || !tonight || value.content.at !== undefined || value.setUp.at === undefined) continue;
			const half = value.takes * 500;
			const whole = both(value.setUp.windows, [
				{ from: tonight.ready + half, until: (tonight.due ?? Number.POSITIVE_INFINITY) - half },
			]).filter(({ from, until }) => Math.ceil(from / 60_000) <= Math.floor(until / 60_000));
			if (whole.length === 0) continue;
			some++;
			const { at } = value.setUp;
			const where = `plan ${seed}, ${value.method.kind} at ${clockOf(tonight.zone, at)}`;
			expect(
				whole.some(({ from, until }) => from <= at + 60_000 && at - 60_000 <= until),
				where,
			).toBe(true);
		}
	}
	expect(some).toBeGreaterThan(COUNT / 10);
});

test("guide stars that leave the frames whole come first; the others say what they cost", () => {
	const evaluation = evaluateText(planWith({ targets: target("20:30") }));
	const [{ value } = { value: undefined }] = evaluation.methods;
	const { tonight } = evaluation;
	if (!value || !tonight) throw new Error("the example has a method");
	const found = suggestionsFor(evaluation, value.method, value.content);
	const said = found.map((one) =>
		told(withCost(evaluation, value.method, value.content, one, value.method.search?.detail(one, tonight) as never)),
	);
	const costs = said.map(
		(text) => /; (the frames begin .* later|before you are set up \(17:20\))$/.exec(text)?.[1] ?? "",
	);
	const first = costs.findIndex((cost) => cost !== "");
	expect(first).toBeGreaterThan(0);
	expect(costs.slice(first).every((cost) => cost !== "")).toBe(true);
	// An alignment of 10 min must be done at 20:24, when aiming (3 min) and the test frame (3 min) begin.
	for (const [i, { at }] of found.entries()) {
		const late = Math.ceil((at + 300_000 - (tonight.due as number)) / 60_000);
		if (late > 0 && late < 87) expect(costs[i]).toMatch(new RegExp(`begin ${late} (min|s) later|begin .*min.* later`));
	}
	expect(clockOf(tonight.zone, tonight.due as number)).toBe("20:24");
});
