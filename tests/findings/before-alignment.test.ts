/** A drift test whose time is before the end of the alignment that it corrects. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import rule from "../../shared/findings/evening/before-alignment.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { checkText, evaluateText } from "../plan-text.ts";

const found = (text: string) => checkText(text).filter(({ code }) => code === rule.code);
const corrections = (text: string): readonly number[] =>
	(evaluateText(text).evening?.steps ?? []).flatMap(({ kind, of, from }) =>
		kind === "align" && of === 1 ? [from] : [],
	);
const larches = readFileSync(new URL("../../samples/larch-clearing.lode.yaml", import.meta.url), "utf8");

test("it is told with its own time and the alignment's, and the fix puts it into the evening", () => {
	const text = exampleText(rule.wrong);
	expect(corrections(text)).toEqual([]);
	const [one] = found(text);
	expect(one?.message).toBe(
		"The drift test begins at 19:43, but the alignment it corrects is not finished until 20:06: it is left out. Begin it later.",
	);
	const [fix] = one?.fixes ?? [];
	expect(fix?.title).toBe("Begin the drift test at 20:06");
	const after = applyEdits(text, fix?.edits ?? []);
	expect(after).toContain('first: { star: Regulus, at: "20:13" }');
	expect(corrections(after)).toHaveLength(1);
	expect(checkText(after)).toEqual([]);
});

test("no fix where it would not be done before the frames", () => {
	// The rounds take 36 min from 20:06 on; getting ready for 20:45 begins at 20:39.
	const text = exampleText({
		...rule.wrong,
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "20:45"\n  exposure: 60 s\n  trail: 2 px',
	});
	expect(found(text).map(({ fixes }) => fixes)).toEqual([[]]);
});

test("the larches: the pole star, then a drift test, then the frames, as their list of samples says", () => {
	const { evening } = evaluateText(larches);
	const order = (evening?.steps ?? []).flatMap(({ kind, of }) =>
		kind === "align" || kind === "sky" ? [`${kind} ${of}`] : [],
	);
	expect(order).toEqual(["align 0", "align 1", "sky 0"]);
	expect(found(larches)).toEqual([]);
	// The first test frame begun before the pole star is done.
	const early = larches.replace(/at: "[\d:]+"(?=, frame)/, 'at: "20:05"');
	expect(found(early)).toHaveLength(1);
});
