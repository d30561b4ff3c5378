/** Pairs of stars for a drift test: in `stars`, in the example of the message, in its fix. They are up that night. */
import { expect, test } from "vitest";
import { nightFor } from "../../shared/evaluate/proposals.ts";
import { check } from "../../shared/findings/check.ts";
import { methodOf } from "../../shared/methods/methods.ts";
import { hiddenBy } from "../../shared/sky/cover.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { evaluateText, planWith } from "../plan-text.ts";
import { FIRST_PLAN, randomPlan } from "../random-plans.ts";

const withDrift = (text: string, more = ""): string =>
	text.replace(/method:\n[\s\S]*?(?=---\ntargets)/, `method:\n  kind: compass\n---\nmethod:\n  kind: drift${more}\n`);

test("in 60 random plans each pair works, in view at its own minutes, and far enough apart", () => {
	const { propose, setUp } = methodOf("drift");
	let pairs = 0;
	for (let seed = FIRST_PLAN; seed < FIRST_PLAN + 60; seed++) {
		const { tonight } = evaluateText(withDrift(randomPlan(seed)));
		for (const { content, keys } of (tonight && propose?.(tonight)) ?? []) {
			pairs++;
			const lines = Object.entries(keys).map(([key, value]) => `\n  ${key}: ${(value as { yaml: string }).yaml}`);
			const planned = evaluateText(withDrift(randomPlan(seed), lines.join(""))).methods.at(-1)?.value;
			expect(planned?.works, `plan ${seed}${lines}`).toBe(true);
			const found = tonight && setUp({ ...content, kind: "drift" }, tonight);
			expect(found?.marks.length).toBe(2);
			for (const { direction } of found?.marks ?? []) {
				expect(direction.altitude, `plan ${seed}${lines}`).toBeGreaterThanOrEqual(20);
				expect(tonight && hiddenBy(tonight.cover, direction)).toBeUndefined();
			}
		}
	}
	expect(pairs).toBeGreaterThan(150);
});

test("the example and the fix name stars of that night; the star that is there already keeps its place", () => {
	const at = (date: string, first = "") =>
		planWith({ night: `date: ${date}\narrive: "17:00"\nleave: "02:00"`, method: `kind: drift${first}` });
	const june = check(evaluateText(at("2027-06-05"))).filter(({ code }) => code === "method/needs-key");
	const december = check(evaluateText(at("2027-12-05"))).filter(({ code }) => code === "method/needs-key");
	const examples = [...june, ...december].map(({ message }) => /star: ([^}]+) \}/.exec(message)?.[1]);
	expect(new Set(examples).size).toBe(4);
	for (const [text, findings] of [
		[at("2027-06-05"), june],
		[at("2027-12-05"), december],
	] as const) {
		const [fix] = findings[0]?.fixes ?? [];
		const fixed = evaluateText(applyEdits(text, fix?.edits ?? []));
		expect(fixed.methods[0]?.value?.works).toBe(true);
	}
	const own = at("2027-06-05", "\nfirst: { star: Spica }");
	const [second] = check(evaluateText(own)).filter(({ code }) => code === "method/needs-key");
	const fixed = evaluateText(applyEdits(own, second?.fixes[0]?.edits ?? []));
	const { value } = fixed.methods[0] ?? {};
	expect(value?.setUp.marks[0]?.name).toBe("Spica");
	expect(value?.works).toBe(true);
});

test("pairs are offered for when the alignment is done that they correct, and from when one is ready where they align", () => {
	const { propose } = methodOf("drift");
	const align = (...method: readonly string[]) => {
		const evaluation = evaluateText(
			planWith({
				night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"',
				method,
				targets: "- name: core\n  aim: galactic-centre\n  exposure: 60 s",
			}),
		);
		const night = nightFor(evaluation, methodOf("drift"));
		const found = (night && propose?.(night)) ?? [];
		return {
			evaluation,
			found: found.map(({ content }) => night && methodOf("drift").setUp({ ...content, kind: "drift" }, night).begins),
		};
	};
	const { evaluation, found } = align("kind: phone\ntakes: 180 min", "kind: drift");
	const done = evaluation.evening?.steps.find(({ kind }) => kind === "align")?.until ?? Number.POSITIVE_INFINITY;
	expect(done).toBeGreaterThan((evaluation.tonight?.ready ?? 0) + 179 * 60_000);
	expect(found.length).toBeGreaterThan(0);
	for (const begins of found) expect(begins).toBeGreaterThanOrEqual(done);
	expect(check(evaluation).find(({ code }) => code === "method/needs-key")?.fixes).toHaveLength(1);
	const alone = align("kind: drift");
	expect(alone.found.length).toBeGreaterThan(0);
	for (const begins of alone.found) expect(begins).toBeLessThan(done);
});
