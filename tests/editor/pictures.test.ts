/** The pictures of the walkthrough and of the README, taken anew by `npm run pictures`. */
import { execFileSync } from "node:child_process";
import { cpSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { launch } from "./browser.ts";
import { withPalette } from "./palette-png.ts";
import { PICTURED, pictureSource, RECORD } from "./picture-source.ts";
import { answer, choice, command, cursorTo, openFile, openWorkbench, TEST_LIMIT_MS } from "./steps.ts";
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
	/** A card as two phones show it: before dusk, and in the dim red from dusk on. */
	const card = async (): Promise<void> => {
		const plan = join(ROOT, `samples/${PICTURED}.lode.yaml`);
		const file = join(mkdtempSync(join(tmpdir(), "lodebook-card-")), "card.html");
		execFileSync(process.execPath, [join(ROOT, "dist/lodebook.mjs"), "show", plan, "--card", "-o", file]);
		const context = await browser.newContext({ viewport: { width: 400, height: 640 } });
		const [phone, both] = [await context.newPage(), await browser.newPage({ viewport: { width: 820, height: 640 } })];
		const shots: string[] = [];
		for (const clock of ["2027-06-05T17:30:00-03:00", "2027-06-05T19:55:00-03:00"]) {
			await phone.clock.setFixedTime(clock);
			await phone.goto(pathToFileURL(file).href);
			await phone.waitForTimeout(500);
			shots.push((await phone.screenshot()).toString("base64"));
		}
		const images = shots.map((shot) => `<img src="data:image/png;base64,${shot}">`).join("");
		await both.setContent(`<body style="margin: 0; display: flex; gap: 20px; background: #ddd">${images}</body>`);
		writeFileSync(join(ROOT, "client/media/card.png"), await withPalette(browser, await both.screenshot()));
		await context.close();
	};
	const settled = (): Promise<void> => page.waitForTimeout(1500);

	test("are taken", async () => {
		await card();
		await openFile(page, PICTURED);
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
		await openFile(page, PICTURED);
		await page.locator(".view-line").first().click();
		await command(page, "Lodebook: Open as Notebook");
		await page.frameLocator("iframe.webview.ready").frameLocator("#active-frame").locator("#panorama").waitFor();
		await settled();
		// To the view from the spot, under the site's cell.
		const view = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame").locator("#panorama");
		await page.mouse.move(270, 400);
		await expect
			.poll(async () => {
				const top = (await view.boundingBox())?.y ?? 1000;
				if (top > 220) await page.mouse.wheel(0, 60);
				return top;
			})
			.toBeLessThan(220);
		await settled();
		await picture("notebook");
		await command(page, "View: Close All Editors");
		await command(page, "Lodebook: New Plan");
		await answer(page, ["Windy knoll"]);
		await page.locator(".quick-input-title", { hasText: "2 of 5" }).waitFor();
		await page.locator(".quick-input-widget .quick-input-box input").fill("44.1 S, 170.4 E");
		await page.locator(".quick-input-message", { hasText: "as copied from a map" }).waitFor();
		await page.keyboard.press("Enter");
		await choice(page, "dark and moonless").waitFor();
		await picture("new-plan");
		await page.keyboard.press("Escape");
		await page.keyboard.press("Escape");
		await openFile(page, PICTURED);
		await cursorTo(page, page.locator(".view-line").first());
		await page.keyboard.press("Control+G");
		await answer(page, [":38"]);
		await page.locator(".codelens-decoration a", { hasText: "guide stars tonight" }).first().click();
		await choice(page, "eta Virginis at 20:02").waitFor();
		await settled();
		await picture("guide-star");
		writeFileSync(RECORD, `${JSON.stringify(pictureSource(), undefined, "\t")}\n`);
	});
});
