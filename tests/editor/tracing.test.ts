import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { FrameLocator, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { parseAllDocuments } from "yaml";
import { fitted, type Size, toScreen, zoomed } from "../../client/page/tracing/viewport.ts";
import { fewerPoints } from "../../shared/photo/fewer-points.ts";
import type { SkyPoint } from "../../shared/sky/outline.ts";
import { skylineOf } from "../../shared/sky/skyline.ts";
import {
	ARCH_PLAN,
	apartAtMost,
	archPhoto,
	CAIRN,
	GROUND,
	groundEdge,
	OUTLINE,
	PHOTO,
	placeOf,
	rockEdge,
	TOWER,
	WINDOW,
	windowEdge,
} from "../photo/arch-photo.ts";
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

type Place = readonly [x: number, y: number];

describe.skipIf(BROWSER === undefined)("tracing on a photo in the real workbench", () => {
	const picture = archPhoto([]);
	let watched: SampleWorkbench;
	let page: Page;
	let panel: FrameLocator;
	let screen: Size & { readonly x: number; readonly y: number };

	beforeAll(async () => {
		watched = await openSamples("tracing", 1200, (folder) => {
			writeFileSync(join(folder, "sandpiper.lode.yaml"), ARCH_PLAN);
			writeFileSync(join(folder, "arch.png"), picture.png);
			writeFileSync(join(folder, "broken.png"), picture.png.slice(0, 3000));
			writeFileSync(join(folder, "letter.jpg"), "Dear reader");
		});
		({ page } = watched);
		panel = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");
	});

	afterEach(() => page.screenshot({ path: join(SHOTS, "tracing-last.png") }));

	afterAll(() => watched?.close());

	const line = (words: string | RegExp) => page.locator(".view-line", { hasText: words }).first();
	const text = (): string => readFileSync(join(watched.folder, "sandpiper.lode.yaml"), "utf8");

	async function choosePhoto(name: string): Promise<void> {
		await panel.locator("#choose").click();
		await chooseFile(page, name);
	}

	/** A place of the photo under the cursor, the photo large around it: as a careful hand does it. */
	async function near(place: Place): Promise<Place> {
		await panel.locator("#fit").click();
		const whole = fitted(PHOTO, screen);
		const at = toScreen(whole, place).map(Math.round) as unknown as Place;
		await page.mouse.move(screen.x + at[0], screen.y + at[1]);
		const wheel = -700;
		await page.mouse.wheel(0, wheel);
		const view = zoomed(whole, at, Math.exp(-wheel * 0.002), PHOTO, screen);
		// The wheel is heard once the page gets to it.
		await page.waitForTimeout(30);
		const [x, y] = toScreen(view, place);
		return [screen.x + Math.round(x), screen.y + Math.round(y)];
	}

	async function clickAt(place: Place): Promise<void> {
		await page.mouse.click(...(await near(place)));
	}

	const tool = (name: string) => panel.locator(`input[name="tool"][value="${name}"] + span`).click();

	test("the light bulb on the skyline opens the panel; what is not a photo is said", async () => {
		await openFile(page, "sandpiper.lode.yaml");
		await line(/skyline:/).click();
		await action(page, "Trace the skyline on a photo");
		await page.keyboard.press("Enter");
		await panel.locator("h1", { hasText: "Trace on a photo" }).waitFor();
		expect(await panel.locator('input[name="tool"]:checked').inputValue()).toBe("skyline");
		await choosePhoto("letter.jpg");
		await panel.locator("#said", { hasText: "letter.jpg is not a JPEG or PNG file." }).waitFor();
		await choosePhoto("broken.png");
		await panel.locator("#said", { hasText: "broken.png cannot be read as a picture." }).waitFor();
		await page.screenshot({ path: join(SHOTS, "tracing-empty.png") });
	});

	test("two marks, and the camera is known", async () => {
		await choosePhoto("arch.png");
		await panel.locator("#name", { hasText: "arch.png, 3000 × 2000" }).waitFor();
		await panel.locator("#focalLength").fill("24 mm");
		const box = await panel.locator("#photo").boundingBox();
		if (!box) throw new Error("the photo is not shown");
		screen = box;
		await tool("mark");
		for (const [i, [name, direction]] of (
			[
				["cairn", CAIRN],
				["far tower", TOWER],
			] as const
		).entries()) {
			await clickAt(placeOf(direction));
			const input = panel.locator("#marks input").nth(i);
			await input.fill(name);
			await page.keyboard.press("Enter");
		}
		await panel
			.locator("#camera", {
				hasText: /^The camera looked at bearing 20[45]\.[09]°, altitude 2[78]\.[09]°; 73\.7° across\.$/,
			})
			.waitFor();
		await panel.locator("#marks .result", { hasText: "bearing 178.0°, altitude 9.0°; the photo is 0.0" }).waitFor();
		expect(await panel.locator("#notes li").count()).toBe(0);
		await panel.locator("#fit").click();
		await page.screenshot({ path: join(SHOTS, "tracing-marks.png") });
	});

	test("arch and window by clicks, the skyline by drags: within 0.1° in the plan, and undo takes it out", async () => {
		await tool("obstruction");
		for (const place of fewerPoints(rockEdge(picture), 1.5)) await clickAt(place);
		await tool("window");
		for (const place of fewerPoints(windowEdge(picture), 1.5)) await clickAt(place);
		await tool("skyline");
		await panel.locator("#fit").click();
		for (const [from, until] of [
			[40, 700],
			[2400, 2990],
		] as const) {
			const places = groundEdge(picture, from, until).map((place) => {
				const [x, y] = toScreen(fitted(PHOTO, screen), place);
				return [screen.x + x, screen.y + y] as const;
			});
			await page.mouse.move(...(places[0] as Place));
			await page.mouse.down();
			for (const place of places.slice(1)) await page.mouse.move(...place);
			await page.mouse.up();
			await panel.locator("#endLine").click();
		}
		await panel
			.locator("#lines .result", { hasText: /points, bearing 186\.\d° to 22[45]\.\d°, highest 42\.\d°/ })
			.waitFor();
		await page.mouse.move(screen.x + 5, screen.y + 5);
		await page.screenshot({ path: join(SHOTS, "tracing-traced.png") });
		await panel.locator("#write").click();
		await panel.locator("#said", { hasText: "Written into the plan." }).waitFor();
		await openFile(page, "sandpiper.lode.yaml");
		await line(/arch:\straced\son\sthe\sphoto\sarch\.png/).waitFor();
		await command(page, "File: Save");
		await expect.poll(text, { timeout: LIMIT_MS }).toContain("traced on the photo");
		const { obstructions, skyline } = parseAllDocuments(text()).map((one) => one.toJS())[1].site as {
			readonly obstructions: readonly {
				readonly name: string;
				readonly outline: SkyPoint[];
				readonly window: SkyPoint[];
			}[];
			readonly skyline: SkyPoint[];
		};
		expect(obstructions.map(({ name }) => name)).toEqual(["arch"]);
		expect(apartAtMost(obstructions[0]?.outline ?? [], OUTLINE)).toBeLessThan(0.1);
		expect(apartAtMost(obstructions[0]?.window ?? [], WINDOW)).toBeLessThan(0.1);
		// Drawn with the whole photo on the screen, a pixel of which is 0.1°.
		const [is, truth] = [skylineOf(skyline), skylineOf(GROUND)];
		for (const bearing of [177, 179, 181, 228, 232, 236, 238.5])
			expect(Math.abs(is.skylineAt(bearing) - truth.skylineAt(bearing)), String(bearing)).toBeLessThan(0.2);
		await page.screenshot({ path: join(SHOTS, "tracing-written.png") });
		await cursorTo(page, line(/timezone:/));
		await page.keyboard.press("Control+Z");
		await line(/arch:\straced\son\sthe\sphoto\sarch\.png/).waitFor({ state: "hidden" });
		expect(watched.errors).toEqual([]);
		expect(watched.outside).toEqual([]);
	});

	test("keys: cross-hairs, points, the end of a line, undo", async () => {
		await command(page, "Lodebook: Trace on a Photo");
		const stage = panel.locator("#stage");
		await stage.focus();
		await page.keyboard.press("4");
		for (const key of ["ArrowUp", " ", "ArrowRight", " ", "ArrowDown", "Shift+ArrowDown", " "])
			await page.keyboard.press(key);
		await panel.locator("#lines li:last-child .result", { hasText: /^3 points/ }).waitFor();
		await page.keyboard.press("Backspace");
		await panel.locator("#lines li:last-child .result", { hasText: /^2 points/ }).waitFor();
		await page.keyboard.press("Control+Z");
		await panel.locator("#lines li:last-child .result", { hasText: /^3 points/ }).waitFor();
		await page.keyboard.press("Enter");
		await expect.poll(() => panel.locator("#endLine").isDisabled()).toBe(true);
		expect(await panel.locator("#at").textContent()).toMatch(/^bearing \d/);
	});
});
