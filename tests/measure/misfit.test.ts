/** Frames that were flipped, cut or taken through another lens than the plan's: which it is, with numbers, and what to do. */
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test } from "vitest";
import { NOTHING_WRITTEN } from "../../shared/frames/picture-header.ts";
import type { Photo } from "../../shared/frames/read-picture.ts";
import { type GivenFrame, measure } from "../../shared/measure/measure.ts";
import { solvedLens } from "../../shared/measure/solved-lens.ts";
import { problemPhrase, tellMeasured } from "../../shared/measure/tell.ts";
import { told } from "../../shared/text/sentence.ts";
import { chance, render, type Scene } from "../frames/camera.ts";
import { calmScene } from "../frames/run.ts";
import { evaluateText } from "../plan-text.ts";

const chapel = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");
/** As many pixels as the plan's sensor has: 6000 × 4000 of 24 mm on 36 × 24 mm. */
const scene: Scene = { ...calmScene, exposure: 2, light: 900_000, focal: 24, width: 6000, height: 4000 };

interface Picture {
	readonly width: number;
	readonly height: number;
	readonly light: Uint16Array;
}

const rendered = (one: Scene): Picture => ({ width: one.width, height: one.height, light: render(one) });

function cut({ width: whole, light }: Picture, x: number, y: number, width: number, height: number): Picture {
	const part = new Uint16Array(width * height);
	for (let row = 0; row < height; row++)
		part.set(light.subarray((y + row) * whole + x, (y + row) * whole + x + width), row * width);
	return { width, height, light: part };
}

const flipped = ({ width, height, light }: Picture): Picture => ({
	width,
	height,
	light: light.map((_, i) => light[i - (i % width) + (width - 1 - (i % width))] as number),
});

const given = (name: string, picture: Picture, focalLength?: number, at = scene.at): GivenFrame => ({
	name,
	photo: async (): Promise<Photo> => ({
		picture: { ...picture, step: 1 },
		written: { ...NOTHING_WRITTEN, focalLength },
	}),
	exposure: 2,
	opened: at - 1000,
});

async function said(...frames: readonly GivenFrame[]): Promise<string> {
	const found = await measure(evaluateText(chapel), frames);
	if ("code" in found) return told(problemPhrase(found));
	return tellMeasured(found)
		.flatMap(({ lines }) => lines.map(told))
		.join("\n");
}

/** Numbers of a sentence that begins with how many stars were identified. */
const numbers = (text: string, sentence: RegExp): readonly number[] => {
	const match = sentence.exec(text);
	if (!match) throw new Error(`not said: ${text}`);
	return match.slice(1).map(Number);
};
const CROPPED =
	/^(?:.*mm\. )?(\d+) of its stars are identified if the picture shows (\d+) % of the sensor's long side and (\d+) % of its short side: it was cropped\. Export it whole, without cropping or straightening, and measure again\./m;

describe("a frame whose stars do not fit", () => {
	let whole: Picture;
	beforeAll(() => {
		whole = rendered(scene);
	});

	test("flipped: left and right, and as well upside down", { timeout: 60_000 }, async () => {
		const small = rendered({ ...scene, width: 1800, height: 1200 });
		const upsideDown = { ...small, light: flipped(small).light.reverse() };
		for (const one of [flipped(small), upsideDown]) {
			const text = await said(given("a", one), given("b", one, 24, scene.at + 60_000));
			const sentence =
				/^(\d+) of its stars are identified if left and right are exchanged: the picture was flipped\./gm;
			expect(text.match(sentence)).toHaveLength(2);
			expect(numbers(text, new RegExp(sentence.source, "m"))[0]).toBeGreaterThan(100);
			expect(text).not.toMatch(/cropped|fit no part/);
		}
	});

	test.each([
		["its middle half", 1500, 1000, 3000, 2000, 50, 50, 0],
		["a corner", 200, 200, 3600, 2400, 60, 60, Math.hypot(1000, 600)],
		["a strip of the whole width", 0, 200, 6000, 3000, 100, 75, 300],
		["a square beside the middle", 400, 300, 2800, 2800, 47, 70, Math.hypot(1200, 300)],
	] as const)("cropped to %s", { timeout: 60_000 }, async (_, x, y, width, height, long, short, off) => {
		const text = await said(given("a", cut(whole, x, y, width, height), 24));
		if (long === 100)
			expect(text).toMatch(/shows all of the sensor's long side and 75 % of its short side: it was cropped\. Export/);
		else {
			const [stars = 0, across = 0, down = 0] = numbers(text, CROPPED);
			expect(stars).toBeGreaterThan(20);
			expect(Math.abs(across - long)).toBeLessThanOrEqual(1);
			expect(Math.abs(down - short)).toBeLessThanOrEqual(1);
		}
		if (off > 0) {
			const [axis = 0] = numbers(text, /The optical axis is (\d+) px from the middle of the picture\.$/m);
			expect(Math.abs(axis - off)).toBeLessThan(0.03 * off);
		}
	});

	test("flipped and cropped", { timeout: 60_000 }, async () => {
		const text = await said(given("a", flipped(cut(whole, 1200, 800, 3600, 2400)), 24));
		expect(text).toMatch(
			/exchanged: the picture was flipped\..*\n\d+ of its stars .* 60 % of .* 60 % of .*: it was cropped\./,
		);
	});

	test("through a lens of 40 mm, or cropped and made smaller: what the camera wrote tells which", {
		timeout: 60_000,
	}, async () => {
		const longer = rendered({ ...scene, focal: 40, width: 2400, height: 1600, light: 1_500_000 });
		const parts = "shows 60 % of the sensor's long side and 60 % of its short side";
		expect(await said(given("a", longer))).toMatch(
			new RegExp(
				`^\\d+ of its stars are identified if the picture ${parts}, or was taken through a lens of 40 mm instead of 24 mm\\.`,
			),
		);
		expect(await said(given("a", longer, 24))).toMatch(new RegExp(`${parts}: it was cropped\\.`));
		expect(await said(given("a", longer, 40))).toMatch(
			/^\d+ of its stars are identified through a lens of 40 mm on the plan's sensor; the plan's wide has 24 mm\. Correct the plan/,
		);
		const wider = rendered({ ...scene, focal: 16, width: 2400, height: 1600 });
		expect(await said(given("a", wider))).toMatch(
			/through a lens of 16 mm on the plan's sensor; the plan's wide has 24 mm/,
		);
	});

	test("cropped so little that its stars are known all the same: the lens is not offered", {
		timeout: 60_000,
	}, async () => {
		const found = await measure(evaluateText(chapel), [given("a", cut(whole, 0, 0, 5700, 3800), 24)]);
		if ("code" in found) throw new Error(found.code);
		expect(found.frames[0]?.solved).toBeDefined();
		const text = tellMeasured(found)
			.flatMap(({ lines }) => lines.map(told))
			.join("\n");
		expect(text).toMatch(
			/optical axis 1\d\d\.\d px from the\s+middle\.\nNo lens has its axis so far from the middle: the frames were cropped\./,
		);
		expect(text).not.toMatch(/For the plan's lens/);
		expect(solvedLens(found)).toBeUndefined();
	});

	test("clouds stay clouds, a frame of another size is told with both, and a strange shape without stars as that", {
		timeout: 60_000,
	}, async () => {
		const random = chance(4);
		const spots = (width: number, height: number): Picture => {
			const light = new Uint16Array(width * height).map(() => 9000 + 200 * random());
			for (let i = 0; i < 150; i++) {
				const at = Math.floor(random() * (height - 8) + 4) * width + Math.floor(random() * (width - 8) + 4);
				for (const [by, value] of [
					[0, 30_000],
					[1, 20_000],
					[-1, 20_000],
					[width, 20_000],
					[-width, 20_000],
				] as const)
					light[at + by] = value;
			}
			return { width, height, light };
		};
		expect(await said(given("a", spots(1800, 1200)))).toMatch(
			/^\d+ spots may be stars, but they fit no part of the sky\./,
		);
		expect(await said(given("a", spots(1800, 1200)), given("b", spots(1500, 1000)))).toBe(
			"b: it has 1500 × 1000 pixels, the first frame 1800 × 1200. Frames that are measured together must be whole and of one camera.",
		);
		expect(await said(given("a", spots(1600, 1200)))).toMatch(
			/^a: it has 1600 × 1200 pixels, which is not the shape of the plan's sensor, 36 × 24 mm\. Frames must be whole, as the camera took them;/,
		);
	});
});
