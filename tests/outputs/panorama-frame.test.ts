/** The frame picture of a whole panorama: its panels where they are laid out, in order, over the ground, with the arch through them. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import type { FrameView } from "../../shared/outputs/page/frame-view.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { apparentDirection } from "../../shared/sky/place.ts";
import { halfTurn } from "../../shared/sky/vector.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const frameOf = (text: string): FrameView => {
	const evaluation = evaluateText(text);
	const [frame] = pageView(evaluation, check(evaluation)).frames;
	if (!frame) throw new Error("no frame");
	return frame;
};
const quarry = readFileSync(new URL("../../samples/slate-quarry-arch.lode.yaml", import.meta.url), "utf8");

type Places = FrameView["panels"][number]["outline"];
const ends = (outline: Places, k: 0 | 1): readonly [number, number] => [
	Math.min(...outline.map((one) => one[k])),
	Math.max(...outline.map((one) => one[k])),
];
const overlap = (a: Places, b: Places, k: 0 | 1): boolean =>
	ends(a, k)[0] < ends(b, k)[1] && ends(b, k)[0] < ends(a, k)[1];

test("of the arch: eight panels column by column, each beside and above the one before it with an overlap, the ground's under them", () => {
	const { panels, stars, hidden, arch, alternative } = frameOf(quarry);
	const sky = panels.filter(({ isGround }) => !isGround);
	expect(sky.map(({ label }) => label)).toEqual(["1", "2", "3", "4", "5", "6", "7", "8"]);
	expect(panels.filter(({ isGround }) => isGround).length).toBeGreaterThan(2);
	const outline = (i: number): Places => sky[i]?.outline ?? [];
	for (const column of [0, 1, 2, 3]) {
		// The second panel of a column is the higher one: nearer to the picture's top.
		expect(ends(outline(2 * column + 1), 1)[0]).toBeLessThan(ends(outline(2 * column), 1)[0]);
		expect(overlap(outline(2 * column), outline(2 * column + 1), 1)).toBe(true);
		if (column === 0) continue;
		for (const row of [0, 1]) {
			expect(ends(outline(2 * column + row), 0)[0]).toBeGreaterThan(ends(outline(2 * column - 2 + row), 0)[0]);
			expect(overlap(outline(2 * column + row), outline(2 * column - 2 + row), 0)).toBe(true);
		}
	}
	for (const { outline: all } of panels)
		for (const place of all) for (const part of place) expect(part).toBeGreaterThanOrEqual(0);
	for (const { outline: all } of panels)
		for (const place of all) for (const part of place) expect(part).toBeLessThanOrEqual(1);
	// Where the ground begins at a place across.
	const groundAt = (x: number): number => {
		const area = hidden.find((corners) => ends(corners, 0)[0] <= x && x <= ends(corners, 0)[1]) ?? [];
		return ends(area, 1)[0];
	};
	expect(stars.length).toBeGreaterThan(50);
	for (const { at } of stars) expect(at[1]).toBeLessThan(groundAt(at[0]) + 0.02);
	// The arch runs from the ground over its top to the ground, and every part of it is in a panel.
	expect(arch).toHaveLength(1);
	const [line = []] = arch;
	for (const foot of [line[0], line.at(-1)])
		expect(Math.abs((foot?.[1] ?? 0) - groundAt(foot?.[0] ?? 0))).toBeLessThan(0.02);
	const top = ends(line, 1)[0];
	expect(top).toBeLessThan(Math.min(line[0]?.[1] ?? 0, line.at(-1)?.[1] ?? 0) - 0.1);
	for (const [x, y] of line)
		expect(
			sky.some(
				({ outline: all }) =>
					ends(all, 0)[0] <= x && x <= ends(all, 0)[1] && ends(all, 1)[0] <= y && y <= ends(all, 1)[1],
			),
			`${x} ${y}`,
		).toBe(true);
	expect(alternative).toMatch(
		/4 columns of 2 .* Dashed: panels of the foreground\. Arc: the middle of the Milky Way\.$/,
	);
});

test("of a single picture there are no panels, and the arch's line where it is the aim", () => {
	expect(frameOf(planWith({}))).toMatchObject({ panels: [], arch: [] });
	const alone = frameOf(quarry.replace(/ {4}panorama: .*\n/, ""));
	expect(alone.panels).toEqual([]);
	expect(alone.arch.length).toBeGreaterThan(0);
	// The frame is centred on its top.
	const [line = []] = alone.arch;
	expect(line.some(([x, y]) => Math.hypot(x - 0.5, y - 0.5) < 0.05)).toBe(true);
});

test("all around the horizon, up to the zenith, in many panels: places stay in the picture's width", () => {
	for (const aim of [
		"{ bearings: [0, 0], altitudes: [-30, 90] }",
		"{ azimuth: 0, altitude: 85 }",
		"{ bearings: [300, 200], altitudes: [0, 60] }",
	]) {
		const { panels, shape } = frameOf(
			planWith({
				targets: `- name: all\n  aim: ${aim}\n  panorama: { overlap: 40 % }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`,
			}),
		);
		expect(panels.length).toBeGreaterThan(2);
		expect(shape).toBeGreaterThan(0.05);
		for (const { outline } of panels)
			for (const [, y] of outline) {
				expect(y).toBeGreaterThanOrEqual(-1e-9);
				expect(y).toBeLessThanOrEqual(1 + 1e-9);
			}
	}
});

test("a comet's tail points away from the Sun and ends with its extent; without one it has a length of the picture's", () => {
	const text = readFileSync(new URL("../../samples/dusk-comet.lode.yaml", import.meta.url), "utf8");
	const { tail, extent, shape, alternative } = frameOf(text);
	const [head, end] = tail ?? [
		[0, 0],
		[0, 0],
	];
	for (const one of head) expect(one).toBeCloseTo(0.5, 2);
	const [x, y] = [end[0] - head[0], (end[1] - head[1]) * shape];
	expect(Math.hypot(x, y)).toBeCloseTo(extent ?? Number.NaN, 2);
	// The Sun has set to the right of north-west, below the comet: the tail points up.
	const { targets, tonight } = evaluateText(text);
	const [target] = targets?.value ?? [];
	if (!target || !tonight) throw new Error("no target");
	const { from } = target.series;
	const sun = apparentDirection({ type: "sun", name: "Sun" }, tonight.spot, from);
	const comet = target.directionAt(from);
	expect(sun.altitude).toBeLessThan(comet.altitude);
	expect(end[1]).toBeLessThan(head[1]);
	expect(Math.sign(x)).toBe(-Math.sign(halfTurn(sun.azimuth - comet.azimuth)));
	expect(alternative).toContain("Wedge: the tail, away from the Sun");
	const short = frameOf(text.replace(/ {4}extent: .*\n/, ""));
	const [from0, to0] = short.tail ?? [
		[0, 0],
		[0, 0],
	];
	expect(Math.hypot(to0[0] - from0[0], (to0[1] - from0[1]) * short.shape)).toBeCloseTo(0.25, 2);
	expect(frameOf(planWith({})).tail).toBeUndefined();
});

test("a comet's tail is in a panorama as it is in a frame", () => {
	const text = readFileSync(new URL("../../samples/dusk-comet.lode.yaml", import.meta.url), "utf8");
	const panels = text.replace("    orientation: portrait\n", "    panorama: { columns: 3, rows: 2, overlap: 40 % }\n");
	const { tail, shape, alternative } = frameOf(panels);
	const [head, end] = tail ?? [
		[0, 0],
		[0, 0],
	];
	const single = frameOf(text);
	const [from, to] = single.tail ?? [
		[0, 0],
		[0, 0],
	];
	// Near the middle both pictures are the sky as it is: the same slant.
	const slant = ([x1, y1]: readonly number[], [x2, y2]: readonly number[], high: number): number =>
		Math.atan2((x2 ?? 0) - (x1 ?? 0), -((y2 ?? 0) - (y1 ?? 0)) * high);
	expect(slant(head, end, shape)).toBeCloseTo(slant(from, to, single.shape), 1);
	const [target] = evaluateText(panels).targets?.value ?? [];
	const { panorama } = target ?? {};
	expect(panorama?.panels).toHaveLength(6);
	expect(alternative).toContain("Wedge: the tail, away from the Sun");
	const longer = frameOf(panels.replace("extent: 4°", "extent: 8°")).tail;
	expect(((longer?.[1][1] ?? 0) - head[1]) / (end[1] - head[1])).toBeCloseTo(2, 0);
	expect(frameOf(quarry).tail).toBeUndefined();
});
