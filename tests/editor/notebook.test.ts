import { execFileSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, FrameLocator, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { BROWSER, launch } from "./browser.ts";
import {
	action,
	again,
	answer,
	answerNewPlan,
	command,
	cursorTo,
	hover,
	openFile,
	openWorkbench,
	problemsCounted,
	SHOTS,
	TEST_LIMIT_MS,
	type Watched,
} from "./steps.ts";
import { ROOT, serveWorkbench } from "./workbench.mjs";

const PLAN = "roofless-chapel.lode.yaml";
/** A cell that was added, with nothing in it that only its writer knows. */
const LENS = "lens:\n  focal-length:\n  f-number:\n  sensor:\n  pixels:";

vi.setConfig({ testTimeout: TEST_LIMIT_MS });

describe.skipIf(BROWSER === undefined)("the notebook in the real workbench", () => {
	let browser: Browser;
	let page: Page;
	let outputs: FrameLocator;
	let server: Awaited<ReturnType<typeof serveWorkbench>>;
	const folder = mkdtempSync(join(tmpdir(), "lodebook-notebook-"));
	let watched: Watched;
	const git = (...args: string[]): string => execFileSync("git", ["-C", folder, ...args], { encoding: "utf8" });
	const onDisk = (name = PLAN): string => readFileSync(join(folder, name), "utf8");

	beforeAll(async () => {
		cpSync(join(ROOT, "samples"), folder, { recursive: true });
		// Latin-1: e with an acute accent as one byte.
		writeFileSync(join(folder, "latin.lode.yaml"), Buffer.from("site:\n  name: Caf\xe9\n", "latin1"));
		git("init", "--quiet");
		git("add", "--all");
		git("-c", "user.name=test", "-c", "user.email=test@example.org", "commit", "--quiet", "--message", "plans");
		mkdirSync(SHOTS, { recursive: true });
		server = await serveWorkbench({ folder, settings: { "files.autoSave": "off", "git.enabled": false } });
		browser = await launch();
		watched = await openWorkbench(browser, server.url, 10000, /404|not in UTF-8/);
		page = watched.page;
		outputs = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");
	});

	afterAll(async () => {
		await browser?.close();
		await server?.close();
	});

	const open = (name: string): Promise<void> => openFile(page, name);
	const run = (title: string): Promise<void> => command(page, title);
	/** A line of a cell, and of the text editor in the first group. */
	const cellLine = (text: string | RegExp) => page.locator(".notebookOverlay .view-line", { hasText: text }).first();
	const textLine = (text: string | RegExp) =>
		page.locator(".editor-group-container").first().locator(".view-line", { hasText: text }).first();
	const statusItem = (text: string | RegExp) => page.locator(".statusbar-item", { hasText: text }).first();
	const save = () => page.keyboard.press("Control+S");

	test("opens at the cell where the cursor was, with what follows under each cell", async () => {
		await open("roofless-chapel");
		await page.locator(".codelens-decoration", { hasText: "No problems found" }).first().waitFor();
		await textLine("f-number").click();
		await run("Open as Notebook");
		await outputs.locator(".lodebook-cell", { hasText: "No problems found" }).waitFor();
		await outputs.locator(".lodebook-cell #panorama").waitFor();
		await outputs.locator(".lodebook-cell #timeline").waitFor();
		await outputs.locator(".lodebook-cell", { hasText: "Untracked, 500 rule" }).waitFor();
		await outputs
			.locator(".lodebook-cell ol.steps", { hasText: "put the beam 0.31° to the left and 0.83° below eta Virginis" })
			.waitFor();
		await statusItem("Cell 4 of 9").waitFor();
		await statusItem("No problems found").waitFor();
		expect(await page.locator(".tab").count()).toBe(1);
		await page.screenshot({ path: join(SHOTS, "notebook.png") });
		// Nothing was written by looking.
		expect(git("status", "--porcelain")).toBe("");
	});

	test("an edit of one cell changes the outputs of others; saved, the difference is one line", async () => {
		// What is drawn is patched, and no cell is run: the elements are the same ones afterwards.
		const chapel = outputs.locator(".lodebook-cell", { hasText: "No problems found" });
		await chapel.evaluate((element) => Object.assign(element, { mine: true }));
		await cellLine("date:").locator("span span", { hasText: "2027-06-05" }).first().dblclick();
		await page.keyboard.press("End");
		await page.keyboard.press("Backspace");
		await page.keyboard.type("9");
		await outputs.locator(".lodebook-cell", { hasText: "Works 20:00–20:04" }).waitFor({ state: "detached" });
		await outputs.locator(".lodebook-cell", { hasText: "Works 19:45–19:48" }).waitFor();
		await outputs.locator(".lodebook-cell", { hasText: "error" }).first().waitFor();
		const title = outputs.locator(".lodebook-cell", { has: page.locator(".verdict.error") });
		expect(await title.evaluate((element) => "mine" in element)).toBe(true);
		expect(await outputs.locator(".lodebook-cell a").first().getAttribute("href")).toMatch(
			/^lodebook-finding:\/[\w/-]+\.md$/,
		);
		await page.locator(".notebookOverlay .squiggly-error").first().waitFor();
		// The editor keeps the cursor's cell in its place while the outputs above it grow, and draws no cell out of view.
		await page.keyboard.press("Escape");
		await page.keyboard.press("Control+Home");
		await page.locator(".notebookOverlay .codelens-decoration", { hasText: "1 error" }).first().waitFor();
		await page.screenshot({ path: join(SHOTS, "notebook-edited.png") });
		await save();
		await expect.poll(() => git("diff", "--numstat")).toBe(`1\t1\t${PLAN}\n`);
		expect(git("diff", "--unified=0")).toContain("-  date: 2027-06-05\n+  date: 2027-06-09\n");
	});

	test("outputs that were cleared come back, all of them, with the next edit", async () => {
		const texts = () => outputs.locator(".lodebook-cell").allInnerTexts();
		const before = await texts();
		expect(before.length).toBeGreaterThan(6);
		const count = () => outputs.locator(".lodebook-cell").count();
		await expect
			.poll(async () => {
				// Outputs that were still being made when it ran come after it.
				if ((await count()) > 0) await run("Notebook: Clear All Outputs");
				return count();
			})
			.toBe(0);
		await cursorTo(page, cellLine("date:").locator("span span", { hasText: "2027-06" }).first());
		await page.keyboard.press("End");
		await page.keyboard.type(" ");
		await page.keyboard.press("Backspace");
		await outputs.locator(".lodebook-cell #panorama").waitFor();
		await outputs.locator(".lodebook-cell #timeline").waitFor();
		await outputs.locator(".lodebook-cell", { hasText: "Untracked, 500 rule" }).waitFor();
		await expect.poll(texts).toEqual(before);
		await save();
		await page.keyboard.press("Escape");
		await page.keyboard.press("Control+Home");
		await cellLine("title:").waitFor();
	});

	test("the clock turns the sky, and stays where it was put; a code leads to its explanation", async () => {
		const [slider, sky] = [outputs.locator("#time"), outputs.locator("#panorama .stars").first()];
		const before = await sky.getAttribute("d");
		await slider.evaluate((element: HTMLInputElement) => {
			element.value = String(Number(element.max) - 3_600_000);
			element.dispatchEvent(new Event("input", { bubbles: true }));
		});
		await expect.poll(() => sky.getAttribute("d")).not.toBe(before);
		const clock = await outputs.locator("#clock").innerText();
		const lines = outputs.locator("#panorama .figures");
		const switchLines = () =>
			outputs.locator("#figures").evaluate((box: HTMLInputElement) => {
				box.checked = !box.checked;
				box.dispatchEvent(new Event("input", { bubbles: true }));
			});
		await switchLines();
		await expect.poll(() => lines.getAttribute("d")).toMatch(/^M/);
		await page.screenshot({ path: join(SHOTS, "notebook-clock.png") });
		await switchLines();
		await expect.poll(() => lines.getAttribute("d")).toBe("");
		await cursorTo(page, cellLine("date:").locator("span span", { hasText: "2027-06" }).first());
		await page.keyboard.press("End");
		await page.keyboard.type(" # by the almanac");
		await cellLine(/the\salmanac/).waitFor();
		await save();
		expect(await outputs.locator("#clock").innerText()).toBe(clock);
		for (let i = 0; i < " # by the almanac".length; i++) await page.keyboard.press("Backspace");
		await save();
		await page.keyboard.press("Escape");
		const code = outputs.locator(".lodebook-cell a[href^='lodebook-finding:']").first();
		const name = /[^/]+$/.exec(await code.innerText())?.[0] ?? "";
		await code.click();
		await page.locator(".tab", { hasText: name }).waitFor();
		await page.screenshot({ path: join(SHOTS, "notebook-code.png") });
		await page.locator(".tab", { hasText: name }).locator(".codicon-close").click();
		await page.locator(".tab", { hasText: name }).waitFor({ state: "detached" });
		await cursorTo(page, cellLine("date:"));
		await page.keyboard.press("Escape");
	});

	test("the preview beside a notebook: a click on a finding goes to its cell", async () => {
		await run("Lodebook: Open Preview to the Side");
		const preview = page.frameLocator("iframe.webview.ready >> nth=1").frameLocator("#active-frame");
		await preview.locator(".verdict.error").waitFor();
		await cellLine("title:").click();
		await statusItem("Cell 1 of 9").waitFor();
		// A page that is drawn anew under a click swallows it.
		await again(statusItem("Cell 6 of 9"), () => preview.locator("li:has(.error-word) .go").first().click());
		await page.screenshot({ path: join(SHOTS, "notebook-preview.png") });
		await page.locator(".tab", { hasText: "Preview" }).locator(".codicon-close").click();
		await preview.locator("body").waitFor({ state: "detached" });
		await cursorTo(page, cellLine("guide-star"));
		await page.keyboard.press("Escape");
		await page.keyboard.press("Control+Home");
	});

	test("inside cells: hover, a fix by the light bulb, completion, definition in another cell", async () => {
		// The fix: the clock time at which this star works on the new night.
		await cellLine(/^\s*at:/)
			.locator("span span", { hasText: "20:01" })
			.first()
			.click();
		await action(page, "19:46");
		await page.keyboard.press("Enter");
		await page.locator(".notebookOverlay .squiggly-error").first().waitFor({ state: "detached" });
		await outputs.locator(".lodebook-cell .verdict:not(.error)").waitFor();
		await hover(
			page,
			cellLine("guide-star").locator("span span", { hasText: "Virginis" }).first(),
			"It misses the aim point by",
		);
		await page.mouse.move(5, 5);
		await cursorTo(page, cellLine("guide-star").locator("span span", { hasText: "Virginis" }).first());
		await page.keyboard.press("Control+Space");
		await page.locator(".suggest-widget .monaco-list-row", { hasText: "eta Virginis" }).first().waitFor();
		await page.keyboard.press("Escape");
		await page.keyboard.press("Escape");
		await cursorTo(
			page,
			cellLine(/^\s*landmark:/)
				.locator("span span", { hasText: "tower" })
				.first(),
		);
		await page.keyboard.press("F12");
		await statusItem("Cell 2 of 9").waitFor();
		await cursorTo(page, cellLine(/^\s*at:/));
		await page.keyboard.press("Control+Z");
		await expect.poll(async () => (await cellLine(/^\s*at:/).innerText()).replace(/\s/g, " ")).toContain('at: "20:01"');
	});

	test("cells are added by kind, moved and doubled; the text has them so, and undo takes them back", async () => {
		await cursorTo(page, cellLine("head:"));
		await page.keyboard.press("Escape");
		await run("Add Cell");
		await page.locator(".quick-input-list .monaco-list-row", { hasText: "lens" }).first().waitFor();
		await page.screenshot({ path: join(SHOTS, "notebook-kinds.png") });
		await page.locator(".quick-input-widget .quick-input-box input").fill("lens");
		await page.keyboard.press("Enter");
		await statusItem("Cell 6 of 10").waitFor();
		await save();
		await expect.poll(() => onDisk()).toContain(`period: 10 min }\n---\n${LENS}\n---\nmethod:\n  kind: square-laser`);
		await run("Notebook: Move Cell Down");
		await statusItem("Cell 7 of 10").waitFor();
		await run("Notebook: Copy Cell Down");
		await statusItem("of 11").waitFor();
		await save();
		await expect
			.poll(() => onDisk())
			.toContain(`local-rules-checked: true\n---\n${LENS}\n---\n${LENS}\n---\nmethod: # the fallback`);
		for (const left of ["of 10", "Cell 6 of 10", "of 9"]) {
			await page.keyboard.press("Control+Z");
			await statusItem(left).waitFor();
		}
		await save();
		await expect.poll(() => git("diff", "--numstat")).toBe(`1\t1\t${PLAN}\n`);
	});

	test("a note that is added is open for its text", async () => {
		await cursorTo(page, cellLine("head:"));
		await page.keyboard.press("Escape");
		await run("Add Cell");
		await page.locator(".quick-input-list .monaco-list-row", { hasText: "note" }).first().waitFor();
		await page.locator(".quick-input-widget .quick-input-box input").fill("note");
		await page.keyboard.press("Enter");
		await statusItem("Cell 6 of 10").waitFor();
		await page.locator(".notebookOverlay .monaco-editor.focused").waitFor();
		await page.keyboard.type("Gloves.");
		await save();
		await expect.poll(() => onDisk()).toContain("---\nnote: |\n  Gloves.\n---\n");
		await page.keyboard.press("Escape");
		await run("Notebook: Delete Cell");
		await statusItem("of 9").waitFor();
		await save();
		await expect.poll(() => git("diff", "--numstat")).toBe(`1\t1\t${PLAN}\n`);
	});

	test("the editor's own commands for a cell ask for the kind too", async () => {
		const before = git("diff", "--numstat");
		await cursorTo(page, cellLine("head:"));
		await page.keyboard.press("Escape");
		await run("Notebook: Insert Code Cell Below");
		await page.locator(".quick-input-list .monaco-list-row", { hasText: "lens" }).first().waitFor();
		await page.locator(".quick-input-widget .quick-input-box input").fill("lens");
		await page.keyboard.press("Enter");
		await cellLine("focal-length:").waitFor();
		await save();
		await expect.poll(() => onDisk()).toContain(`period: 10 min }\n---\n${LENS}\n---\nmethod:\n  kind: square-laser`);
		await page.screenshot({ path: join(SHOTS, "notebook-added.png") });
		await page.keyboard.press("Escape");
		await expect
			.poll(async () => {
				await page.keyboard.press("Control+Z");
				await save();
				await page.waitForTimeout(300);
				return git("diff", "--numstat");
			})
			.toBe(before);
	});

	test("a note is Markdown, and is written back as the block it was", async () => {
		const note = outputs.locator(".preview", { hasText: "floor is loose stone" }).last();
		await note.waitFor();
		expect(await note.locator("strong").innerText()).toBe("west window");
		// To the last cell, and into it.
		await page.keyboard.press("Escape");
		await page.keyboard.press("Control+End");
		await page.keyboard.press("Enter");
		await cellLine(/Bring\sthe\slow\stripod/).waitFor();
		await page.keyboard.press("Control+Home");
		await page.keyboard.type("Mind the *edge*.");
		await page.keyboard.press("Enter");
		await save();
		await expect
			.poll(() => onDisk())
			.toContain("note: |\n  Mind the *edge*.\n  Bring the low tripod. The **west window** floor is loose stone.");
		await page.keyboard.press("Control+Home");
		await page.keyboard.press("Shift+ArrowDown");
		await page.keyboard.press("Delete");
		await page.keyboard.press("Escape");
		await save();
		await expect.poll(() => git("diff", "--numstat")).toBe(`1\t1\t${PLAN}\n`);
	});

	test("back to the text, at the line where the cursor was", async () => {
		await page.keyboard.press("Escape");
		await page.keyboard.press("Control+Home");
		await cellLine("pan-scale:").click();
		await run("Open as Text");
		await statusItem("Ln 34").waitFor();
		expect(await page.locator(".tab").count()).toBe(1);
		expect(await page.locator(".notebookOverlay:visible").count()).toBe(0);
	});

	test("open as both: the one behind says so, and takes the newer text on demand; no edit is lost", async () => {
		await run("View: Split Editor Right");
		await page
			.locator(".editor-group-container")
			.nth(1)
			.locator(".view-line", { hasText: "pan-scale" })
			.first()
			.waitFor();
		await run("Open as Notebook");
		await outputs.locator(".lodebook-cell ol.steps").first().waitFor();
		await page.keyboard.press("Escape");
		await page.keyboard.press("Control+Home");
		// Edited as a notebook: the text is behind.
		await cursorTo(page, cellLine("elevation: 145"));
		await page.keyboard.press("End");
		await page.keyboard.type(" # by the map");
		await cellLine(/by\sthe\smap/).waitFor();
		await textLine("f-number").click();
		await statusItem("take the notebook's text").waitFor();
		// Equal again: it is not behind any more.
		await cursorTo(page, cellLine(/by\sthe\smap/));
		await page.keyboard.press("End");
		for (let i = 0; i < " # by the map".length; i++) await page.keyboard.press("Backspace");
		await textLine("f-number").click();
		await statusItem("take the notebook's text").waitFor({ state: "detached" });
		await cursorTo(page, cellLine("elevation: 145"));
		await page.keyboard.press("End");
		await page.keyboard.type(" # by the map");
		await textLine("f-number").click();
		await statusItem("take the notebook's text").waitFor();
		expect(await textLine("elevation: 145").innerText()).not.toContain("by");
		await page.screenshot({ path: join(SHOTS, "notebook-behind.png") });
		await run("Lodebook: Take the Newer Version");
		await textLine(/by\sthe\smap/).waitFor();
		await statusItem("take the notebook's text").waitFor({ state: "detached" });
		// Edited as text: the notebook is behind; it has changes too, so it asks.
		await cursorTo(page, textLine("f-number"));
		await page.keyboard.press("End");
		await page.keyboard.type(" # wide open");
		await cellLine("elevation: 145").click();
		await statusItem("take the editor's text").click();
		await page
			.locator(".monaco-dialog-box", { hasText: "Undo brings them back" })
			.getByText("Replace", { exact: true })
			.click();
		await cellLine(/wide\sopen/).waitFor();
		await statusItem("take the editor's text").waitFor({ state: "detached" });
		await save();
		await expect.poll(() => git("diff", "--numstat")).toBe(`3\t3\t${PLAN}\n`);
		await run("View: Close All Editors");
		// The text editor's copy is not saved: its text is that of the file.
		const dialog = page.locator(".monaco-dialog-box");
		const tabs = page.locator(".tab");
		await expect.poll(async () => (await dialog.isVisible()) || (await tabs.count()) === 0).toBe(true);
		if (await dialog.isVisible()) await dialog.getByRole("button", { name: "Don't Save" }).click();
		await expect.poll(() => tabs.count()).toBe(0);
		expect(onDisk()).toContain("elevation: 145 m # by the map");
		expect(onDisk()).toContain("f-number: 2 # wide open");
		// What is closed leaves nothing behind, though it is wrong on the disk too.
		await expect.poll(() => problemsCounted(page)).toEqual([0, 0, 0]);
	});

	test("open as both: what is wrong is told in the face in front, and counted once", async () => {
		const problems = page.locator(".part.statusbar .statusbar-item", { has: page.locator(".codicon-error") }).first();
		const count = async () => /^\d+/.exec((await problems.innerText()).trim())?.[0];
		const before = await count();
		await open("mistakes");
		const squiggles = (group: string) => page.locator(`${group} .squiggly-error`).count();
		await page.locator(".squiggly-error").first().waitFor();
		await statusItem(/\d errors/).waitFor();
		// What was closed before leaves the count a little later.
		let last: string | undefined;
		await expect
			.poll(
				async () => {
					const now = await count();
					const stays = now === last;
					last = now;
					return stays;
				},
				{ interval: 3_000 },
			)
			.toBe(true);
		const alone = last;
		expect(Number(alone)).toBeGreaterThan(3);
		await run("View: Split Editor Right");
		await run("Open as Notebook");
		await page.locator(".notebookOverlay .squiggly-error").first().waitFor();
		await expect.poll(count).toBe(alone);
		await expect.poll(() => squiggles(".editor-group-container:first-child .editor-instance > .monaco-editor")).toBe(0);
		await page.screenshot({ path: join(SHOTS, "notebook-counted.png") });
		await textLine("titel:").click();
		await page.locator(".editor-instance > .monaco-editor .squiggly-error").first().waitFor();
		await expect.poll(() => squiggles(".notebookOverlay")).toBe(0);
		await expect.poll(count).toBe(alone);
		// The notebook alone has them again.
		await run("View: Close Editor");
		await page.locator(".notebookOverlay .squiggly-error").first().waitFor();
		await expect.poll(count).toBe(alone);
		// What is closed leaves nothing behind.
		await run("View: Close All Editors");
		await expect.poll(count).toBe(before);
	});

	test("a file that is not in UTF-8 is refused, and opens as text", async () => {
		const before = readFileSync(join(folder, "latin.lode.yaml"));
		await open("latin");
		await page.locator(".view-line", { hasText: "Caf" }).first().waitFor();
		await run("Open as Notebook");
		const toast = page.locator(".notification-toast", { hasText: "not UTF-8" }).first();
		await toast.waitFor();
		await page.screenshot({ path: join(SHOTS, "notebook-latin.png") });
		await toast.getByText("Open as Text").click();
		await page.locator(".view-line", { hasText: "Caf" }).first().waitFor();
		expect(readFileSync(join(folder, "latin.lode.yaml")).equals(before)).toBe(true);
		await run("View: Close All Editors");
	});

	test("a new plan as a notebook: asks where and when, and checks clean", async () => {
		const NEW = "2027-07-03-windy-knoll.lode.yaml";
		await run("Lodebook: New Plan as Notebook");
		await answer(page, ["Windy knoll"]);
		await page.locator(".quick-input-title", { hasText: "2 of 5" }).waitFor();
		await answerNewPlan(page, "44.1 S, 170.4 E", "2027-07-03", ["24 mm", "2", "full-frame", "6000 x 4000", "geared"]);
		await cellLine(/Windy\sknoll/).waitFor();
		await outputs.locator(".lodebook-cell", { hasText: "No problems found" }).waitFor();
		await page.screenshot({ path: join(SHOTS, "notebook-new.png") });
		await save();
		await page.locator(".quick-input-widget", { hasText: "Save As" }).waitFor();
		await page.keyboard.press("Enter");
		await expect
			.poll(() => (existsSync(join(folder, NEW)) ? onDisk(NEW) : ""))
			.toMatch(/^plan:\n {2}title: "Night at Windy knoll"\n[\s\S]*\n---\nsite:\n/);
	});

	test("nothing outside this machine was asked for, and nothing of ours went wrong", () => {
		expect(watched.outside).toEqual([]);
		expect(watched.errors).toEqual([]);
	});
});
