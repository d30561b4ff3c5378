/** The pictures of the walkthrough and of the README, taken anew by `npm run pictures`. */
import { cpSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, test, vi } from "vitest";
import { launch } from "./browser.ts";
import { withPalette } from "./palette-png.ts";
import { answer, choice, command, openFile, openWorkbench, TEST_LIMIT_MS } from "./steps.ts";
import { ROOT, serveWorkbench } from "./workbench.mjs";

vi.setConfig({ testTimeout: TEST_LIMIT_MS });

describe.skipIf(!process.env.LODEBOOK_PICTURES)("pictures", () => {
	let browser: Browser;
	let page: Page;
	let server: Awaited<ReturnType<typeof serveWorkbench>>;

	beforeAll(async () => {
		const folder = mkdtempSync(join(tmpdir(), "lodebook-pictures-"));
		cpSync(join(ROOT, "samples"), folder, { recursive: true });
		server = await serveWorkbench({
			folder,
			settings: {
				"workbench.colorTheme": "Default Light Modern",
				"workbench.activityBar.location": "hidden",
			},
		});
		browser = await launch();
		({ page } = await openWorkbench(browser, server.url, 560, /404/, 1000));
	});

	afterAll(async () => {
		await browser?.close();
		await server?.close();
	});

	const picture = async (name: string): Promise<void> => {
		const taken = await withPalette(browser, await page.screenshot());
		writeFileSync(join(ROOT, "client/media", `${name}.png`), taken);
	};
	const settled = (): Promise<void> => page.waitForTimeout(1500);

	test("are taken", async () => {
		await openFile(page, "roofless-chapel");
		await page.locator(".codelens-decoration", { hasText: "No problems found" }).first().waitFor();
		await command(page, "View: Toggle Primary Side Bar Visibility");
		await settled();
		await picture("editor");
		await command(page, "Lodebook: Open Preview to the Side");
		await page.frameLocator("iframe.webview.ready").frameLocator("#active-frame").locator("h1").first().waitFor();
		await settled();
		await picture("preview");
		await command(page, "View: Close All Editors");
		await command(page, "View: Show Explorer");
		await openFile(page, "roofless-chapel");
		await page.locator(".view-line").first().click();
		await command(page, "Lodebook: Open as Notebook");
		await page.frameLocator("iframe.webview.ready").frameLocator("#active-frame").locator("#panorama").waitFor();
		await settled();
		await picture("notebook");
		await command(page, "View: Close All Editors");
		await command(page, "Lodebook: New Plan");
		await answer(page, ["Windy knoll"]);
		await page.locator(".quick-input-title", { hasText: "2 of 5" }).waitFor();
		await page.locator(".quick-input-widget .quick-input-box input").fill("44.1 S, 170.4 E");
		await page.locator(".quick-input-message", { hasText: "as a map copies them" }).waitFor();
		await page.keyboard.press("Enter");
		await choice(page, "dark and moonless").waitFor();
		await picture("new-plan");
	});
});
