/** The table of what to do when the alignment is lost: its numbers are read in the dark, far from the steps they are of. */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { handView } from "../../shared/outputs/card/hand.ts";
import { eveningRows } from "../../shared/outputs/evening.ts";
import { eveningRecord } from "../../shared/outputs/json/plan.ts";
import { lostView, NUMBERS } from "../../shared/outputs/lost.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { planText } from "../../shared/outputs/text/plan.ts";
import { told } from "../../shared/text/sentence.ts";
import { PLAIN } from "../plain-environment.ts";
import { evaluateText } from "../plan-text.ts";

const SAMPLES = new URL("../../samples/", import.meta.url);
const samples = readdirSync(SAMPLES).filter((name) => name.endsWith(".lode.yaml"));
const sample = (name: string) => evaluateText(readFileSync(new URL(name, SAMPLES), "utf8"));

test("each number says what it is of, and a number of one minute says which", () => {
	const numbers = lostView(sample("roofless-chapel.lode.yaml"))?.rows.map((row) => row[NUMBERS]);
	expect(numbers).toEqual([
		"tilt 32.4°; laser to 015°M (000.0°T); beam 0.06° to the right and 0.75° below zeta Virginis at 21:17",
		"tilt 32.4°; pan 46.1° anticlockwise, seen from above",
	]);
	expect(lostView(sample("larch-clearing.lode.yaml"))?.rows[0]?.[NUMBERS]).toBe(
		"tilt 46.6°; Polaris at 3 h 14 on the dial (97° clockwise from the top), seen upright (not inverted), at 21:12",
	);
	// Where nothing is ready in time there are none.
	for (const name of samples)
		for (const row of lostView(sample(name))?.rows ?? [])
			if (row[NUMBERS]) for (const number of row[NUMBERS].split("; ")) expect(number, name).toMatch(/^[A-Za-zσ]/);
});

test("what a step tells in brief has the step's number in it, but where the pointer passes a star that is on its circle", () => {
	let count = 0;
	for (const name of samples)
		for (const { value } of sample(name).methods)
			for (const { number, brief } of value?.steps() ?? []) {
				if (number === undefined || brief === undefined) continue;
				const isOver = told(brief).includes("straight over it");
				for (const part of number.split(", ")) expect(told(brief), name).toContain(isOver ? "over" : part);
				count++;
			}
	expect(count).toBeGreaterThan(30);
});

test("the star of the plan is at the same minute in the table as in the evening", () => {
	// The laser is late: the frames begin at 20:30, its star passes at 21:17.
	const late = evaluateText(readFileSync(new URL("../evening/late-laser.lode.yaml", import.meta.url), "utf8"));
	const row = eveningRows(late).find(({ kind }) => kind === "align");
	const [way] = lostView(late)?.rows ?? [];
	expect(way?.[2]).toBe(row?.times);
	expect(way?.[NUMBERS]).toMatch(/zeta Virginis at 21:17$/);
	// Without a time of its own it is the minute at which the star is nearest.
	const open = evaluateText(
		readFileSync(new URL("../evening/late-laser.lode.yaml", import.meta.url), "utf8").replace('  at: "21:17"\n', ""),
	);
	expect(lostView(open)?.rows[0]?.[2]).toBe(row?.times);
});

test("a method whose window ends is given up then, however long its fallback may wait", () => {
	const cave = evaluateText(readFileSync(new URL("../../samples/gannet-cave.lode.yaml", import.meta.url), "utf8"));
	expect(handView(cave)?.fallbacks).toEqual([
		expect.stringMatching(/^Not done by 23:03: fallback 1 \(phone\), begun by 01:02 \(\+1\)\.$/),
	]);
});

test("which method aligns and which are fallbacks is the same on every face, also where the first of the file comes too late", () => {
	const file = readFileSync(new URL("../evening/late-laser.lode.yaml", import.meta.url), "utf8");
	const more =
		"method:\n  kind: compass\n---\nmethod:\n  kind: landmark-bearing\n  landmark: water tower\n---\ntargets:";
	const text = file.replace("targets:", more);
	const evaluation = evaluateText(text);
	const findings = check(evaluation);
	expect(findings.find(({ code }) => code === "method/after-frames")?.message).toMatch(
		/begin the frames later\. As the plan is now, the tracker is aligned by a fallback: compass\.$/,
	);
	const row = eveningRows(evaluation).find(({ kind }) => kind === "align");
	expect(row?.say).toBe("Align: compass");
	expect(row?.about).toContain("not done by 20:19: fallback 2 (bearing from a landmark)");
	const view = pageView(evaluation, findings);
	expect(view.methods.map(({ name }) => name)).toEqual(["compass", "right-angle laser", "bearing from a landmark"]);
	expect(handView(evaluation)?.heading).toBe("Align: compass");
	expect(handView(evaluation)?.fallbacks).toEqual(["Not done by 20:19: fallback 2 (bearing from a landmark)."]);
	const plain = planText({ path: "late.lode.yaml", text, evaluation, findings }, PLAIN);
	const headings = plain.split("\n").filter((line) => /^(?:Align: |Fallback \d: )/.test(line));
	expect(headings).toEqual(["Align: compass", "Fallback 1: right-angle laser", "Fallback 2: bearing from a landmark"]);
	const [step] = eveningRecord(evaluation).evening.filter(({ kind }) => kind === "align");
	expect([step?.of, step?.fallbacks]).toEqual([
		"compass",
		[{ method: "landmark-bearing", latest: "2027-06-05T20:19:00-03:00", frames: null }],
	]);
});

test("the latest start of a method and of its fallback rest on the same frames, and say when these then begin", () => {
	const cave = evaluateText(readFileSync(new URL("../evening/northern-sea-cave.lode.yaml", import.meta.url), "utf8"));
	const about = eveningRows(cave).find(({ kind }) => kind === "align")?.about ?? "";
	const [, latest, frames, fallback] =
		/begin no later than (\S+) \(\+1\), frames then from (\S+) \(\+1\), not done by (\S+) \(\+1\): fallback 1 \(phone\), frames then from \2 \(\+1\)$/.exec(
			about,
		) ?? [];
	const minutes = (clock = ""): number => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
	// 8 min for the landmark, 5 for the phone, 6 for aiming and a test frame.
	expect(minutes(frames)).toBe(minutes(latest) + 14);
	expect(minutes(frames)).toBe(minutes(fallback) + 11);
	expect(handView(cave)?.fallbacks).toEqual([
		`Not done by ${fallback} (+1): fallback 1 (phone). Frames then from ${frames} (+1).`,
	]);
	// Behind an alignment that has a time of its own too: 5 min for the compass, 6 for aiming and a test frame.
	const north = evaluateText(readFileSync(new URL("../evening/far-north-march.lode.yaml", import.meta.url), "utf8"));
	expect(eveningRows(north).find(({ kind }) => kind === "align")?.about).toContain(
		"begun by 23:58, frames then from 00:09 (+1)",
	);
	// Frames at a time of their own do not slip.
	const chapel = sample("roofless-chapel.lode.yaml");
	expect(
		eveningRows(chapel)
			.map(({ about: text }) => text)
			.join(),
	).not.toContain("frames then");
});

test("a method whose window ends is given up then on the evening's row as on the card", () => {
	const cave = sample("gannet-cave.lode.yaml");
	const about = eveningRows(cave).find(({ kind }) => kind === "align")?.about;
	expect(about).toContain("not done by 23:03: fallback 1 (phone), begun by 01:02 (+1)");
	// So is one that may be done at any time of its window: its unlit pillar is seen until 21:04.
	const headwall = eveningRows(sample("below-the-headwall.lode.yaml")).find(({ kind }) => kind === "align")?.about;
	expect(headwall).toContain("not done by 21:04: fallback 1 (bearing from the sky), begun by 00:13 (+1)");
});

test("a sighting of the pole may begin as long as the frames that follow allow", () => {
	// Set up at 20:15 and focused; Polaris shows from 21:11. The ground begins at 21:47 at the latest: its light ends at 21:53.
	const rows = eveningRows(sample("dusk-comet.lode.yaml"));
	expect(rows.find(({ kind }) => kind === "align")?.about).toContain("no later than 21:42");
	expect(rows.find(({ kind }) => kind === "set-up")?.about).toBe("begin no later than 21:22");
	expect(rows.find(({ kind }) => kind === "check")?.about).toBe("on a star");
});

test("a target is aimed at before its test frame, also where it is not tracked", () => {
	const row = (name: string) =>
		eveningRows(evaluateText(readFileSync(new URL(`../evening/${name}.lode.yaml`, import.meta.url), "utf8")));
	const moon = row("far-north-june");
	expect(moon.find(({ kind }) => kind === "test-frame")?.about).toMatch(/^\d+°M \(192\.3°T\), altitude 2\.0°/);
	expect(moon.find(({ kind }) => kind === "sky")?.about).toBe("10 × 0.02 s");
	// Told once, where it is aimed at.
	const core = row("long-lens").filter(({ about }) => about.includes("altitude 16.4°"));
	expect(core.map(({ kind }) => kind)).toEqual(["re-aim"]);
});

test("a drift test's row names its stars and their times", () => {
	const about = eveningRows(sample("larch-clearing.lode.yaml")).find(({ say }) => say.includes("drift"))?.about ?? "";
	expect(about).toMatch(/^test frame on Alphecca at 20:12; test frame on alpha Aquarii at 20:\d\d/);
});

test("a row says what there is no time for, and which frames would trail", () => {
	const [row] = lostView(sample("gannet-cave.lode.yaml"))?.rows ?? [];
	expect(row?.[3]).toMatch(
		/^24 of 30; core over the water: expose for \d+ s at most \(\d+ % chance without trails in 90 s\)$/,
	);
});
