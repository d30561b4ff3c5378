import { closeSync, ftruncateSync, openSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { parse } from "yaml";
import { BROWSER } from "./browser.ts";
import {
	action,
	chooseFile,
	command,
	cursorTo,
	LIMIT_MS,
	openFile,
	openSamples,
	type SampleWorkbench,
	SHOTS,
	TEST_LIMIT_MS,
} from "./steps.ts";

vi.setConfig({ testTimeout: TEST_LIMIT_MS });

const PLAN = `site:
  name: plain
  latitude: 46.5 N
  longitude: 8.5 E
  elevation: 500 m
  skyline: [[0, 1], [180, 2]] # by eye
  landmarks:
    - { name: mast, latitude: 46.62 N, longitude: 8.5 E, elevation: 1520 m }
`;

describe.skipIf(BROWSER === undefined)("a skyline from elevation tiles in the real workbench", () => {
	let watched: SampleWorkbench;
	let page: Page;

	beforeAll(async () => {
		watched = await openSamples("ground", 1000, (folder) => {
			/** A plain of 500 m with a wall of 1,500 m along the parallel 5 km to the north of 46.5° N. */
			const heights = Buffer.alloc(2 * 1201 * 1201);
			for (let row = 0; row < 1201; row++)
				for (let column = 0; column < 1201; column++)
					heights.writeInt16BE(row < 546 ? 1500 : 500, 2 * (row * 1201 + column));
			writeFileSync(join(folder, "N46E008.hgt"), heights);
			writeFileSync(join(folder, "half.hgt"), heights.subarray(0, 100_000));
			// Holes take no room.
			const large = openSync(join(folder, "large.tif"), "w");
			ftruncateSync(large, 201_000_000);
			closeSync(large);
			writeFileSync(join(folder, "plain.lode.yaml"), PLAN);
		});
		({ page } = watched);
	});

	afterEach(() => page.screenshot({ path: join(SHOTS, "ground-last.png") }));

	afterAll(() => watched?.close());

	const said = (words: string | RegExp) => page.locator(".notification-toast", { hasText: words }).first();
	const line = (words: string | RegExp) => page.locator(".view-line", { hasText: words }).first();

	test("what is no tile is said", async () => {
		await openFile(page, "plain.lode.yaml");
		await line(/skyline:/)
			.locator("span span", { hasText: "skyline" })
			.first()
			.click();
		await action(page, "Make the skyline from elevation tiles");
		const chosen = page.locator(".action-widget .monaco-list-row.focused", { hasText: "from elevation tiles" });
		// The photo's is above it.
		if (!(await chosen.isVisible())) await page.keyboard.press("ArrowDown");
		await chosen.waitFor();
		await page.keyboard.press("Enter");
		await chooseFile(page, "half.hgt");
		await said("the name of a .hgt file gives its position").waitFor();
		await command(page, "Notifications: Clear All Notifications");
	});

	test("a tile of over 200 MB is refused with the reason, is not read, and the editor goes on", async () => {
		await line(/name:\splain/).click();
		await command(page, "Lodebook: Make the Skyline from Elevation Tiles");
		await chooseFile(page, "large.tif");
		await said("large.tif has 201 MB; a tile may have 200 MB. Cut out the part you need.").waitFor();
		await page.screenshot({ path: join(SHOTS, "ground-large.png") });
		await command(page, "Notifications: Clear All Notifications");
		// The plan is as it was; the next test goes on in the same editor.
		expect(readFileSync(join(watched.folder, "plain.lode.yaml"), "utf8")).toBe(PLAN);
	});

	test("the tile's horizon takes the place of the skyline, with a comment on where it is from", async () => {
		await line(/name:\splain/).click();
		await command(page, "Lodebook: Make the Skyline from Elevation Tiles");
		await chooseFile(page, "N46E008.hgt");
		// The skyline by eye would be lost.
		const dialog = page.locator(".monaco-dialog-box", { hasText: "the site's skyline of 2 points" });
		await dialog.getByRole("button", { name: "Write It All the Same" }).click();
		await said(/The skyline is written\..* mast, 13 km away, is hidden by the ground at 5\.1 km\./s).waitFor();
		await page.screenshot({ path: join(SHOTS, "ground-written.png") });
		await line(/Ground\sfrom\selevation\stiles/).waitFor();
		await command(page, "File: Save");
		const text = (): string => readFileSync(join(watched.folder, "plain.lode.yaml"), "utf8");
		await expect.poll(text, { timeout: LIMIT_MS }).toContain("Ground from elevation tiles, seen from 502 m");
		const { skyline, landmarks } = parse(text()).site as { skyline: [number, number][]; landmarks: unknown[] };
		// As on the command line: the crest is 5,094 m away.
		const highest = Math.max(...skyline.map(([, altitude]) => altitude));
		expect(highest).toBeCloseTo((Math.atan((998.3 - (0.87 * 5094 ** 2) / 2 / 6_371_000) / 5094) * 180) / Math.PI, 1);
		expect(landmarks.length).toBe(1);
		expect(text()).not.toContain("by eye");
		await cursorTo(page, line(/name:\splain/));
		await page.keyboard.press("Control+Z");
		await line(/#\sby\seye/).waitFor();
		expect(watched.errors).toEqual([]);
		expect(watched.outside).toEqual([]);
	});
});
