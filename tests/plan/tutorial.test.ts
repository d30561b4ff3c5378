import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { chanceText } from "../../shared/notation/chance.ts";
import { type Camera, pixelScaleArcsec } from "../../shared/optics/camera.ts";
import { tutorialPictures } from "../../shared/outputs/reference/tutorial-pictures.ts";
import { readPlan } from "../../shared/plan/plan.ts";

const tutorial = readFileSync(new URL("../../shared/outputs/reference/tutorial.md", import.meta.url), "utf8");
/** Lines may break anywhere. */
const told = tutorial.replace(/\s+/g, " ");
const plan = [...tutorial.matchAll(/```yaml\n([\s\S]*?)```/g)].map(([, block]) => block).join("---\n");

test("the tutorial's cells make a plan with one finding: that the laser is not cleared", () => {
	const evaluation = evaluate(readPlan(plan));
	expect(check(evaluation).map(({ code }) => code)).toEqual(["method/local-rules"]);
	expect(tutorial).not.toContain("local-rules-checked: true");
});

test("its pictures are drawn of its own plan, and each is shown", () => {
	const folder = new URL("../../shared/outputs/reference/pictures/", import.meta.url);
	const drawn = tutorialPictures(tutorial);
	const names = [...drawn.keys()].map((name) => `tutorial-${name}.svg`).sort();
	expect(names.length).toBe(4);
	expect(readdirSync(folder).sort()).toEqual(names);
	expect([...tutorial.matchAll(/!\[[^\]]+\]\(pictures\/([\w.-]+)\)/g)].map(([, name]) => name).sort()).toEqual(names);
	// Stale ones: npm run generate.
	for (const [name, picture] of drawn)
		expect(readFileSync(new URL(`tutorial-${name}.svg`, folder), "utf8"), name).toBe(picture);
});

test("the numbers it tells are the evaluation's", () => {
	const { site, methods, field, tonight, lenses } = evaluate(readPlan(plan));
	expect(site?.spot.latitude).toBeCloseTo(-32.4, 1);
	expect(tutorial).toContain(`${Math.abs(field?.declination ?? 0).toFixed(0)}°`);
	expect(site?.cover.skylineAt(180).toFixed(0)).toBe("50");
	expect((90 - Math.abs(tonight?.spot.latitude ?? 0)).toFixed(1)).toBe("57.6");
	const [laser, landmark] = methods.map(({ value }) => value?.budget.radius95 ?? Number.NaN);
	expect(told).toContain(`within ${laser?.toFixed(1)}° of the pole and the second within ${landmark?.toFixed(1)}°`);
	// Over a frame the axis error turns with the sky; the tutorial gives one significant digit.
	const drift = ((laser ?? 0) * 3600 * 15.041 * 90) / 206_265;
	expect(told).toContain(`drift by about ${(Math.round(drift / 10) * 10).toFixed(0)}″`);
	const camera = lenses[0]?.value?.camera as Camera;
	expect(told).toContain(`one pixel of this lens covers ${pixelScaleArcsec(camera).toFixed(0)}″`);
	expect(told).toContain(`At 200 mm a pixel covers ${pixelScaleArcsec({ ...camera, focalLength: 200 }).toFixed(0)}″`);
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
