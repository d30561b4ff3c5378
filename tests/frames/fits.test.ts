/** How often frames are fitted: a fit of some hundred stars is most of what solving takes. */
import { expect, test, vi } from "vitest";
import * as fit from "../../shared/frames/fit.ts";
import { plainMap } from "../../shared/frames/lens-map.ts";
import { readFrame, solveFrames } from "../../shared/frames/solve.ts";
import { render } from "./camera.ts";
import { calmScene } from "./run.ts";

vi.mock("../../shared/frames/fit.ts", async (original) => {
	const all = await original<typeof fit>();
	return { ...all, fitFrames: vi.fn(all.fitFrames) };
});

const [width, height] = [900, 600];
const lens = plainMap("rectilinear", width, height, (24 * width) / 36);
const { latitude, longitude, pressure, temperature } = calmScene;
const site = { latitude, longitude, elevation: 0, air: { pressure, temperature } };

test("those that solve the lens are fitted with it and once by themselves in a round, the others twice", () => {
	const read = Array.from({ length: 7 }, (_, i) => {
		const scene = {
			...calmScene,
			exposure: 0,
			light: 4_000_000,
			width,
			height,
			at: calmScene.at + i * 300_000,
			seed: 3 + i,
		};
		return readFrame({ width, height, light: render(scene), step: 1 }, scene.at, site, lens, {});
	});
	for (const count of [1, 2, 7]) {
		vi.mocked(fit.fitFrames).mockClear();
		const solved = solveFrames(read.slice(0, count), lens);
		expect(solved?.frames.length).toBe(count);
		const fitted = vi.mocked(fit.fitFrames).mock.calls.map(([frames]) => frames.length);
		const others = Math.max(0, count - 6);
		expect(fitted).toHaveLength(3 * (1 + count + others));
	}
});
