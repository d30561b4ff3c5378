/** The evening's placed times written into the plan: the same evening, and no new problem. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { writeEvening } from "../../../shared/findings/evening-edits.ts";
import { newProblem, problemsOf } from "../../../shared/findings/new-problems.ts";
import { applyEdits } from "../../../shared/text/edits.ts";
import { told } from "../../../shared/text/sentence.ts";
import { evaluateText } from "../../plan-text.ts";
import { FIRST_PLAN, randomPlan } from "../../random-plans.ts";

const chapel = readFileSync(new URL("../../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");
const written = (text: string): string => {
	const outcome = writeEvening(evaluateText(text), evaluateText);
	return outcome.ok ? applyEdits(text, outcome.edits) : told(outcome.why);
};

test("the chapel without times: laser, frames and foreground get theirs, and nothing else changes", () => {
	const text = chapel.replace('    from: "20:30"\n', "").replace('  at: "20:01"\n', "");
	const lines = written(text).split("\n");
	const before = text.split("\n");
	// Aiming takes 3 min and a test frame of 90 s 4 min after the laser, which is done at 20:07.
	expect(lines.filter((line) => !before.includes(line))).toEqual([
		'  at: "20:02"',
		'    from: "20:14"',
		'    foreground: { at: "20:33" }',
	]);
	expect(before.filter((line) => !lines.includes(line))).toEqual(["    foreground: true"]);
	expect(written(written(text))).toBe("every step of the evening already has its time");
});

test("an alignment begins no later than its star's window lets it", () => {
	// eta Virginis works until 20:04; half of the 10 min are before that.
	const text = chapel.replace('    from: "20:30"\n', "").replace('  at: "20:01"\n', "");
	const { evening, night } = evaluateText(text);
	const align = evening?.steps.find(({ kind }) => kind === "align");
	expect(align?.latest).toBe(night?.instant(19 * 3600 + 59 * 60));
});

test("a plan without an evening says so", () => {
	expect(written("plan:\n  title: A\n")).toMatch(/^the plan has no evening/);
});

const COUNT = Number(process.env.LODEBOOK_EVENINGS ?? 300);

test(`${COUNT} random plans from LODEBOOK_SEED=${FIRST_PLAN} on: what is written gives the same evening without a new problem`, () => {
	let some = 0;
	for (let seed = FIRST_PLAN; seed < FIRST_PLAN + COUNT; seed++) {
		const text = randomPlan(seed);
		const before = evaluateText(text);
		const outcome = writeEvening(before, evaluateText);
		if (!outcome.ok) continue;
		some++;
		const after = evaluateText(applyEdits(text, outcome.edits));
		const times = ({ evening }: typeof before) =>
			evening?.steps.map(({ kind, of, from, until, frames }) => ({ kind, of, from, until, frames }));
		expect(times(after), `plan ${seed}`).toEqual(times(before));
		expect(newProblem(problemsOf(after), problemsOf(before))?.message, `plan ${seed}`).toBeUndefined();
		for (const { kind, fixed } of after.evening?.steps ?? [])
			if (kind === "sky" || kind === "foreground") expect(fixed, `plan ${seed}`).toBe(true);
	}
	expect(some).toBeGreaterThan(COUNT / 4);
}, 600_000);
