import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { readPlan } from "../../shared/plan/plan.ts";

const tutorial = readFileSync(new URL("../../shared/outputs/reference/tutorial.md", import.meta.url), "utf8");
const plan = [...tutorial.matchAll(/```yaml\n([\s\S]*?)```/g)].map(([, block]) => block).join("---\n");

test("the tutorial's cells make a plan that checks clean, and the numbers it tells are the reckoning's", () => {
	const evaluation = evaluate(readPlan(plan));
	expect(check(evaluation).map(({ message }) => message)).toEqual([]);
	expect(evaluation.site?.spot.latitude).toBeCloseTo(-32.4, 1);
	for (const { value } of evaluation.methods) expect(value?.budget.radius95).toBeCloseTo(2.2, 0);
});

test("what the tutorial tells to try is underlined, with an exposure that holds", () => {
	const [finding] = check(evaluate(readPlan(plan.replace("exposure: 90 s", "exposure: 3 min"))));
	expect(finding).toMatchObject({ code: "target/tracked-too-long" });
	expect(finding?.fixes.length).toBeGreaterThan(0);
});
