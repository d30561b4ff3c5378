/** Of a target without a time of its own whose frames do not all fit, everything is said of those that do. */
import { expect, test } from "vitest";
import { eveningRows } from "../../../shared/outputs/evening.ts";
import { shotList } from "../../../shared/outputs/shot-list.ts";
import { checkText, evaluateText, planWith } from "../../plan-text.ts";
import { FIRST_PLAN, randomPlan } from "../../random-plans.ts";

const core = (frames: number): string =>
	`- name: core over the gate\n  aim: galactic-centre\n  exposure: 60 s\n  frames: ${frames}\n  trail: 2 px`;

test("its series ends with the last frame that is taken, on every face", () => {
	const evaluation = evaluateText(planWith({ targets: core(400) }));
	const sky = evaluation.evening?.steps.find(({ kind }) => kind === "sky");
	expect(sky?.frames).toBeGreaterThan(300);
	expect(sky?.frames).toBeLessThan(400);
	const [target] = evaluation.targets?.value ?? [];
	expect([target?.series.from, target?.series.until, target?.seconds]).toEqual([
		sky?.from,
		sky?.until,
		((sky?.until ?? 0) - (sky?.from ?? 0)) / 1000,
	]);
	const [shot] = shotList(evaluation);
	const row = eveningRows(evaluation).find(({ kind }) => kind === "sky");
	expect(row?.times).toBe(`${shot?.begins}–${shot?.ends}`);
	expect(shot?.until).toBe(sky?.until);
});

test("what is not taken is neither in twilight nor behind the skyline, in 300 random plans", () => {
	let partial = 0;
	for (let seed = FIRST_PLAN; seed < FIRST_PLAN + 300; seed++) {
		const text = randomPlan(seed);
		const { evening, targets } = evaluateText(text);
		const names = (evening?.steps ?? []).flatMap(({ kind, frames, of }) =>
			kind === "sky" && frames !== undefined ? [targets?.value?.[of ?? -1]?.name ?? ""] : [],
		);
		partial += names.length;
		if (names.length === 0) continue;
		for (const { code, message } of checkText(text))
			if (["target/in-twilight", "target/with-moon", "target/hidden"].includes(code))
				expect(names, `plan ${seed}: ${message}`).not.toContain(/^target \d+/.exec(message)?.[0]);
	}
	expect(partial).toBeGreaterThan(10);
});
