/** `nights --write` on random plans and nights: what is written has no error or warning that was not there; else a reason. */
import { expect, test } from "vitest";
import { nightsOf } from "../../shared/evaluate/nights.ts";
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
