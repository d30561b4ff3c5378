/** `nights --write` on random plans and nights: what is written has no error or warning that was not there; else a reason. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { nightsOf, withoutClock } from "../../shared/evaluate/nights.ts";
import { suggestionsFor } from "../../shared/evaluate/suggestions.ts";
import { check } from "../../shared/findings/check.ts";
import { writeNight } from "../../shared/findings/night-edits.ts";
import { dateText } from "../../shared/notation/date.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { told } from "../../shared/text/sentence.ts";
import { evaluateText } from "../plan-text.ts";
import { FIRST_PLAN, random, randomPlan } from "../random-plans.ts";

const COUNT = Number(process.env.LODEBOOK_EVENINGS ?? 500);

/** How many errors and warnings of each code a text has. */
function problems(text: string): ReadonlyMap<string, number> {
	const counts = new Map<string, number>();
	for (const { code, severity } of check(evaluateText(text)))
		if (severity !== "info") counts.set(code, (counts.get(code) ?? 0) + 1);
	return counts;
}

test(`${COUNT} random plans and nights from LODEBOOK_SEED=${FIRST_PLAN} on`, () => {
	let [written, refused] = [0, 0];
	for (let seed = FIRST_PLAN; seed < FIRST_PLAN + COUNT; seed++) {
		const text = randomPlan(seed);
		const below = random(seed + 100_000);
		const date = { year: 2026 + below(3), month: 1 + below(12), day: 1 + below(28) };
		const plan = readPlan(text);
		const outcome = nightsOf(plan, date, date);
		const [choice] = outcome.ok ? outcome.nights : [];
		if (!choice) throw new Error(`plan ${seed} has no night`);
		const result = writeNight(plan, choice, evaluateText);
		if (!result.ok) {
			refused++;
			expect(told(result.why), `plan ${seed}`).toMatch(/^the evening of \d{4}-\d\d-\d\d cannot be written.+: .+/);
			continue;
		}
		written++;
		const after = applyEdits(text, result.edits);
		expect(after, `plan ${seed}`).toContain(`date: ${dateText(date)}`);
		const before = problems(text);
		for (const [code, count] of problems(after))
			expect(count, `plan ${seed} on ${dateText(date)}: ${code}`).toBeLessThanOrEqual(before.get(code) ?? 0);
	}
	expect(written).toBeGreaterThan(COUNT * 0.4);
	expect(refused).toBeGreaterThan(COUNT / 20);
}, 600_000);

const STARS = Math.ceil(COUNT / 5);

test(`the guide star that is written is the first that is offered for the plan as it is then: ${STARS} random plans from LODEBOOK_SEED=${FIRST_PLAN} on`, () => {
	let written = 0;
	for (let seed = FIRST_PLAN; seed < FIRST_PLAN + STARS; seed++) {
		const laser = "method:\n  kind: square-laser\n  guide-star: Mintaka\n  local-rules-checked: true";
		const text = randomPlan(seed).replace(/method:\n(?:(?!---).*\n)*?(?=---)/, `${laser}\n`);
		const below = random(seed + 200_000);
		const date = { year: 2026 + below(3), month: 1 + below(12), day: 1 + below(28) };
		const plan = readPlan(text);
		const outcome = nightsOf(plan, date, date);
		const [choice] = outcome.ok ? outcome.nights : [];
		if (!choice || choice.marks.length < 2) continue;
		const result = writeNight(plan, choice, evaluateText);
		if (!result.ok || !result.mark) continue;
		const evaluation = evaluateText(applyEdits(text, result.edits));
		const value = evaluation.methods.find(({ cell }) => cell.index === choice.cell)?.value;
		if (!value?.method.search?.momentary) continue;
		const [best] = suggestionsFor(evaluation, value.method, withoutClock(value.content), { twilight: false });
		expect([result.mark.name, result.mark.at], `plan ${seed} on ${dateText(date)}`).toEqual([best?.name, best?.at]);
		written++;
	}
	expect(written).toBeGreaterThan(STARS / 10);
}, 600_000);

test("frames that keep their time want the star that is best before them, not the earliest", () => {
	// The core is usable from 19:36; upsilon Leonis at 19:15 leaves all of that, eta Virginis is nearer its place at 19:58,
	// and the frames are at 20:30.
	const text = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");
	const date = { year: 2027, month: 6, day: 6 };
	const plan = readPlan(text);
	const outcome = nightsOf(plan, date, date);
	const [choice] = outcome.ok ? outcome.nights : [];
	expect(choice?.marks[0]?.name).toBe("upsilon Leonis");
	const result = choice && writeNight(plan, choice, evaluateText);
	expect(result?.ok && result.mark?.name).toBe("eta Virginis");
	const after = evaluateText(result?.ok ? applyEdits(text, result.edits) : text);
	const [first] = after.methods.flatMap(({ value }) =>
		value ? suggestionsFor(after, value.method, value.content) : [],
	);
	expect([first?.name, first?.at]).toEqual(["eta Virginis", result?.ok && result.mark?.at]);
});

test("frames without a time want the star that leaves most of the night, in what is offered as in what nights tells", () => {
	const text = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8")
		.replace('    from: "20:30"\n', "")
		.replace('  at: "20:01"\n', "");
	const plan = readPlan(text);
	const outcome = nightsOf(plan, { year: 2027, month: 6, day: 5 }, { year: 2027, month: 6, day: 5 });
	const [choice] = outcome.ok ? outcome.nights : [];
	const evaluation = evaluateText(text);
	const [value] = evaluation.methods.flatMap((one) => one.value ?? []);
	const offered = value ? suggestionsFor(evaluation, value.method, value.content, { twilight: false }) : [];
	expect(offered.slice(0, choice?.marks.length).map(({ name }) => name)).toEqual(choice?.marks.map(({ name }) => name));
	expect(offered[0]?.name).toBe("upsilon Leonis");
});
