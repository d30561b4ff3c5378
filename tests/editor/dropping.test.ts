import { readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import type { Locator, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { writeRun } from "../frames/run.ts";
import { archPhoto } from "../photo/arch-photo.ts";
import { BROWSER } from "./browser.ts";
import {
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

const PLAN = "roofless-chapel.lode.yaml";

describe.skipIf(BROWSER === undefined)("photos dropped on a plan in the real workbench", () => {
	let watched: SampleWorkbench;
	let page: Page;
	let frames: readonly string[];

	beforeAll(async () => {
		watched = await openSamples("dropping", 1200, (into) => {
			frames = writeRun(into);
			writeFileSync(join(into, "arch.png"), archPhoto([]).png);
			writeFileSync(join(into, "packing.txt"), "gloves\n");
		});
		({ page } = watched);
	});

	afterEach(() => page.screenshot({ path: join(SHOTS, "dropping-last.png") }));

	afterAll(() => watched?.close());

	const line = (words: string | RegExp) => page.locator(".view-line", { hasText: words }).first();
	const text = (): string => readFileSync(join(watched.folder, PLAN), "utf8");
	const button = (words: string) => page.locator(".notification-toast-container a", { hasText: words }).last();
	/** Waits for something in whichever page inside the editor has it. */
	const shown = (selector: string, hasText: string): Promise<void> =>
		expect
			.poll(
				async () => {
					const counts = page.frames().map((frame) =>
						frame
							.locator(selector, { hasText })
							.count()
							// A page that has gone meanwhile.
							.catch(() => 0),
					);
					return (await Promise.all(counts)).some((count) => count > 0);
				},
				{ timeout: LIMIT_MS },
			)
			.toBe(true);

	/** Files from outside the editor: a browser hands over their bytes and no path. Shift drops into the text. */
	async function dropFiles(at: Locator, paths: readonly string[]): Promise<void> {
		const files = paths.map((path) => ({ name: basename(path), base64: readFileSync(path).toString("base64") }));
		const dropped = await page.evaluateHandle((all) => {
			const transfer = new DataTransfer();
			for (const { name, base64 } of all) {
				const bytes = Uint8Array.from(atob(base64), (one) => one.charCodeAt(0));
				transfer.items.add(new File([bytes], name, { type: name.endsWith("txt") ? "text/plain" : "image/jpeg" }));
			}
			return transfer;
		}, files);
		const box = await at.boundingBox();
		if (!box) throw new Error("not on the page");
		const event = {
			dataTransfer: dropped,
			shiftKey: true,
			bubbles: true,
			cancelable: true,
			clientX: box.x + 20,
			clientY: box.y + box.height / 2,
		};
		for (const type of ["dragenter", "dragover", "drop"]) await at.dispatchEvent(type, event);
	}

	/** A file of the explorer, dragged by hand. */
	async function dragFromExplorer(name: string, to: Locator): Promise<void> {
		const [from, until] = [
			await page.locator(".explorer-folders-view .monaco-list-row", { hasText: name }).boundingBox(),
			await to.boundingBox(),
		];
		if (!from || !until) throw new Error("not on the page");
		await page.mouse.move(from.x + 60, from.y + from.height / 2);
		await page.mouse.down();
		await page.mouse.move(from.x + 120, from.y + from.height / 2, { steps: 4 });
		await page.keyboard.down("Shift");
		await page.mouse.move(until.x + 20, until.y + until.height / 2, { steps: 8 });
		await page.mouse.up();
		await page.keyboard.up("Shift");
	}

	test("two frames from outside are measured on the plan they were dropped on, and nothing is inserted", async () => {
		const before = text();
		await openFile(page, PLAN);
		await page.locator(".codelens-decoration", { hasText: "guide stars tonight" }).first().waitFor();
		await dropFiles(line("date:"), frames);
		await button("Write to the Log").waitFor();
		await page.screenshot({ path: join(SHOTS, "dropping-measured.png") });
		await shown("p", "Facing the pole: raise the tilt by 0.4");
		expect(await page.locator(".tab", { hasText: PLAN }).first().getAttribute("class")).not.toContain("dirty");
		expect(text()).toBe(before);
		await button("Write to the Log").click();
		await button("Write the Lens").waitFor();
		await command(page, "File: Save");
		await expect.poll(text, { timeout: LIMIT_MS }).toMatch(/\n {4}solved:\n(?: {6}- \{ at: "21:\d\d", .*\}\n){2}/);
		await command(page, "Notifications: Clear All Notifications");
		await command(page, "View: Close All Editors");
	});

	test("one photo of the explorer is asked for what it is, and traced on", async () => {
		await openFile(page, PLAN);
		await line("date:").waitFor();
		await dragFromExplorer("arch.png", line("date:"));
		await page.locator(".notification-list-item", { hasText: "arch.png: a test frame of the night, or" }).waitFor();
		await page.screenshot({ path: join(SHOTS, "dropping-asked.png") });
		await button("Trace on a Photo").click();
		await expect.poll(() => page.locator(".tab.active", { hasText: "Trace:" }).count(), { timeout: LIMIT_MS }).toBe(1);
		await shown("#name", "arch.png, 3000 × 2000");
		await command(page, "View: Close All Editors");
	});

	test("what is no photo is left to the editor", async () => {
		await openFile(page, PLAN);
		await dragFromExplorer("packing.txt", line("date:"));
		await line("packing.txt").waitFor();
		await page.keyboard.press("Control+Z");
		await expect.poll(() => line("packing.txt").count()).toBe(0);
	});

	test("a frame dropped on a cell of the notebook is measured", async () => {
		// It opens at the cell where the cursor was.
		await line("title:").click();
		await command(page, "Lodebook: Open as Notebook");
		const cell = page.locator(".notebookOverlay .view-line", { hasText: "title:" }).first();
		await cursorTo(page, cell);
		await dropFiles(cell, frames.slice(0, 1));
		await button("Measure Frames").click();
		await button("Add Frames").waitFor();
		await page.screenshot({ path: join(SHOTS, "dropping-notebook.png") });
		await shown("p", "Middle of the frame: bearing");
	});

	test("nothing outside this machine was asked for, and nothing of ours went wrong", () => {
		expect(watched.outside).toEqual([]);
		expect(watched.errors).toEqual([]);
	});
});
