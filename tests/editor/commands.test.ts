import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { writeRun } from "../frames/run.ts";
import { BROWSER } from "./browser.ts";
import {
	answer,
	choice,
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

describe.skipIf(BROWSER === undefined)("commands in the real workbench", () => {
	let watched: SampleWorkbench;
	let page: Page;
	let folder: string;

	beforeAll(async () => {
		watched = await openSamples("commands", 1800, (into) => {
			writeRun(into);
		});
		({ page, folder } = watched);
	});

	afterEach(() => page.screenshot({ path: join(SHOTS, "commands-last.png") }));

	afterAll(() => watched?.close());

	const line = (words: string | RegExp) => page.locator(".view-line", { hasText: words }).first();

	test("choosing in a method's cell what it is pointed at changes that method, and no other", async () => {
		await openFile(page, "roofless-chapel");
		await page.locator(".codelens-decoration", { hasText: "guide stars tonight" }).first().waitFor();
		await line(/landmark:\swater/).click();
		await command(page, "Lodebook: Choose Another Star or Landmark");
		await choice(page, "water tower").waitFor();
		await page.screenshot({ path: join(SHOTS, "commands-landmark.png") });
		await page.keyboard.press("Escape");
		await line("guide-star").click();
		await command(page, "Lodebook: Choose Another Star or Landmark");
		await choice(page, "eta Virginis at 20:02").waitFor();
		await page.keyboard.press("Enter");
		await line('"20:02"').waitFor();
		await page.keyboard.press("Control+Z");
	});

	test("the dark hours above the night open the nights", async () => {
		await page.locator(".codelens-decoration a", { hasText: "dark and moonless on site" }).first().click();
		await choice(page, "Moon").waitFor();
		// At the end of the list they can be ranked by framing: what is chosen there opens the nights anew.
		await page.keyboard.type("Only while core");
		await choice(page, "ground under it").click();
		await choice(page, "Moon").waitFor();
		expect(await choice(page, "Only while").count()).toBe(0);
		await page.screenshot({ path: join(SHOTS, "commands-framing.png") });
		await page.keyboard.press("Escape");
	});

	test("the line above a site of a library shows who takes it, and a new name reaches them", async () => {
		const row = (name: string | RegExp) =>
			page.locator(".explorer-folders-view .monaco-list-row", { hasText: name }).first();
		await row(/^workshop$/).click();
		await row(/^sites$/).click();
		await row("sites.lode.yaml").dblclick();
		await page
			.locator(".codelens-decoration a", { hasText: /^used by \d+ plans?$/ })
			.first()
			.click();
		// The editor's own list of places: one of them, opened up, holds the line that takes the site.
		const peek = page.locator(".zone-widget.reference-zone-widget, .zone-widget .reference-zone-widget").first();
		await peek.waitFor();
		await peek.locator(".monaco-list-row", { hasText: "saturday.lode.yaml" }).first().waitFor();
		await page.screenshot({ path: join(SHOTS, "commands-users.png") });
		await page.keyboard.press("Escape");
		await peek.waitFor({ state: "hidden" });
		await cursorTo(page, line(/name:\sThreshing\sfloor/));
		await page.keyboard.press("End");
		await page.keyboard.press("F2");
		await page.locator(".rename-box input").fill("Round floor");
		await page.keyboard.press("Enter");
		await line(/name:\sRound\sfloor/).waitFor();
		await row("sunday.lode.yaml").dblclick();
		await line(/name:\sRound\sfloor/).waitFor();
		await page.screenshot({ path: join(SHOTS, "commands-renamed.png") });
		await command(page, "File: Revert File");
		await row("sites.lode.yaml").dblclick();
		await command(page, "File: Revert File");
	});

	test("the explanation of a finding opens as a page", async () => {
		await openFile(page, "mistakes");
		await page.locator(".squiggly-error").first().waitFor();
		await command(page, "Problems: Focus on Problems View");
		await page
			.locator(".markers-panel a", { hasText: "structure/" })
			.first()
			.click({ modifiers: ["Control"] });
		const rendered = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame").locator("h1");
		await rendered.first().waitFor();
		await page.screenshot({ path: join(SHOTS, "commands-explanation.png") });
		await command(page, "View: Close Editor");
	});

	test("a plan is exported from the editor and from the preview", async () => {
		await openFile(page, "roofless-chapel");
		await command(page, "View: Hide Panel");
		await line("guide-star").waitFor();
		const exported = async (title: string, file: string): Promise<string> => {
			await command(page, "Lodebook: Export the Plan");
			// The list shows only as many as there is room for.
			await choice(page, /./).first().waitFor();
			await answer(page, [title]);
			return saved(file);
		};
		const saved = async (file: string): Promise<string> => {
			await page.locator(".quick-input-widget .quick-input-box input").waitFor();
			await expect
				.poll(() => page.locator(".quick-input-widget .quick-input-box input").inputValue(), { timeout: LIMIT_MS })
				.toContain(file);
			await page.keyboard.press("Enter");
			await expect.poll(() => existsSync(join(folder, file)), { timeout: LIMIT_MS }).toBe(true);
			return readFileSync(join(folder, file), "utf8");
		};
		expect(await exported("Calendar", "roofless-chapel.ics")).toMatch(/^BEGIN:VCALENDAR/);
		// The card is the first that is offered; what a browser's workbench cannot print becomes a file that prints itself.
		await command(page, "Lodebook: Export the Plan");
		await page.locator(".quick-input-list .monaco-list-row.focused", { hasText: "Card for the field" }).waitFor();
		await page.screenshot({ path: join(SHOTS, "commands-export-list.png") });
		await page.keyboard.press("Escape");
		await exported("Print the page", "roofless-chapel-print.html");
		const paper = await (await page.context().browser()?.newContext())?.newPage();
		await paper?.addInitScript("window.print = () => { window.times = (window.times ?? 0) + 1; }");
		await paper?.goto(`file://${join(folder, "roofless-chapel-print.html")}`);
		await expect.poll(() => paper?.evaluate("window.times")).toBe(1);
		const sheets = (await paper?.pdf({ format: "A4" }))?.toString("latin1").match(/\/Type\s*\/Page(?!s)/g)?.length;
		expect(sheets).toBeGreaterThan(0);
		expect(sheets).toBeLessThanOrEqual(2);
		await paper?.context().close();
		await command(page, "Lodebook: Open Preview");
		const view = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");
		await view.locator("h1", { hasText: "Core over the roofless chapel" }).waitFor();
		await view.locator("h1").first().click();
		expect(await exported("Page", "roofless-chapel.html")).toContain("<script>");
		await page.screenshot({ path: join(SHOTS, "commands-export.png") });
		await command(page, "Lodebook: Write a Card for the Field");
		expect(await saved("roofless-chapel-card.html")).toContain('id="card"');
		await command(page, "Lodebook: Show Source");
		await page.locator(".tab.active", { hasText: "roofless-chapel.lode.yaml" }).first().waitFor();
	});

	test("a night that is chosen in the picture of the year is written into the plan, as long as it is of the plan", async () => {
		await openFile(page, "roofless-chapel");
		await line("guide-star").waitFor();
		await line("date:").click();
		await command(page, "Lodebook: Show the Nights of a Year");
		const view = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");
		const nights = view.locator("#nights [data-night][role=button]");
		await nights.first().waitFor();
		// The one with most minutes has the largest square.
		const best = await nights.evaluateAll((all) => {
			const side = (one: Element): number =>
				Number(one.querySelector('rect[fill="var(--blue)"]')?.getAttribute("width"));
			return all.sort((a, b) => side(b) - side(a))[0]?.getAttribute("data-night") ?? "";
		});
		await view.locator(`[data-night="${best}"]`).click();
		await line(`date: ${best}`.replace(" ", "\u00a0")).waitFor();
		await view.locator(`[data-night="${best}"][data-present]`).waitFor();
		await view.locator("#nights").screenshot({ path: join(SHOTS, "commands-year.png") });
		await page.screenshot({ path: join(SHOTS, "commands-year-page.png") });
		// An edit by hand: what is shown is of before, and a click on it says so and writes nothing.
		await cursorTo(page, line("date:"));
		await page.keyboard.press("Control+Z");
		await view.locator("#nights-say", { hasText: "The plan has changed since its nights were compared." }).waitFor();
		expect(await nights.count()).toBe(0);
		await view.locator("#compare-nights").click();
		await nights.first().waitFor();
		await command(page, "File: Revert File");
	});

	test("the server is started anew, and answers", async () => {
		await openFile(page, "larch-clearing");
		await command(page, "Lodebook: Restart Language Server");
		await page.locator(".codelens-decoration", { hasText: "No problems found" }).first().waitFor();
	});

	test("the times of the evening are written into the plan, and undo takes them out", async () => {
		await openFile(page, "larch-clearing");
		await line("plan:").click();
		await command(page, "Lodebook: Write the Evening's Times into the Plan");
		await line(/foreground:\s\{\sat:\s"\d\d:\d\d",\spanorama/).waitFor();
		await page.locator(".codelens-decoration", { hasText: "No problems found" }).first().waitFor();
		await page.keyboard.press("Control+Z");
		await line(/foreground:\s\{\spanorama/).waitFor();
	});

	test("test frames are measured on the plan, and where the axis was goes into its log", async () => {
		await openFile(page, "roofless-chapel");
		await line("guide-star").waitFor();
		await line("date:").click();
		const button = (text: string) => page.locator(".notification-toast-container a", { hasText: text }).last();
		await command(page, "Lodebook: Measure Frames");
		// A dialog of the browser's workbench takes one file at a time.
		await chooseFile(page, "first.jpg");
		await button("Add Frames").click();
		await chooseFile(page, "second.jpg");
		await button("Write to the Log").waitFor();
		await page.screenshot({ path: join(SHOTS, "commands-measured.png") });
		const shown = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");
		await expect.poll(() => page.locator(".tab", { hasText: "Preview roofless-chapel.md" }).count()).toBe(1);
		await shown.locator("p", { hasText: "Facing the pole: raise the tilt by 0.4" }).waitFor();
		const picture = shown.locator("img").last();
		await expect.poll(() => picture.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(500);
		await picture.scrollIntoViewIfNeeded();
		await page.screenshot({ path: join(SHOTS, "commands-measured-picture.png") });
		await button("Write to the Log").click();
		await button("Write the Lens").waitFor();
		await button("Write the Lens").click();
		await line(/distortion:\s\{\sk1:\s-0\.0/).waitFor();
		await command(page, "File: Save");
		const text = () => readFileSync(join(folder, "roofless-chapel.lode.yaml"), "utf8");
		await expect
			.poll(text, { timeout: LIMIT_MS })
			.toMatch(/\n {2}- date: 2027-06-05\n {4}solved:\n(?: {6}- \{ at: "21:\d\d", .*\}\n){2}/);
		expect(text()).toMatch(/\n *focal-length: 24\.1\d? mm\n/);
	});

	test("a sample and a plan from a kit open without a file", async () => {
		await command(page, "Lodebook: Open a Sample");
		await answer(page, ["Gannet Cave"]);
		// One of that name is in the folder already.
		await page.locator(".tab.active", { hasText: "gannet-cave-2.lode.yaml" }).waitFor();
		await line(/Gannet\sCave/).waitFor();
		await command(page, "Lodebook: New Plan from My Kit");
		await answer(page, ["24 mm", "2", "full-frame", "6000 x 4000", "geared"]);
		await line(/focal-length:\s24\smm/).waitFor();
	});

	test("the walkthrough shows whole sentences and its pictures", async () => {
		await command(page, "Welcome: Open Walkthrough...");
		await answer(page, ["Your first night"]);
		await page.locator(".gettingStartedContainer", { hasText: "Answer five questions" }).waitFor();
		await page.locator(".gettingStartedContainer .step-title", { hasText: "Take it into the field" }).click();
		await page.screenshot({ path: join(SHOTS, "commands-walkthrough.png") });
		expect(await page.locator(".gettingStartedContainer").innerText()).not.toMatch(/%[\w.]+%/);
	});

	test("nothing outside this machine was asked for, and nothing of ours went wrong", () => {
		expect(watched.outside).toEqual([]);
		expect(watched.errors).toEqual([]);
	});
});
