/** A rough alignment and, at a time of the plan's own, a test that corrects it: the evening has both, and the frames the finer axis. */
import { describe, expect, test } from "vitest";
import { clockOf } from "../../../shared/earth/zone.ts";
import { check } from "../../../shared/findings/check.ts";
import { writeEvening } from "../../../shared/findings/evening-edits.ts";
import { applyEdits } from "../../../shared/text/edits.ts";
import { evaluateText, planWith } from "../../plan-text.ts";

const DRIFT = 'kind: drift\nfirst: { star: Spica, at: "20:37" }\nsecond: { star: Antares, at: "20:47" }';
const core = (from: string): string =>
	`- name: core\n  aim: galactic-centre\n  ${from}exposure: 60 s\n  frames: 24\n  foreground: true`;
const plan = (from = "", second = DRIFT): string =>
	planWith({ method: ["kind: phone", second].filter(Boolean), targets: core(from) });

function evening(text: string): readonly string[] {
	const { evening: found, night } = evaluateText(text);
	const clock = (at: number): string => clockOf(night?.zone ?? "UTC", at);
	return (found?.steps ?? [])
		.filter(({ kind }) => !["wait", "check", "walk-in", "set-up", "focus", "pack-up"].includes(kind))
		.map(({ kind, of, from, until }) => `${clock(from)}–${clock(until)} ${kind} ${of}`);
}

test("two rounds of two frames of 4 min, 5 min beside each: from 5 min before the first frame on, and then the frames", () => {
	// The middle of the first frame is at 20:37: it begins at 20:35, and one aims from 20:30 on.
	expect(evening(plan())).toEqual([
		"17:20–17:25 align 0",
		"20:30–21:06 align 1",
		"21:06–21:09 re-aim 0",
		"21:09–21:12 test-frame 0",
		"21:12–21:36 sky 0",
		"21:36–21:41 foreground 0",
	]);
	expect(evening(plan("", ""))).not.toContainEqual(expect.stringContaining("align 1"));
});

test("the frames have the axis as it was corrected: longer exposures stay sharp, and no word of planning for it is left", () => {
	const rough = evaluateText(plan("", ""));
	const corrected = evaluateText(plan());
	expect(rough.axis?.method.kind).toBe("phone");
	expect(corrected.axis?.method.kind).toBe("drift");
	expect(corrected.aligned?.method.kind).toBe("phone");
	const tracked = (one: typeof rough): number => one.targets?.value?.[0]?.limits?.tracked ?? 0;
	expect(tracked(corrected)).toBeGreaterThan(2 * tracked(rough));
	const codes = (one: typeof rough): readonly string[] => check(one).map(({ code }) => code);
	expect(codes(rough)).toContain("target/tracked-too-long");
	expect(codes(corrected)).not.toContain("target/tracked-too-long");
	expect(codes(corrected)).not.toContain("method/fall-back-better");
});

test("after the frames, or before the alignment, it corrects nothing that they need", () => {
	const late = evaluateText(plan('from: "19:30"\n  '));
	expect(late.axis?.method.kind).toBe("phone");
	expect(check(late).map(({ code }) => code)).toContain("method/fall-back-better");
	const early = plan("", DRIFT.replace("20:37", "17:15").replace("20:47", "17:20"));
	expect(evening(early)).not.toContainEqual(expect.stringContaining("align 1"));
});

test("frames that are in its way are told, with the minutes", () => {
	const found = check(evaluateText(plan('from: "20:40"\n  '))).filter(({ code }) => code === "evening/clash");
	expect(found.map(({ message }) => message)).toContainEqual(
		expect.stringMatching(/drift test.*21:06|21:06.*drift test/),
	);
});

describe("a test whose time is left open", () => {
	const FREE = "kind: drift\nfirst: { star: Spica }\nsecond: { star: Antares }";

	test("comes right behind the alignment, once both stars are in view, and has the numbers of that time", () => {
		const text = plan("", FREE);
		// Spica and Antares show in the middle of their frames from 18:06 on: 18:06 less 2 and 5 min.
		const { evening: found, methods, night } = evaluateText(text);
		const step = found?.steps.find(({ kind, of }) => kind === "align" && of === 1);
		const value = methods[1]?.value;
		expect(value?.setUp.at).toBe((step?.from ?? 0) + 7 * 60_000);
		expect(value?.works).toBe(true);
		expect((step?.until ?? 0) - (step?.from ?? 0)).toBe(36 * 60_000);
		expect(found?.corrected).toBe(1);
		expect(value?.setUp.obstacles).toEqual([]);
		// A minute earlier one of the two is not to be seen.
		const earlier = clockOf(night?.zone ?? "UTC", (value?.setUp.at ?? 0) - 60_000);
		const at = (clock: string) => plan("", FREE.replace("kind: drift", `kind: drift\nat: "${clock}"`));
		expect(evaluateText(at(earlier)).methods[1]?.value?.works).toBe(false);
		// The same with its time written.
		const later = clockOf(night?.zone ?? "UTC", value?.setUp.at ?? 0);
		expect(evening(at(later))).toEqual(evening(text));
		const outcome = writeEvening(evaluateText(text), evaluateText);
		expect(outcome.ok && applyEdits(text, outcome.edits)).toContain(`kind: drift\n  at: "${later}"`);
	});

	test("before frames with a time, or told that there is no room for it", () => {
		const early = evaluateText(plan('from: "19:30"\n  ', FREE));
		const step = early.evening?.steps.find(({ kind, of }) => kind === "align" && of === 1);
		const aim = early.evening?.steps.find(({ kind }) => kind === "re-aim");
		expect(step?.until).toBeLessThanOrEqual(aim?.from ?? 0);
		const none = plan('from: "18:20"\n  ', FREE);
		expect(evening(none)).not.toContainEqual(expect.stringContaining("align 1"));
		expect(check(evaluateText(none)).map(({ message }) => message)).toContainEqual(
			"There is no time for the drift test: it takes 36 min without a break, after the alignment and before the tracked frames. Begin the frames later, or take fewer.",
		);
	});

	test("it costs no frames", () => {
		const long = plan("", FREE).replace("frames: 24", "frames: 400");
		const { evening: found } = evaluateText(long);
		const frames = found?.steps.find(({ kind }) => kind === "sky")?.frames ?? 400;
		const without = evaluateText(plan("", "").replace("frames: 24", "frames: 400")).evening;
		expect(frames).toBe(without?.steps.find(({ kind }) => kind === "sky")?.frames ?? 400);
	});

	test("one time given places the other", () => {
		const one = evaluateText(plan("", DRIFT.replace(', at: "20:47"', ""))).methods[1]?.value;
		const both = evaluateText(plan("", DRIFT.replace("20:47", "20:46"))).methods[1]?.value;
		expect(one?.steps().map(({ at }) => at)).toEqual(both?.steps().map(({ at }) => at));
		const other = evaluateText(plan("", DRIFT.replace(', at: "20:37"', ""))).methods[1]?.value;
		expect(other?.steps()[1]?.at).toBe((both?.steps()[1]?.at ?? 0) + 60_000);
	});

	test("two stars that are never in view together cannot be used", () => {
		const never = evaluateText(plan("", FREE.replace("Antares", "Polaris"))).methods[1]?.value;
		expect(never?.setUp.obstacles).toContainEqual({ type: "no-window" });
		expect(never?.works).toBe(false);
	});
});
