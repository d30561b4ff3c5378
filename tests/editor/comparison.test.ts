import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test, vi } from "vitest";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { BROWSER } from "./browser.ts";
import { command, cursorTo, openFile, openSamples, type SampleWorkbench, SHOTS, TEST_LIMIT_MS } from "./steps.ts";

vi.setConfig({ testTimeout: TEST_LIMIT_MS });

describe.skipIf(BROWSER === undefined)("Compare with HEAD in the real workbench", () => {
	let opened: SampleWorkbench | undefined;

	afterAll(() => opened?.close());

	const line = (page: Page, words: string | RegExp) => page.locator(".view-line", { hasText: words }).first();

	test("without a Git extension the command is not there", async () => {
		opened = await openSamples("no-git", 900);
		const { page } = opened;
		await openFile(page, "roofless-chapel");
		await page.locator(".codelens-decoration", { hasText: "guide stars tonight" }).first().waitFor();
		await page.keyboard.press("F1");
		await page.locator(".quick-input-widget .quick-input-box input").fill(">Lodebook: Co");
		await page.locator(".quick-input-list .monaco-list-row", { hasText: "Lodebook:" }).first().waitFor();
		expect(await page.locator(".quick-input-list .monaco-list-row", { hasText: "Compare with HEAD" }).count()).toBe(0);
		await opened.close();
	});

	test("it shows what changed since the last commit, and what follows from it", async () => {
		const none = { lens: null, tracker: null, method: null, targets: null } as const;
		const members =
			"- { name: Nia, from: nia.lode.yaml, local-rules-checked: true }\n- { name: Tom, from: tom.lode.yaml }";
		const commit = (folder: string): void => {
			const kit = exampleText({ site: null, night: null, method: "kind: landmark-bearing\nlandmark: water tower" });
			for (const name of ["nia", "tom"]) writeFileSync(join(folder, `${name}.lode.yaml`), kit);
			const group = exampleText({ ...none, plan: "title: Two at the fold\nkind: group", group: members });
			writeFileSync(join(folder, "sheet.lode.yaml"), group);
			const git = (...args: string[]) => execFileSync("git", ["-C", folder, ...args]);
			git("init", "--quiet");
			git("add", "--all");
			git("-c", "user.name=test", "-c", "user.email=test@example.org", "commit", "--quiet", "--message", "plans");
		};
		opened = await openSamples("git", 1200, commit, { git: true });
		const { page } = opened;
		await openFile(page, "roofless-chapel");
		await page.locator(".codelens-decoration", { hasText: "guide stars tonight" }).first().waitFor();
		await cursorTo(page, line(page, '"20:01"'));
		await page.keyboard.press("End");
		for (let i = 0; i < 3; i++) await page.keyboard.press("Backspace");
		await page.keyboard.type('20"');
		await command(page, "Lodebook: Compare with HEAD");
		const view = page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");
		await view.locator("h3", { hasText: "compared with HEAD" }).waitFor();
		await view.locator("td", { hasText: "method/guide-star-not-there" }).waitFor();
		await page.screenshot({ path: join(SHOTS, "comparison.png") });
		await command(page, "View: Close Editor");
		// A group: what follows for each of it, from its own plan and from that of a kit that is not committed.
		const kit = join(opened.folder, "tom.lode.yaml");
		writeFileSync(kit, readFileSync(kit, "utf8").replace(/exposure: \d+ s/, "exposure: 45 s"));
		await openFile(page, "sheet.lode.yaml");
		await page.locator(".tab.active", { hasText: "sheet.lode.yaml" }).waitFor();
		await page.locator(".codelens-decoration").first().waitFor();
		await cursorTo(page, line(page, '"17:00"'));
		await page.keyboard.press("End");
		for (let i = 0; i < 3; i++) await page.keyboard.press("Backspace");
		await page.keyboard.type('30"');
		await command(page, "Lodebook: Compare with HEAD");
		await view.locator("h3", { hasText: "compared with HEAD" }).waitFor();
		await view.locator("td", { hasText: "Nia: Set up" }).first().waitFor();
		await view
			.locator("td", { hasText: /^Tom: targets/ })
			.first()
			.waitFor();
		expect(await view.locator("td", { hasText: /^Nia: targets/ }).count()).toBe(0);
		await page.screenshot({ path: join(SHOTS, "comparison-group.png") });
	});
});
