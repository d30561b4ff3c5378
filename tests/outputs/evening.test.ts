/** What the rows of an evening say beside their times: what is not cleared, not aligned, or done. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { stepName } from "../../shared/evaluate/evening/words.ts";
import { eveningRows } from "../../shared/outputs/evening.ts";
import { told } from "../../shared/text/sentence.ts";
import { evaluateText } from "../plan-text.ts";

const textOf = (path: string): string => readFileSync(new URL(`../../${path}.lode.yaml`, import.meta.url), "utf8");
const planOf = (path: string) => evaluateText(textOf(path));

test("a wait for the end alone says that one may go; not while a camera runs by itself, nor between two steps", () => {
	const waits = (path: string) =>
		eveningRows(planOf(path)).flatMap(({ kind, from, say }) => (kind === "wait" ? [`${from} ${say}`] : []));
	expect(waits("samples/gannet-cave")).toEqual([
		"22:40 Wait",
		"23:03 Wait",
		"00:43 (+1) Wait",
		"02:07 (+1) Wait, or pack up: nothing is left to do",
	]);
	// One camera takes its arcs until 21:02; hands have nothing to do from 20:35 on.
	expect(waits("tests/evening/near-the-line").slice(-2)).toEqual([
		"20:35 Wait",
		"21:02 Wait, or pack up: nothing is left to do",
	]);
	// Dark frames are taken beside.
	expect(waits("tests/evening/workshop").at(-1)).toBe("23:13 Wait, or pack up: nothing is left to do");
});

test("a wait says what it is for: what the plan gives a time, or what has first to come", () => {
	const waits = (text: string) =>
		eveningRows(evaluateText(text)).flatMap(({ kind, from, about }) => (kind === "wait" ? [`${from} ${about}`] : []));
	expect(waits(textOf("samples/gannet-cave"))).toEqual([
		"22:40 for the alignment at 22:53",
		"23:03 for core over the water, planned for 01:20 (+1)",
		"00:43 (+1) for core over the water, planned for 01:20 (+1)",
		"02:07 (+1) ",
	]);
	const sea = textOf("tests/evening/northern-sea-cave");
	// In view since long before: the Sun has to go lower, for the frames and then for those of the ground.
	expect(waits(sea).slice(0, 3)).toEqual([
		"22:58 until it is dark enough for Capella over the water",
		"23:17 until it is dark enough for Capella over the water",
		"00:01 (+1) until the light is right for the ground frames of Capella over the water",
	]);
	expect(waits(textOf("tests/evening/near-the-line")).slice(-3)).toEqual([
		"20:00 for core, planned for 20:15",
		"20:35 arcs over the valley runs by itself until 21:02",
		"21:02 ",
	]);
	// The drive runs out before it is wound back, unless it is switched off.
	const gorge = eveningRows(planOf("tests/evening/southern-gorge")).filter(({ kind }) => kind === "sky");
	expect(gorge.map(({ about }) => about.endsWith("then switch the drive off"))).toEqual([true, false]);
	expect(waits(textOf("samples/meteors-over-ruin"))[1]).toBe(
		"03:23 (+1) for the ground frames of meteors over the gable, planned for 03:30 (+1)",
	);
	expect(waits(textOf("samples/larch-clearing"))[1]).toBe("20:02 for the drift test at 20:03");
	// The pole star has first to show.
	expect(waits(textOf("samples/dusk-comet"))[0]).toBe("20:35 until the alignment can be done (pole sighting)");
});

test("tracked frames before any alignment say so, those behind it and untracked ones do not", () => {
	const framesOf = (path: string) => eveningRows(planOf(path)).filter(({ kind }) => kind === "sky");
	const late = framesOf("tests/evening/late-laser");
	expect(late.map(({ about }) => about.includes("not aligned: stars will trail"))).toEqual([false, true]);
	for (const { about } of framesOf("samples/roofless-chapel")) expect(about).not.toContain("not aligned");
});

test("a laser that is not cleared is told on the row that would use it, before its numbers", () => {
	const cave = textOf("samples/gannet-cave");
	const about = (text: string) =>
		eveningRows(evaluateText(text), true).find(({ kind }) => kind === "align")?.about ?? "";
	expect(about(cave)).toMatch(/^tilt 33\.5°; laser to 177°M \(180\.0°T\); beam .* zeta Virginis at 22:58/);
	expect(about(cave.replace("  local-rules-checked: true\n", ""))).toMatch(
		/^Not cleared: .* method\. tilt 33\.5°; laser/,
	);
});

test("a row is called what its step is called", () => {
	const chapel = planOf("samples/roofless-chapel");
	const rows = eveningRows(chapel);
	const steps = chapel.evening?.steps ?? [];
	expect(rows.slice(0, -2).map(({ say }) => say)).toEqual(
		steps.slice(0, -2).map((step) => told(stepName(step, chapel))),
	);
});

test("a walk out whose length the plan does not give says where it is from", () => {
	const cave = textOf("samples/gannet-cave");
	const walkOut = (prepare: string) =>
		eveningRows(evaluateText(cave.replace(/^( {2}low-water: .*)$/m, `$1\n  prepare: { ${prepare} }`))).find(
			({ kind }) => kind === "walk-out",
		);
	expect(walkOut("walk-in: 20 min")).toMatchObject({ duration: "25 min", about: "taken as 1.25 times the walk in" });
	expect(walkOut("walk-in: 20 min, walk-out: 25 min")).toMatchObject({ duration: "25 min", about: "" });
});
