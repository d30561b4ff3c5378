import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { BROWSER } from "./browser.ts";
import {
	action,
	again,
	answer,
	choice,
	command,
	cursorTo,
	hover,
	openFile,
	openSamples,
	otherKit,
	rewrite,
	type SampleWorkbench,
	SHOTS,
	TEST_LIMIT_MS,
} from "./steps.ts";
import { ROOT } from "./workbench.mjs";

vi.setConfig({ testTimeout: TEST_LIMIT_MS });

describe.skipIf(BROWSER === undefined)("the browser extension in the real workbench", () => {
	let watched: SampleWorkbench;
	let page: Page;
	let folder: string;

	beforeAll(async () => {
		watched = await openSamples("web", 1000);
		({ page, folder } = watched);
	});

	afterAll(() => watched?.close());

	const open = (name: string): Promise<void> => openFile(page, name);
	const text = (content: string) => page.locator(".view-line span span", { hasText: content }).first();

	test("a sample opens as a plan and checks clean; the hover shows the star's figures", async () => {
		await open("roofless-chapel");
		await page.locator(".view-line", { hasText: "guide-star" }).first().waitFor();
		await page.locator(".statusbar-item", { hasText: "Lodebook plan" }).waitFor();
		const line = page.locator(".view-line", { hasText: "guide-star" }).first();
		const said = await hover(
			page,
			line.locator("span span", { hasText: "Virginis" }).first(),
			"It misses the aim point by",
		);
		expect(said).toContain("0.88°");
		expect(said).toContain("58.42°");
		await page.screenshot({ path: join(SHOTS, "web-hover.png") });
		expect(await page.locator(".squiggly-error").count()).toBe(0);
	});

	test("an impossible guide star is underlined while it is typed, with the fix, and the line goes when it is fixed", async () => {
		await rewrite(page, "guide-star", "Sabik");
		await page.waitForSelector(".squiggly-error");
		const said = await hover(page, text("Sabik"), "never comes closer than");
		expect(said).toMatch(
			/Sabik never comes closer than 15\.\d° to the aim point \(altitude 57\.6°, bearing 000\.0°\).*Usable tonight:/s,
		);
		expect(said).toContain("method/guide-star-never-near");
		await page.screenshot({ path: join(SHOTS, "web-squiggle.png") });
		await rewrite(page, "guide-star", "eta Virginis");
		await page.waitForFunction("document.querySelectorAll('.squiggly-error').length === 0");
		await page.keyboard.press("Control+S");
		await expect
			.poll(() => readFileSync(join(folder, "roofless-chapel.lode.yaml"), "utf8"))
			.toBe(readFileSync(join(ROOT, "samples/roofless-chapel.lode.yaml"), "utf8"));
	});

	test("completion pops up by itself while typing, guide stars ranked; accepting one mends the plan", async () => {
		const line = page.locator(".view-line", { hasText: "guide-star" }).first();
		await cursorTo(page, line.locator("span span", { hasText: "Virginis" }).first());
		await page.keyboard.press("End");
		for (let i = 0; i < "eta Virginis".length; i++) await page.keyboard.press("Backspace");
		await page.keyboard.type("z");
		const list = page.locator(".suggest-widget.visible .monaco-list-row");
		await list.first().waitFor();
		expect(await list.first().innerText()).toContain("zeta Virginis");
		await page.screenshot({ path: join(SHOTS, "web-completion.png") });
		await page.keyboard.press("Enter");
		await page
			.locator(".view-line", { hasText: /zeta\sVirginis/ })
			.first()
			.waitFor();
		// zeta Virginis passes at another time: the light bulb offers it.
		await page.waitForSelector(".squiggly-error");
		const at = page.locator(".view-line", { hasText: '"20:01"' }).first();
		await at.locator("span span", { hasText: "20:01" }).first().click();
		await action(page, "Change the time to 21:1");
		await page.screenshot({ path: join(SHOTS, "web-action.png") });
		await page.keyboard.press("Enter");
		await page.waitForFunction("document.querySelectorAll('.squiggly-error').length === 0");
		await page.keyboard.press("Escape");
	});

	test("hints at the ends of lines, lenses over cells, the verdict in the status bar", async () => {
		await page.keyboard.press("Control+Home");
		await page
			.locator(".view-line", { hasText: /pole\shidden:\s17\.7°/ })
			.first()
			.waitFor();
		// zeta Virginis passes when the frames have begun.
		await page.locator(".codelens-decoration", { hasText: "1 warning" }).first().waitFor();
		await page.locator(".statusbar-item", { hasText: "1 warning" }).first().waitFor();
		await page.screenshot({ path: join(SHOTS, "web-hints.png") });
	});

	test("the new-plan command asks one thing at a time, says at once what is wrong, and writes a plan that checks clean", async () => {
		await command(page, "Lodebook: New Plan");
		await answer(page, ["Windy knoll"]);
		const input = page.locator(".quick-input-widget .quick-input-box input");
		await page.locator(".quick-input-title", { hasText: "New plan, 2 of 5" }).waitFor();
		await input.fill("91.5 S, 170.4 E");
		await page.locator(".quick-input-message", { hasText: "latitude of at most 90°" }).waitFor();
		await page.keyboard.press("Enter");
		await page.screenshot({ path: join(SHOTS, "web-new-plan-wrong.png") });
		await input.fill("44.1 S, 170.4 E");
		await page.locator(".quick-input-message", { hasText: "as copied from a map" }).waitFor();
		await page.keyboard.press("Enter");
		await choice(page, "dark and moonless").waitFor();
		await page.screenshot({ path: join(SHOTS, "web-new-plan-nights.png") });
		await input.fill("2027-06-31");
		await choice(page, "is not a real date").waitFor();
		await page.keyboard.press("Enter");
		// A wrong one is put right on a line, which says what is wrong with it as the others do; one can go back to the list.
		await page.locator(".quick-input-message", { hasText: "is not a real date" }).waitFor();
		expect(await input.inputValue()).toBe("2027-06-31");
		await page.screenshot({ path: join(SHOTS, "web-new-plan-wrong-date.png") });
		await page.locator(".quick-input-titlebar .codicon-quick-input-back").click();
		await choice(page, "dark and moonless").waitFor();
		await choice(page, "Another date").click();
		await input.fill("2027-07-03");
		await page.locator(".quick-input-message", { hasText: "on which it begins" }).waitFor();
		await page.keyboard.press("Enter");
		await choice(page, "With a tracker").waitFor();
		await page.keyboard.press("Enter");
		// The workshop's kit is in a library of the folder.
		await choice(page, "24 mm, f/2, 36 x 24 mm, 6000 x 4000, geared").waitFor();
		await page.screenshot({ path: join(SHOTS, "web-new-plan-kits.png") });
		await otherKit(page);
		const title = (words: string) => page.locator(".quick-input-title", { hasText: words }).waitFor();
		await title("New plan, 5 of 5: lens and camera, 1 of 5");
		await answer(page, ["35 mm"]);
		await title("lens and camera, 2 of 5");
		await page.locator(".quick-input-titlebar .codicon-quick-input-back").click();
		await title("lens and camera, 1 of 5");
		expect(await input.inputValue()).toBe("35 mm");
		await answer(page, ["24 mm", "2"]);
		await choice(page, "23.5 x 15.6 mm").waitFor();
		await page.screenshot({ path: join(SHOTS, "web-new-plan-sensors.png") });
		await input.fill("36 x");
		await choice(page, "is not a sensor size").waitFor();
		await page.keyboard.press("Enter");
		await page.locator(".quick-input-message", { hasText: "is not a sensor size" }).waitFor();
		await answer(page, ["36 x 24 mm", "6000 x 4000"]);
		await choice(page, "Geared head").waitFor();
		await answer(page, ["geared"]);
		await page
			.locator(".view-line", { hasText: /Windy\sknoll/ })
			.first()
			.waitFor();
		await page.locator(".tab.active", { hasText: "2027-07-03-windy-knoll.lode.yaml" }).waitFor();
		await page.locator(".codelens-decoration", { hasText: "No problems found" }).first().waitFor();
		expect(await page.locator(".squiggly-error, .squiggly-warning").count()).toBe(0);
		// The kit is kept for the next plan.
		await page.locator(".notification-toast .monaco-button", { hasText: "Keep as My Kit" }).click();
		await page.screenshot({ path: join(SHOTS, "web-new-plan.png") });
	});

	test("the preview beside the text changes while one types, keeps the last picture of a broken plan, and a click goes to the line", async () => {
		await open("gannet-cave");
		await page
			.locator(".view-line", { hasText: /Gannet\sCave/ })
			.first()
			.waitFor();
		await command(page, "Lodebook: Open Preview to the Side");
		const view = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");
		await view.locator("h1", { hasText: "The core in the mouth" }).waitFor();
		await view.locator(".verdict", { hasText: "No problems found" }).waitFor();
		await page.screenshot({ path: join(SHOTS, "web-preview.png") });
		// Type: the star's name is spoilt, and the page says so.
		const star = page
			.locator(".view-line", { hasText: "guide-star" })
			.first()
			.locator("span span", { hasText: "Virginis" })
			.first();
		await cursorTo(page, star);
		await page.keyboard.press("End");
		await page.keyboard.type("x");
		await page.keyboard.press("Escape");
		await view.locator(".verdict.error").waitFor();
		await view.locator(".error-word", { hasText: "error" }).first().waitFor();
		// A click on the finding goes to its line.
		await page.locator(".view-line", { hasText: "plan:" }).first().click();
		const go = view.locator("li:has(.error-word) .go").first();
		// A page that is drawn anew under a click swallows it.
		await again(page.locator(".statusbar-item", { hasText: "Ln 39" }), () => go.click());
		await page.screenshot({ path: join(SHOTS, "web-preview-go.png") });
		await page.keyboard.press("End");
		await page.keyboard.press("Backspace");
		await view.locator(".verdict", { hasText: "No problems found" }).waitFor();
		// Break the site: the last picture stays, under a banner.
		const latitude = page
			.locator(".view-line", { hasText: "latitude" })
			.first()
			.locator("span span", { hasText: "33" })
			.first();
		await cursorTo(page, latitude);
		await page.keyboard.press("Home");
		await page.keyboard.type("[");
		await view.locator("#banner:not([hidden])", { hasText: "cannot be drawn as it is now" }).waitFor();
		await view.locator("#instead", { hasText: "a latitude and a longitude of the site that can be read" }).waitFor();
		await view.locator("#instead .findings .error").first().waitFor();
		await view.locator("#page h1", { hasText: "The core in the mouth" }).waitFor();
		await page.screenshot({ path: join(SHOTS, "web-preview-stale.png") });
		await page.keyboard.press("Control+Z");
		await view.locator("#instead:empty").waitFor({ state: "attached" });
		// By keyboard from the evening to the method's line.
		// A picture that is only now drawn anew takes the focus with it.
		await expect
			.poll(async () => {
				await view.locator(".evening .align [role=link]").focus();
				await page.keyboard.press("Enter");
				return page
					.locator(".statusbar-item", { hasText: "Ln 37" })
					.waitFor({ timeout: 3_000 })
					.then(
						() => true,
						() => false,
					);
			})
			.toBe(true);
	});

	test("the preview shows another plan in the same place, nothing of the one before; locked it keeps its plan; it outlives a reload", async () => {
		const view = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");
		await page.locator(".tab", { hasText: "gannet-cave" }).first().click();
		await open("mistakes");
		await page.locator(".tab", { hasText: "Preview: mistakes" }).waitFor();
		await view.locator(".verdict.error").waitFor();
		expect(await view.locator("body").innerText()).not.toContain("Gannet");
		expect(await page.locator("iframe.webview.ready").count()).toBe(1);
		await page.locator(".tab", { hasText: "Preview: mistakes" }).click();
		await command(page, "Lodebook: Lock or Unlock Preview");
		await page.locator(".tab", { hasText: "Preview, locked: mistakes" }).waitFor();
		await open("dry-gorge");
		await page.locator(".tab", { hasText: "dry-gorge" }).first().waitFor();
		await page.locator(".tab", { hasText: "Preview, locked: mistakes" }).waitFor();
		await page.locator(".tab", { hasText: "Preview, locked: mistakes" }).click();
		await command(page, "Lodebook: Lock or Unlock Preview");
		await page.locator(".tab", { hasText: "Preview: mistakes" }).waitFor();
		// The workbench writes what it keeps every five seconds, which nothing outside shows.
		await page.waitForTimeout(8_000);
		await page.reload();
		await page.waitForSelector(".monaco-workbench .part.statusbar");
		await page.locator(".tab", { hasText: "Preview: mistakes" }).waitFor();
		await view.locator(".verdict.error").waitFor();
		await page.screenshot({ path: join(SHOTS, "web-preview-reload.png") });
	});

	test("another night: the year to come, the best first, and the chosen one is written into the plan", async () => {
		await open("dry-gorge");
		await page.locator(".view-line", { hasText: "night:" }).first().waitFor();
		await command(page, "Lodebook: Choose Another Night");
		const first = page.locator(".quick-input-list .monaco-list-row", { hasText: "Moon" }).first();
		await first.waitFor();
		await page.screenshot({ path: join(SHOTS, "web-nights.png") });
		const date = /\d{4}-\d{2}-\d{2}/.exec((await first.textContent()) ?? "")?.[0] ?? "none";
		await page.keyboard.press("Enter");
		await page
			.locator(".view-line", { hasText: `date: ${date}`.replace(" ", "\u00a0") })
			.first()
			.waitFor();
		await page.keyboard.press("Control+Z");
	});

	test("nothing outside this machine was asked for, and nothing of ours went wrong", () => {
		expect(watched.outside).toEqual([]);
		expect(watched.errors).toEqual([]);
	});
});
