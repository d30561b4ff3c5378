/** What a user does in the workbench, for the suites that run in it. */
import type { Browser, Page } from "playwright-core";

export interface Watched {
	readonly page: Page;
	/** Requests that left this machine. */
	readonly outside: string[];
	/** Errors of ours on the console. */
	readonly errors: string[];
}

/** The workbench in a page of its own, watched from the first request on. `expected` are errors that a test brings about. */
export async function openWorkbench(browser: Browser, url: string, height: number, expected = /404/): Promise<Watched> {
	const page = await (await browser.newContext({ viewport: { width: 1400, height } })).newPage();
	const outside: string[] = [];
	const errors: string[] = [];
	page.on("request", (request) => {
		const { hostname, protocol } = new URL(request.url());
		if (protocol.startsWith("http") && !hostname.endsWith("localhost")) outside.push(request.url());
	});
	page.on("console", (message) => {
		if (message.type() === "error" && /lodebook/i.test(message.text()) && !expected.test(message.text()))
			errors.push(message.text());
	});
	await page.goto(url);
	await page.waitForSelector(".monaco-workbench .part.statusbar");
	return { page, outside, errors };
}

/** Opens a file from the explorer. */
export async function openFile(page: Page, name: string): Promise<void> {
	const row = page.locator(".explorer-folders-view .monaco-list-row", { hasText: name });
	await row.waitFor({ timeout: 60_000 });
	await row.dblclick();
}

/** Runs a command by its title. */
export async function command(page: Page, title: string): Promise<void> {
	await page.keyboard.press("F1");
	await page.locator(".quick-input-widget .quick-input-box input").fill(`>${title}`);
	await page.locator(".quick-input-list .monaco-list-row", { hasText: title }).first().waitFor();
	await page.waitForTimeout(200);
	await page.keyboard.press("Enter");
}

/** Answers one question after the other. */
export async function answer(page: Page, answers: readonly string[]): Promise<void> {
	for (const text of answers) {
		const input = page.locator(".quick-input-widget .quick-input-box input");
		await input.waitFor();
		await page.waitForTimeout(150);
		await input.fill(text);
		await page.keyboard.press("Enter");
	}
}
