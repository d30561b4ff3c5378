import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { chanceText } from "../../shared/notation/chance.ts";
import { readPlan } from "../../shared/plan/plan.ts";

const tutorial = readFileSync(new URL("../../shared/outputs/reference/tutorial.md", import.meta.url), "utf8");
const plan = [...tutorial.matchAll(/```yaml\n([\s\S]*?)```/g)].map(([, block]) => block).join("---\n");

test("the tutorial's cells make a plan with one finding: that the laser is not cleared", () => {
	const evaluation = evaluate(readPlan(plan));
	expect(check(evaluation).map(({ code }) => code)).toEqual(["method/local-rules"]);
	expect(tutorial).not.toContain("local-rules-checked: true");
});

test("the numbers it tells are the evaluation's", () => {
	const { site, methods, field, tonight } = evaluate(readPlan(plan));
	expect(site?.spot.latitude).toBeCloseTo(-32.4, 1);
	expect(tutorial).toContain(`${Math.abs(field?.declination ?? 0).toFixed(0)}°`);
	expect(site?.cover.skylineAt(180).toFixed(0)).toBe("50");
	expect((90 - Math.abs(tonight?.spot.latitude ?? 0)).toFixed(1)).toBe("57.6");
	for (const { value } of methods) expect(value?.budget.radius95).toBeCloseTo(2.2, 0);
	const allowed = (text: string) => evaluate(readPlan(text)).targets?.value?.[0]?.limits?.axisErrorAllowed;
	expect(allowed(plan)).toBeGreaterThan(2);
	expect(allowed(plan.replace("24 mm", "200 mm"))).toBeCloseTo(0.5, 1);
});

test("what the tutorial tells to try is underlined, with the chance it tells and an exposure that is sharp", () => {
	const evaluation = evaluate(readPlan(plan.replace("exposure: 90 s", "exposure: 3 min")));
	const finding = check(evaluation).find(({ code }) => code === "target/tracked-too-long");
	expect(finding?.fixes.length).toBeGreaterThan(0);
	const chance = evaluation.targets?.value?.[0]?.limits?.chance ?? Number.NaN;
	expect(tutorial).toContain(`chance of a sharp frame falls to ${chanceText(chance)}`);
});
