/** The notebook in an editor that was told to show Markdown: what the extension's own renderer draws stands there too. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test, vi } from "vitest";
import { BROWSER } from "./browser.ts";
import {
	again,
	command,
	cursorTo,
	openFile,
	openSamples,
	type SampleWorkbench,
	SHOTS,
	TEST_LIMIT_MS,
} from "./steps.ts";

vi.setConfig({ testTimeout: TEST_LIMIT_MS });

describe.skipIf(BROWSER === undefined)("a notebook shown as Markdown in the real workbench", () => {
	let watched: SampleWorkbench | undefined;
	afterAll(() => watched?.close());

	test("says what is found, a code leads to its explanation, and an edit is followed", async () => {
		watched = await openSamples("markdown", 3000, (folder) => {
			mkdirSync(join(folder, ".vscode"));
			writeFileSync(
				join(folder, ".vscode/settings.json"),
				JSON.stringify({ "notebook.displayOrder": ["text/markdown"] }),
			);
		});
		const { page } = watched;
		await openFile(page, "mistakes");
		await page.locator(".squiggly-error").first().waitFor();
		await command(page, "Lodebook: Open as Notebook");
		const outputs = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");
		const code = outputs.locator("a", { hasText: "structure/unknown-key" }).first();
		await code.waitFor();
		expect(await outputs.locator(".lodebook-cell").count()).toBe(0);
		await page.screenshot({ path: join(SHOTS, "markdown.png") });
		// The misspelt key of the title, put right.
		const line = page.locator(".notebookOverlay .view-line", { hasText: /that\scan\sgo\swrong/ }).first();
		const right = page.locator(".notebookOverlay .view-line", { hasText: /^\s*title:/ }).first();
		await again(right, async () => {
			await cursorTo(page, line);
			await page.keyboard.press("End");
			await page.keyboard.press("Shift+Home");
			await page.keyboard.type("title: Everything that can go wrong");
			await page.keyboard.press("Escape");
		});
		await outputs.locator("li", { hasText: "titel" }).first().waitFor({ state: "detached" });
		await page.keyboard.press("Escape");
		const other = outputs.locator("a", { hasText: /^[\w-]+\/[\w-]+$/ }).first();
		const name = /[^/]+$/.exec(await other.innerText())?.[0] ?? "";
		await other.click();
		await page.locator(".tab", { hasText: name }).waitFor();
	});

	test("nothing outside this machine was asked for, and nothing of ours went wrong", () => {
		expect(watched?.outside).toEqual([]);
		expect(watched?.errors).toEqual([]);
	});
});
