/** One plan open as text and as a notebook: what is found in it is told once, and nothing of it stays when both are closed. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Locator, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { BROWSER } from "./browser.ts";
import {
	command,
	cursorTo,
	LIMIT_MS,
	openFile,
	openSamples,
	problemsCounted,
	type SampleWorkbench,
	SHOTS,
	TEST_LIMIT_MS,
} from "./steps.ts";

vi.setConfig({ testTimeout: TEST_LIMIT_MS });

describe.skipIf(BROWSER === undefined)("text and notebook of one plan in the real workbench", () => {
	let watched: SampleWorkbench;
	let page: Page;

	beforeAll(async () => {
		watched = await openSamples("faces", 10000, undefined, { settings: { "files.autoSave": "off" } });
		({ page } = watched);
	});

	afterEach(() => page.screenshot({ path: join(SHOTS, "faces-last.png") }));

	afterAll(() => watched?.close());

	const cellLine = (text: string | RegExp) => page.locator(".notebookOverlay .view-line", { hasText: text }).first();
	const textLine = (text: string | RegExp) =>
		page.locator(".editor-group-container").first().locator(".view-line", { hasText: text }).first();
	const counted = () => problemsCounted(page);
	const closeAll = async (): Promise<void> => {
		await command(page, "View: Close All Editors");
		const dialog = page.locator(".monaco-dialog-box");
		const tabs = page.locator(".tab");
		await expect
			.poll(async () => {
				if (await dialog.isVisible()) await dialog.getByRole("button", { name: "Don't Save" }).click();
				return tabs.count();
			})
			.toBe(0);
	};
	const openBoth = async (name: string): Promise<void> => {
		await openFile(page, name);
		await page.locator(".codelens-decoration").first().waitFor();
		await command(page, "View: Split Editor Right");
		await command(page, "Lodebook: Open as Notebook");
		await cellLine("title:").waitFor();
	};

	test.each(["roofless-chapel", "gannet-cave"])("%s: both edited, both closed without saving", async (name) => {
		const before = readFileSync(join(watched.folder, `${name}.lode.yaml`), "utf8");
		await openBoth(name);
		await cursorTo(page, cellLine("date:"));
		await page.keyboard.press("End");
		await page.keyboard.press("Backspace");
		await page.keyboard.type("9");
		await expect.poll(async () => (await counted())[0]).toBeGreaterThan(0);
		await cursorTo(page, textLine("title:"));
		await page.keyboard.press("End");
		await page.keyboard.type(" again");
		await cursorTo(page, textLine("f-number"));
		await page.keyboard.press("End");
		await page.keyboard.type("x");
		await expect.poll(async () => (await counted())[0]).toBeGreaterThan(0);
		await closeAll();
		await expect.poll(counted, { timeout: LIMIT_MS }).toEqual([0, 0, 0]);
		expect(readFileSync(join(watched.folder, `${name}.lode.yaml`), "utf8")).toBe(before);
	});

	test("one saved, the other closed without saving: only what is on the disk was there to be told", async () => {
		const NAME = "dusk-comet";
		const edited = async (place: Locator, keys: string, takesOut = 0): Promise<void> => {
			await cursorTo(page, place);
			await page.keyboard.press("End");
			for (let i = 0; i < takesOut; i++) await page.keyboard.press("Backspace");
			await page.keyboard.type(keys);
		};
		await openBoth(NAME);
		await edited(cellLine("date:"), "9", 1);
		await expect.poll(async () => (await counted())[0]).toBeGreaterThan(0);
		await edited(textLine("f-number"), " # wide open");
		await cursorTo(page, cellLine("date:"));
		await page.keyboard.press("Control+S");
		await closeAll();
		await expect.poll(counted, { timeout: LIMIT_MS }).toEqual([0, 0, 0]);
		await openBoth(NAME);
		await expect.poll(async () => (await counted())[0]).toBeGreaterThan(0);
		await edited(cellLine("date:"), " # by hand");
		await edited(textLine("f-number"), " # wide open");
		await page.keyboard.press("Control+S");
		await closeAll();
		await expect.poll(counted, { timeout: LIMIT_MS }).toEqual([0, 0, 0]);
	});
});
