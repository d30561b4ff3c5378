/** What a user does in the workbench, for the suites that run in it. */
import { cpSync, mkdirSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Locator, Page } from "playwright-core";
import { expect } from "vitest";
import { launch } from "./browser.ts";
import { ROOT, serveWorkbench } from "./workbench.mjs";

/** Where the suites leave their pictures. */
export const SHOTS = join(ROOT, "tests/editor/shots");

/** How long anything may take on a busy machine (less while one writes a test). Nothing waits that long where it has come about before. */
export const LIMIT_MS = Number(process.env.LODEBOOK_LIMIT_MS ?? 90_000);

/** How long a test of many steps may take there. */
export const TEST_LIMIT_MS = 600_000;

export interface Watched {
	readonly page: Page;
	/** Requests that left this machine. */
	readonly outside: string[];
	/** Errors of ours on the console. */
	readonly errors: string[];
}

/** The workbench in a page of its own, watched from the first request on. `expected` are errors that a test brings about. */
export async function openWorkbench(
	browser: Browser,
	url: string,
	height: number,
	expected = /404/,
	width = 1400,
): Promise<Watched> {
	const page = await (await browser.newContext({ viewport: { width, height } })).newPage();
	page.setDefaultTimeout(LIMIT_MS);
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

/** A workbench with a folder of its own that holds the samples. */
export interface SampleWorkbench extends Watched {
	readonly folder: string;
	readonly close: () => Promise<void>;
}

/** Opens one, its window so many pixels high. `prepare` adds to the folder before. */
export async function openSamples(
	name: string,
	height: number,
	prepare: (folder: string) => void = () => {},
	{ git = false, settings = {} }: { git?: boolean; settings?: Readonly<Record<string, unknown>> } = {},
): Promise<SampleWorkbench> {
	const folder = mkdtempSync(join(tmpdir(), `lodebook-${name}-`));
	cpSync(join(ROOT, "samples"), folder, { recursive: true });
	prepare(folder);
	mkdirSync(SHOTS, { recursive: true });
	const server = await serveWorkbench({ folder, git, settings });
	let browser: Browser | undefined;
	const close = async (): Promise<void> => {
		await browser?.close();
		await server.close();
	};
	try {
		browser = await launch();
		return { ...(await openWorkbench(browser, server.url, height)), folder, close };
	} catch (error) {
		await close();
		throw error;
	}
}

/** Opens a file from the explorer. */
export async function openFile(page: Page, name: string): Promise<void> {
	await page.locator(".explorer-folders-view .monaco-list-row", { hasText: name }).dblclick();
}

/**
 * Writes the value of a key anew. The cursor is on its line before a letter is typed: a lens that comes over a cell
 * moves what is under it, and a click would spoil the line above. What is typed is drawn a moment later.
 */
export async function rewrite(page: Page, key: string, value: string): Promise<void> {
	const line = page.locator(".view-line", { hasText: `${key}:` }).first();
	const wanted = `${key}: ${value}`;
	const written = async () => (await line.innerText()).replaceAll("\u00A0", " ").trim();
	await page.keyboard.press("Escape");
	await cursorTo(page, line.locator("span span", { hasText: key }).first());
	await page.keyboard.press("End");
	await page.keyboard.press("Shift+Home");
	await page.keyboard.type(wanted);
	await page.keyboard.press("Escape");
	await expect.poll(written).toBe(wanted);
}

/** Runs a command by its title. */
export async function command(page: Page, title: string): Promise<void> {
	const rows = page.locator(".quick-input-list .monaco-list-row", { hasText: title });
	const chosen = page.locator(".quick-input-list .monaco-list-row.focused", { hasText: title });
	const happens = (step: Promise<unknown>) =>
		step.then(
			() => true,
			() => false,
		);
	// A page inside the editor that has just got the focus does not always hand the key on,
	// and one that takes it late closes the question.
	await expect
		.poll(async () => {
			await page.keyboard.press("F1");
			if (!(await happens(question(page).fill(`>${title}`, { timeout: 3_000 })))) return false;
			if (!(await happens(rows.first().waitFor({ timeout: 5_000 })))) {
				// A list that was opened before the extension was there is not made anew while it is open.
				if (await question(page).isVisible()) await page.keyboard.press("Escape");
				return false;
			}
			// A command whose title begins like it can stand before it.
			for (let i = 0; i < 50 && !(await chosen.isVisible()) && (await question(page).isVisible()); i++)
				await page.keyboard.press("ArrowDown");
			return chosen.isVisible();
		})
		.toBe(true);
	await page.keyboard.press("Enter");
}

/** Answers one question after the other: the next one stands there once its text is not the last one's. */
export async function answer(page: Page, answers: readonly string[]): Promise<void> {
	let last = /^>/;
	for (const text of answers) {
		await expect.poll(() => question(page).inputValue()).not.toMatch(last);
		await question(page).fill(text);
		await page.keyboard.press("Enter");
		last = new RegExp(`^${text.replace(/\W/g, "\\$&")}$`);
	}
}

/** Chooses a file of the folder that is open where the editor asks for one. */
export async function chooseFile(page: Page, name: string): Promise<void> {
	await question(page).waitFor();
	await expect.poll(() => question(page).inputValue()).toMatch(/^\//);
	let isEntered = false;
	// The editor fills in the folder once it has looked at it, and looks at what is typed for a while before it takes it.
	await expect
		.poll(
			async () => {
				if (isEntered && (await question(page).isHidden())) return true;
				await question(page).fill(`/${name}`);
				await page.keyboard.press("Enter");
				isEntered = true;
				return question(page)
					.waitFor({ state: "hidden", timeout: 3_000 })
					.then(
						() => true,
						() => false,
					);
			},
			{ timeout: LIMIT_MS },
		)
		.toBe(true);
}

/** A row of the list under a question. */
export const choice = (page: Page, words: string | RegExp): Locator =>
	page.locator(".quick-input-list .monaco-list-row", { hasText: words }).first();

/** Answers the questions of a new plan, with a tracker, from its place on. */
export async function answerNewPlan(page: Page, place: string, date: string, kit: readonly string[]): Promise<void> {
	await question(page).fill(place);
	await page.locator(".quick-input-message", { hasText: "as copied from a map" }).waitFor();
	await page.keyboard.press("Enter");
	await choice(page, "dark and moonless").waitFor();
	await again(choice(page, new RegExp(`^${date}$`)), async () => {
		await question(page).fill("");
		await question(page).fill(date);
	});
	await page.keyboard.press("Enter");
	await choice(page, "With a tracker").waitFor();
	await page.keyboard.press("Enter");
	await otherKit(page);
	await answer(page, kit);
}

/** Passes over the kits that are offered, if there are any, to the questions for another one. */
export async function otherKit(page: Page): Promise<void> {
	const other = choice(page, "Another lens and camera");
	await other
		.or(page.locator(".quick-input-message", { hasText: "Focal length" }))
		.first()
		.waitFor();
	if (await other.isVisible()) await other.click();
}

const question = (page: Page): Locator => page.locator(".quick-input-widget .quick-input-box input");

/** Points at a place until the hover says something, and gives all it says. There is none before the server is there. */
export async function hover(page: Page, place: Locator, words: string): Promise<string> {
	const said = page.locator(".monaco-hover:visible", { hasText: words }).first();
	await again(said, async () => {
		await page.mouse.move(5, 5);
		await place.hover();
	});
	return (await page.locator(".monaco-hover:visible").allInnerTexts()).join(" ").replace(/\s+/g, " ");
}

/** Clicks on a line until the cursor stands on it: a cell that is not being edited can move while it opens. */
export async function cursorTo(page: Page, line: Locator): Promise<void> {
	const cursor = page.locator(".monaco-editor.focused .cursors-layer .cursor").first();
	await expect
		.poll(
			async () => {
				await line.click();
				const [is, there] = [await cursor.boundingBox({ timeout: 5_000 }).catch(() => null), await line.boundingBox()];
				return is !== null && there !== null && Math.abs(is.y - there.y) < there.height / 2;
			},
			{ timeout: LIMIT_MS },
		)
		.toBe(true);
}

/** Opens the light bulb's list until an action is in it, and gives that. */
export async function action(page: Page, words: string): Promise<Locator> {
	const row = page.locator(".action-widget .monaco-list-row", { hasText: words }).first();
	await again(row, async () => {
		// A list without it is closed first; Escape without a list would leave a notebook's cell.
		if (await page.locator(".action-widget").isVisible()) await page.keyboard.press("Escape");
		await page.keyboard.press("Control+Period");
	});
	return row;
}

/** Does something again until what it shall bring about is seen. */
export const again = (seen: Locator, attempt: () => Promise<void>): Promise<void> =>
	expect
		.poll(
			async () => {
				await attempt();
				return seen.waitFor({ timeout: 5_000 }).then(
					() => true,
					() => false,
				);
			},
			{ timeout: LIMIT_MS },
		)
		.toBe(true);

/** Errors, warnings and notes that the workbench counts. */
export async function problemsCounted(page: Page): Promise<readonly number[]> {
	const label =
		(await page.locator("#status\\.problems a, #status\\.problems").first().getAttribute("aria-label")) ?? "";
	return /No Problems/.test(label)
		? [0, 0, 0]
		: ["Error", "Warning", "Info"].map((word) => Number(new RegExp(`${word}s?: (\\d+)`).exec(label)?.[1] ?? 0));
}
