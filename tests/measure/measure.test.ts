/** Two rendered frames of the chapel's evening, measured in this process: numbers, what is told of them, the picture, the log. */
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test } from "vitest";
import { NOTHING_WRITTEN } from "../../shared/frames/picture-header.ts";
import type { Photo, PictureProblem } from "../../shared/frames/read-picture.ts";
import { driveEdits } from "../../shared/measure/drive-edits.ts";
import { lensEdits } from "../../shared/measure/lens-edits.ts";
import { isInLog, logEdits, logEntry, logEntryText } from "../../shared/measure/log-entry.ts";
import { type GivenFrame, type Measured, measure, type Wishes } from "../../shared/measure/measure.ts";
import { framePicture } from "../../shared/measure/picture.ts";
import { solvedLens } from "../../shared/measure/solved-lens.ts";
import { isImpossible, logHeading, problemPhrase, tellMeasured } from "../../shared/measure/tell.ts";
import type { Bearing } from "../../shared/notation/bearing.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { told } from "../../shared/text/sentence.ts";
import { render, type Scene } from "../frames/camera.ts";
import { calmScene } from "../frames/run.ts";
import { evaluateText } from "../plan-text.ts";

const chapel = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");

const { at } = calmScene;
const scene: Scene = { ...calmScene, width: 1800, height: 1200 };

const photoOf = (light: Uint16Array, width = scene.width, height = scene.height): Photo => ({
	picture: { width, height, light, step: 1 },
	written: NOTHING_WRITTEN,
});
const given = (name: string, opened: number | undefined, photo: Photo | PictureProblem): GivenFrame => ({
	name,
	photo: async () => photo,
	exposure: 60,
	...(opened !== undefined && { opened }),
});
const frames: GivenFrame[] = [];
beforeAll(() => {
	for (const i of [0, 1]) {
		const one = { ...scene, at: at + i * 900_000, seed: 3 + i };
		// A scene's moment is the middle of its exposure.
		frames.push(given(`frame ${i + 1} <&>`, one.at - 30_000, photoOf(render(one))));
	}
});

async function measured(text: string, list: readonly GivenFrame[], wishes: Wishes = {}): Promise<Measured> {
	const found = await measure(evaluateText(text), list, wishes);
	if ("code" in found) throw new Error(told(problemPhrase(found)));
	return found;
}
async function problem(text: string, list: readonly GivenFrame[], wishes: Wishes = {}): Promise<string> {
	const found = await measure(evaluateText(text), list, wishes);
	return "code" in found ? told(problemPhrase(found)) : "measured";
}
const textOf = (found: Measured): string =>
	tellMeasured(found)
		.flatMap(({ heading, lines }) => [told(heading), ...lines.map(told)])
		.join("\n");

describe("two frames of a run", () => {
	let found: Measured;
	beforeAll(async () => {
		found = await measured(chapel, frames);
	});

	test("give the lens with its distortion, for the plan's lens", async () => {
		const lens = solvedLens(found);
		if (!lens) throw new Error("no lens");
		expect(Math.abs(lens.focalLength / scene.focal - 1)).toBeLessThan(0.001);
		expect(Math.abs(lens.k1 + lens.k2 - (scene.k1 ?? 0))).toBeLessThan(0.002);
		expect(textOf(found)).toMatch(
			/^For the plan's lens: focal-length: 24\.1 mm, distortion: \{ k1: -0\.01\d*, k2: -?0(?:\.\d+)? \}$/m,
		);
		const plan = readPlan(chapel);
		const text = applyEdits(chapel, lensEdits(plan, lens));
		expect(text).toMatch(/focal-length: 24\.1\d* mm\n {2}distortion: /);
		expect(readPlan(text).cells.flatMap(({ read }) => read.problems)).toEqual([]);
		const camera = evaluateText(text).lenses[0]?.value?.camera;
		expect(camera?.focalLength).toBeCloseTo(lens.focalLength, 2);
		expect(camera?.distortion?.k1).toBeCloseTo(lens.k1, 4);
		// With the lens as it is, the next frames count from it.
		const again = solvedLens(await measured(text, frames));
		expect(again?.k1).toBeCloseTo(lens.k1, 3);
		expect(lensEdits(plan, { ...lens, lens: "another" })).toEqual([]);
		expect(solvedLens({ ...found, map: found.map && { ...found.map, k1: -0.5 } })).toBeUndefined();
		expect(solvedLens({ ...found, lensKnown: false })).toBeUndefined();
	});

	test("give the axis, the lens, and where each looked", () => {
		const { axis, map } = found;
		if (!axis || !map) throw new Error("no axis");
		expect(Math.abs(axis.error.along + 0.4)).toBeLessThan(0.05);
		expect(Math.abs(axis.error.across - 0.76)).toBeLessThan(0.05);
		expect(Math.abs((map.focal * scene.sensorWidth) / scene.width / scene.focal - 1)).toBeLessThan(0.001);
		for (const { solved } of found.frames) {
			expect(solved?.place.rightAscension).toBeGreaterThan(0);
			expect(solved?.trails.drawn.length).toBe(solved?.frame.stars.length);
		}
	});

	test("are told with what hands do about it", () => {
		const text = textOf(found);
		const { axis } = found;
		// Too low: up; to the right: left, and by more than on the sky, since the pan turns about the vertical.
		expect(text).toMatch(/Facing the pole: raise the tilt by 0\.[34]\d*° ± \S+°, turn the pan left by 0\.[89]\d*° ± /);
		expect(axis?.pan).toBeCloseTo(-0.76 / Math.cos((32.4123 * Math.PI) / 180), 1);
		expect(text).toMatch(/0\.[34]\d*° ± \S+° too low and 0\.[78]\d*° ± \S+° to the right, facing the pole/);
		expect(text).toContain("That is within the 2.1° that the plan's method promises 19 times in 20.");
		expect(text).toMatch(/In the plan core over the gable is aimed at bearing/);
	});

	test("make a picture in which no name is markup, and no entry but the same axis for the log", () => {
		const picture = framePicture(found);
		expect(picture).toMatch(/^<svg .*<image .*<\/svg>\n$/s);
		expect(picture).toContain("frame 1 &#60;&#38;&#62;");
		expect(picture).not.toContain("<&>");
		expect(framePicture({ ...found, picture: undefined })).toBe("");
		// The frame's own light is in it: brighter where its brightest star is than in the median.
		const { columns, rows, levels, width, height } = found.picture as NonNullable<Measured["picture"]>;
		const star = found.frames[0]?.solved?.frame.stars[0]?.spot;
		const at = (right: number, up: number): number =>
			levels[
				Math.floor(((height / 2 - up) * rows) / height) * columns + Math.floor(((width / 2 + right) * columns) / width)
			] as number;
		expect(at(star?.right ?? 0, star?.up ?? 0)).toBeGreaterThan(
			2 * ([...levels].sort((a, b) => a - b)[levels.length >> 1] as number),
		);
		if (!found.axis) throw new Error("no axis");
		const entry = logEntryText(logEntry(found.zone, found.axis.entries));
		const logged = evaluateText(`${chapel.trimEnd()}\n---\nlog:\n${entry}`);
		const [one] = logged.log?.value?.evenings ?? [];
		expect(one?.found?.error.along).toBeCloseTo(-0.4, 1);
		expect(one?.found?.error.across).toBeCloseTo(0.76, 1);
		const plan = readPlan(chapel);
		const kept = logEntry(found.zone, found.axis.entries);
		expect(isInLog(plan, kept)).toBe(false);
		expect(isInLog(readPlan(applyEdits(chapel, logEdits(plan, kept))), kept)).toBe(true);
		expect(told(logHeading())).toBe("For the log:");
	});
});

describe("the camera's clock", () => {
	const HALF_AN_HOUR = 1800;
	/** The first frame, by a clock that is half an hour ahead. */
	const early = (): GivenFrame => ({ ...(frames[0] as GivenFrame), opened: at - 30_000 + HALF_AN_HOUR * 1000 });
	const truly: Bearing = { degrees: scene.azimuth, north: "true" };

	test("is known from the bearing of the frame's middle, true or magnetic", async () => {
		const declination = evaluateText(chapel).field?.declination ?? 0;
		const byCompass: Bearing = { degrees: scene.azimuth - declination, north: "magnetic" };
		for (const facing of [truly, byCompass]) {
			const { clock } = await measured(chapel, [early()], { facing });
			// To two hundredths of a degree of the bearing.
			expect(Math.abs((clock?.found?.ahead ?? 0) - HALF_AN_HOUR)).toBeLessThan(0.02 * (clock?.found?.perDegree ?? 0));
			const once = await measured(chapel, [early()], { facing, clockAhead: 600 });
			expect(once.clock?.found?.ahead).toBeCloseTo(clock?.found?.ahead ?? 0, -1);
		}
	});

	test("is told with what a degree of bearing makes of it, and how to measure again", async () => {
		const off = await measured(chapel, [early()], { facing: truly });
		expect(textOf(off)).toMatch(
			/^The camera's clock\nIt is (?:29 min \d+ s|30 min(?: \d+ s)?) ahead of the true time if the middle of frame 1 <&> looked toward true bearing 110\.0° \(ESE\); an error of 1° in that bearing makes a difference of 13 min(?: \d+ s)?\. If you are sure of the bearing, measure again with --clock-ahead 1[78]\d\d, /m,
		);
		const right = await measured(chapel, [frames[0] as GivenFrame], { facing: truly });
		expect(textOf(right)).toMatch(/^The times fit within the 13 min/m);
		const never = await measured(chapel, [frames[0] as GivenFrame], { facing: { degrees: 0, north: "true" } });
		expect(textOf(never)).toMatch(/never at 000\.0° \(N\), or move too little/);
	});

	test("that does not fit a bearing leaves nothing to turn", async () => {
		const late = frames.map((one) => ({ ...one, opened: (one.opened ?? 0) + 3_600_000 }));
		const text = textOf(await measured(chapel, late, { facing: truly }));
		expect(text).toMatch(/which do not fit the bearing of frame 1 <&>/);
		expect(text).not.toMatch(/Facing the pole:/);
		const corrected = textOf(await measured(chapel, late, { facing: truly, clockAhead: 3600 }));
		expect(corrected).toMatch(/The times fit with the clock 3600 s ahead/);
		expect(corrected).toMatch(/Facing the pole: raise the tilt by 0\.[34]/);
		const wrongly = textOf(await measured(chapel, frames, { facing: truly, clockAhead: -3600 }));
		expect(wrongly).toMatch(/do not fit with the clock −3600 s ahead: .*Measure again without that correction/);
	});

	test("of a file that says another time than was told is named, and an evening that is not the plan's", async () => {
		const [first] = frames;
		if (!first) throw new Error("no frame");
		const photo = (await first.photo()) as Photo;
		const clock = Date.UTC(2027, 5, 5, 20, 59, 30);
		const dated = { ...first, photo: async () => ({ ...photo, written: { ...photo.written, clock } }) };
		expect(textOf(await measured(chapel, [dated]))).not.toMatch(/The file says|of the evening of/);
		const told = textOf(await measured(chapel, [{ ...dated, opened: at + 3_570_000 }]));
		expect(told).toContain("The file says that it was taken at 20:59:30; the time that you gave is used.");
		const other = chapel.replace("2027-06-05", "2027-06-12");
		expect(textOf(await measured(other, [first]))).toContain(
			"It was taken on the evening of 2027-06-05; the plan is for 2027-06-12.",
		);
	});

	test("is not asked of a compass where the declination is unknown", async () => {
		const undated = chapel.replace("2027-06-05", "2047-06-05");
		expect(await problem(undated, [frames[0] as GivenFrame], { facing: { degrees: 1, north: "magnetic" } })).toMatch(
			/magnetic declination/,
		);
	});
});

test("frames that cannot be of that site say so, and tell nothing to turn", async () => {
	const north = chapel.replace("32.4123 S", "52.4123 N").replace(/^ {2}skyline: .*$/m, "");
	const found = await measured(north, frames);
	expect(isImpossible(found.frames)).toBe(true);
	const text = textOf(found);
	expect(text).toMatch(/cannot be right\. Correct that first, and do not turn the head/);
	expect(text).not.toMatch(/Facing the pole:|may be exposed for/);
	expect(isImpossible((await measured(chapel, frames)).frames)).toBe(false);
});

test("sharp is what the plan's own pixels say: a file that was made smaller is not judged", async () => {
	const [first] = frames;
	if (!first) throw new Error("no frame");
	const small = await measured(chapel, [first]);
	expect(textOf(small)).toContain(
		"The file has 30 % of the width of the plan's camera: the plan's limit of 2 px is 0.6 px here",
	);
	expect(small.frames[0]?.solved?.limit).toBeCloseTo(0.6);
	const whole = textOf(await measured(chapel.replace("6000 x 4000", "1800 x 1200"), [first]));
	expect(whole).toContain("Within the plan's limit of 2 px: all of the measured stars.");
});

test("a tracker that did not run is said", async () => {
	const { tracker: _, ...still } = { ...scene, exposure: 60, seed: 9 };
	const text = textOf(await measured(chapel, [given("still", at - 30_000, photoOf(render(still)))]));
	expect(text).toContain("The tracker did not run during this exposure.");
	expect(text).not.toMatch(/ran .* % too slow/);
});

describe("stars that shine where the plan has ground", () => {
	const walled = (altitude: number): string =>
		chapel.replace(/^ {2}skyline: .*$/m, `  skyline: [[0, ${altitude}], [180, ${altitude}]]`);

	test("are left out where they are few", async () => {
		const open = await measured(walled(0), [frames[0] as GivenFrame]);
		const low = await measured(walled(19), [frames[0] as GivenFrame]);
		const [all, some] = [open.frames[0]?.solved, low.frames[0]?.solved];
		expect(all?.behind).toBe(0);
		expect(some?.behind).toBeGreaterThan(0);
		expect((some?.frame.stars.length ?? 0) + (some?.behind ?? 0)).toBe(all?.frame.stars.length);
		expect(textOf(low)).toMatch(/^\d+ of them are where the plan has ground or walls, and are left out\.$/m);
	});

	test("put the skyline, the clock or the night in doubt where they are many", async () => {
		const found = await measured(walled(50), [frames[0] as GivenFrame]);
		expect(found.frames[0]?.solved?.frame.stars.length).toBeGreaterThan(30);
		expect(textOf(found)).toMatch(/are where the plan has ground or walls: the skyline, the camera's clock/);
	});
});

describe("what cannot be measured", () => {
	test("is said of the plan", async () => {
		const [first] = frames;
		if (!first) throw new Error("no frame");
		expect(await problem("plan:\n  title: A\n", [first])).toMatch(/no site with coordinates/);
		expect(await problem(chapel.replace("focal-length: 24 mm", "focal-length: x"), [first])).toMatch(/no lens/);
		expect(await problem(chapel, [first], { lens: "long" })).toBe("The plan has no lens called long. It has: wide.");
		expect(await problem(chapel, [first], { target: "moon" })).toMatch(
			/^The plan has no target called moon\. It has: gable by last light and core over the gable\./,
		);
	});

	test("is said of a frame, with its name and numbers", async () => {
		const dark = new Uint16Array(600 * 400).fill(900);
		const untimed = given("a", undefined, photoOf(dark, 600, 400));
		expect(await problem(chapel, [untimed])).toMatch(
			/^a: the file does not say when it was taken\. Give the clock time/,
		);
		expect(await problem(chapel, [given("a", at, photoOf(dark, 600, 500))])).toMatch(
			/^a: it has 600 × 500 pixels, which/,
		);
		const problems: readonly (readonly [PictureProblem, RegExp])[] = [
			[{ code: "unknown-format" }, /^a: it is not a JPEG, PNG or TIFF file\.$/],
			[{ code: "unreadable", why: "it ends too early." }, /^a: it cannot be read: it ends too early\.$/],
			[{ code: "too-large", width: 90_000, height: 9 }, /90000 × 9 pixels; at most 61 megapixels/],
			[{ code: "too-small", width: 9, height: 8 }, /9 × 8 pixels, too few/],
			[{ code: "too-much", megabytes: 900 }, /900 MB unpacked/],
			[{ code: "bits", bits: 12 }, /12 bits a colour/],
		];
		for (const [one, said] of problems)
			expect(await problem(chapel, [given("a", at, one as PictureProblem)])).toMatch(said);
	});

	test("a frame without stars is told as one, and gives no axis", async () => {
		const dark = new Uint16Array(scene.width * scene.height).map((_, i) => 900 + ((i * 7919) % 13));
		const found = await measured(chapel, [given("wall", at, photoOf(dark))]);
		expect(found.axis).toBeUndefined();
		expect(found.frames[0]?.solved).toBeUndefined();
		expect(textOf(found)).toMatch(/Only \d+ spots that may be stars were found; at least 8 stars/);
	});
});

test("a series tells the drive: its rate and its periodic error, also for the tracker", {
	timeout: 300_000,
}, async () => {
	const tracker = { along: -0.4, across: 0.76, periodic: { amplitude: 40 / 3600, period: 600, phase: 40 } };
	const series = Array.from({ length: 12 }, (_, i) => {
		const one = { ...scene, width: 1500, height: 1000, tracker, at: at + i * 90_000, seed: 30 + i };
		return given(`${i}`, one.at - 30_000, photoOf(render(one), 1500, 1000));
	});
	const found = await measured(chapel, series);
	const { drive, axis } = found;
	if (!drive?.periodic || !axis) throw new Error("no drive");
	expect(drive.frames).toBe(12);
	expect(Math.abs(drive.periodic.amplitude * 3600 - 40)).toBeLessThan(3);
	expect(Math.abs(drive.periodic.period - 600)).toBeLessThan(20);
	expect(Math.abs(drive.fast)).toBeLessThan(0.001);
	expect(textOf(found)).toMatch(/^The drive, from 12 frames over 16 min 30 s$/m);
	expect(textOf(found)).toMatch(
		/^Periodic error: ± (?:39|4\d)″, known to [\d.]+″; period (?:9 min \d+ s|10 min(?: \d+ s)?) ± \d+ s\.$/m,
	);
	const plan = readPlan(chapel);
	const edits = driveEdits(plan, drive.periodic);
	const written = evaluateText(applyEdits(chapel, edits));
	expect(written.tracker?.["periodic-error"]?.amplitude).toBeCloseTo(drive.periodic.amplitude, 4);
	expect(driveEdits(readPlan("plan:\n  title: a\n"), drive.periodic)).toEqual([]);
});
