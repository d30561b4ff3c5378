/** What helps against a lack of time: to leave later helps where the target can be taken beyond the leaving alone. */
import { expect, test } from "vitest";
import { createEvaluator } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { readPlan } from "../../shared/plan/plan.ts";

const messages = (leave: string, keys: string): readonly string[] =>
	check(
		createEvaluator()(
			readPlan(
				exampleText({
					night: `date: 2027-06-05\narrive: "17:00"\nleave: "${leave}"`,
					targets: `- name: core\n  aim: galactic-centre\n  exposure: 60 s\n  gap: 5 s\n${keys}`,
				}),
			),
		),
	).flatMap(({ code, message }) => (code === "evening/left-out" ? [String(message)] : []));

test("what ends while one is there is no reason to leave later", () => {
	for (const [keys, begins] of [
		['  frames: 60\n  until: "20:50"', /^Only \d+ of the 60 frames of core fit, from /],
		['  frames: 60\n  until: "20:12"', /^There is no time for core: /],
	] as const) {
		const [found = ""] = messages("02:00", keys);
		expect(found).toMatch(begins);
		expect(found).toMatch(/can be taken only until 20:(?:50|12)\. Take fewer frames, or align and begin earlier\.$/);
		expect(found).not.toMatch(/leave later/);
	}
});

test("what one leaves too early for is", () => {
	const [found = ""] = messages("21:00", "  frames: 60");
	expect(found).toMatch(/ or leave later\.$/);
});
