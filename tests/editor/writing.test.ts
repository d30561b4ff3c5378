import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { codesOf } from "../plan-text.ts";
import { BROWSER } from "./browser.ts";
import {
	answer,
	choice,
	LIMIT_MS,
	openFile,
	openSamples,
	type SampleWorkbench,
	SHOTS,
	TEST_LIMIT_MS,
} from "./steps.ts";
import { ROOT } from "./workbench.mjs";

vi.setConfig({ testTimeout: TEST_LIMIT_MS });

describe.skipIf(BROWSER === undefined)("writing a plan in the real workbench", () => {
	let watched: SampleWorkbench;
	let page: Page;
	let folder: string;

	beforeAll(async () => {
		watched = await openSamples("writing", 1000, (folder) => {
			for (const name of ["enter", "keyboard", "sample", "kit"]) writeFileSync(join(folder, `${name}.lode.yaml`), "");
		});
		({ page, folder } = watched);
	});

	afterEach(() => page.screenshot({ path: join(SHOTS, "writing-last.png") }));

	afterAll(() => watched?.close());

	const onDisk = (name: string): string => readFileSync(join(folder, `${name}.lode.yaml`), "utf8");
	const list = () => page.locator(".suggest-widget.visible .monaco-list-row");
	const open = async (name: string): Promise<void> => {
		await openFile(page, `${name}.lode`);
		await page.locator(".tab.active", { hasText: name }).waitFor();
		await page.locator(".editor-group-container.active .monaco-editor").first().click();
	};

	test("Enter indents under a key and in an entry, and keeps the column elsewhere", async () => {
		await open("enter");
		/** Lines as a hand types them, and the columns in which the cursor is after each Enter. */
		const lines = ["site:", "name: A # a: comment:", "landmarks: # those seen", "- name: tower", "lit: true"];
		const columns: string[] = [];
		for (const [i, line] of lines.entries()) {
			await page.keyboard.type(line, { delay: 20 });
			await page.keyboard.press("Escape");
			await page.keyboard.press("Enter");
			const position = page.locator(".statusbar-item", { hasText: `Ln ${i + 2}, Col` });
			columns.push((await position.innerText()).replace(/.*Col /, ""));
		}
		expect(columns).toEqual(["3", "3", "5", "7", "7"]);
		await page.keyboard.press("Escape");
		await page.keyboard.press("Control+S");
		await expect
			.poll(() => onDisk("enter").trimEnd(), { timeout: LIMIT_MS })
			.toBe("site:\n  name: A # a: comment:\n  landmarks: # those seen\n    - name: tower\n      lit: true");
	});

	test("a whole plan by keyboard alone, from an empty file to one that checks clean", async () => {
		await open("keyboard");
		let keys = 0;
		const press = async (...names: readonly string[]): Promise<void> => {
			for (const name of names) {
				keys++;
				await page.keyboard.press(name);
			}
		};
		const type = async (text: string): Promise<void> => {
			keys += text.length;
			await page.keyboard.type(text);
		};
		/** Opens the list, and takes what is first in it. */
		const takeFirst = async (words: RegExp): Promise<void> => {
			await press("Control+Space");
			await expect.poll(() => list().first().innerText(), { timeout: LIMIT_MS }).toMatch(words);
			await page.screenshot({ path: join(SHOTS, `writing-${keys}.png`) });
			await press("Enter");
			await list().first().waitFor({ state: "hidden" });
		};
		await takeFirst(/new plan/);
		await type("Ridge");
		await press("Tab");
		await type("Ridge");
		await press("Tab");
		await type("47.1N");
		await press("Tab");
		await type("8.7E");
		await press("Tab");
		await takeFirst(/usable/);
		await press("Tab");
		await type("24mm");
		await press("Tab");
		await type("2");
		await press("Tab");
		await takeFirst(/./);
		await press("Tab");
		await type("6000x4000");
		await press("Tab");
		await takeFirst(/./);
		await press("Tab");
		await takeFirst(/axis within/);
		await press("Tab");
		await type("core");
		await press("Tab");
		await type("Deneb");
		await list().first().waitFor();
		await press("Enter", "Tab");
		await type("30s");
		await press("Escape");
		await page.locator(".codelens-decoration", { hasText: "No problems found" }).first().waitFor();
		await page.screenshot({ path: join(SHOTS, "writing-whole.png") });
		await page.keyboard.press("Control+S");
		await expect.poll(() => onDisk("keyboard"), { timeout: LIMIT_MS }).toMatch(/exposure: 30s\n$/);
		expect(codesOf(onDisk("keyboard"))).toEqual([]);
		console.log(`A plan in ${keys} keys.`);
		expect(keys).toBeLessThan(120);
	});

	test("over an empty file are three ways to begin: from a sample, from a kit that is asked for once, by questions", async () => {
		const lens = (title: string) => page.locator(".codelens-decoration a", { hasText: title }).first();
		await open("sample");
		await lens("answer five questions").waitFor();
		await page.screenshot({ path: join(SHOTS, "writing-empty.png") });
		await lens("Begin with a sample").click();
		await choice(page, "Larch clearing").waitFor();
		await page.screenshot({ path: join(SHOTS, "writing-samples.png") });
		await answer(page, ["Larch clearing"]);
		await page.locator(".view-line", { hasText: "plan:" }).first().waitFor();
		await page.keyboard.press("Control+S");
		const sample = readFileSync(join(ROOT, "samples/larch-clearing.lode.yaml"), "utf8");
		await expect.poll(() => onDisk("sample"), { timeout: LIMIT_MS }).toBe(sample);
		await open("kit");
		await lens("Begin with my kit").click();
		await page.locator(".quick-input-title", { hasText: "New plan" }).waitFor();
		await answer(page, ["35 mm", "1.8", "aps-c", "6240 x 4160", "wedge"]);
		await page
			.locator(".view-line", { hasText: /focal-length:\s35\smm/ })
			.first()
			.waitFor();
		// The first gap is the title's.
		await page.keyboard.type("Dunes");
		await page.keyboard.press("Control+S");
		await expect
			.poll(() => onDisk("kit"), { timeout: LIMIT_MS })
			.toMatch(
				/^plan:\n {2}title: Dunes\n[\s\S]*sensor: aps-c\n {2}pixels: 6240 x 4160\n---\ntracker:\n {2}head: wedge\n/,
			);
		await page.screenshot({ path: join(SHOTS, "writing-kit.png") });
	});

	test("nothing outside this machine was asked for, and nothing of ours went wrong", () => {
		expect(watched.outside).toEqual([]);
		expect(watched.errors).toEqual([]);
	});
});
