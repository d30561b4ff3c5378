import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { pack } from "../../release.mjs";
import { BROWSER, launch } from "../editor/browser.ts";
import { again, answer, answerNewPlan, choice, command, hover, LIMIT_MS, TEST_LIMIT_MS } from "../editor/steps.ts";
import { INSTALLED, startDesktop } from "./server.mjs";

const root = fileURLToPath(new URL("../../", import.meta.url));
const SHOTS = join(root, "tests/editor/shots");
if (!INSTALLED)
	console.log(
		"tests/desktop is not installed (npm ci --ignore-scripts in that folder): the packaged extension is not tested in a real VS Code with Node's extension host.",
	);

vi.setConfig({ testTimeout: TEST_LIMIT_MS });

describe.skipIf(!INSTALLED || BROWSER === undefined)(
	"the packaged extension in a real VS Code with Node's extension host",
	() => {
		let browser: Browser;
		let page: Page;
		let server: Awaited<ReturnType<typeof startDesktop>>;
		const work = mkdtempSync(join(tmpdir(), "lodebook-desktop-"));
		const folder = join(work, "plans");
		const vsix = join(work, "lodebook.vsix");
		const outside: string[] = [];

		beforeAll(async () => {
			pack(vsix);
			cpSync(join(root, "samples"), folder, { recursive: true });
			mkdirSync(SHOTS, { recursive: true });
			server = await startDesktop({ work: join(work, "server"), vsix });
			browser = await launch();
			page = await browser.newPage({ viewport: { width: 1400, height: 900 } });
			page.setDefaultTimeout(LIMIT_MS);
			page.on("request", (request) => {
				const { hostname, protocol } = new URL(request.url());
				// Webviews are served by a service worker under that name: nothing leaves the machine.
				if (protocol.startsWith("http") && hostname !== "127.0.0.1" && !hostname.endsWith("vscode-cdn.net"))
					outside.push(hostname);
			});
			await page.goto(server.address(folder));
			await page.waitForSelector(".monaco-workbench .part.statusbar");
		});

		afterAll(async () => {
			await browser?.close();
			await server?.close();
		});

		test("it is small", () => {
			console.log(`lodebook.vsix: ${(statSync(vsix).size / 1024).toFixed(0)} kB`);
			// Two servers, for Node and for the web, and in each of them what reads photos and finds their stars.
			expect(statSync(vsix).size).toBeLessThan(2_300_000);
		});

		test("a plan with a wrong guide star is underlined, hover and a fix are there", async () => {
			const row = page.locator(".explorer-folders-view .monaco-list-row", { hasText: "terrace" });
			await row.waitFor();
			await row.dblclick();
			await page.waitForSelector(".squiggly-error");
			const word = page
				.locator(".view-line", { hasText: "square-laser" })
				.first()
				.locator("span span", { hasText: "square-laser" })
				.first();
			await hover(page, word, "turns the axis by");
			await page.screenshot({ path: join(SHOTS, "desktop-hover.png") });
			await page.locator(".statusbar-item", { hasText: "1 error" }).first().waitFor();
			await page
				.locator(".codelens-decoration", { hasText: /guide stars? tonight/i })
				.first()
				.waitFor();
		});

		test("it opens as a notebook, and saving writes the line that was edited and no other", async () => {
			const file = join(folder, "terrace-near-the-line.lode.yaml");
			const before = readFileSync(file, "utf8");
			await command(page, "Lodebook: Open as Notebook");
			await page.locator(".notebookOverlay .cell .view-line", { hasText: "plan:" }).first().waitFor();
			await page.locator(".notebookOverlay .codelens-decoration", { hasText: "1 error" }).first().waitFor();
			// Drawn by our own renderer, which alone says so.
			await page
				.frameLocator("iframe.webview.ready")
				.frameLocator("#active-frame")
				.locator(".lodebook-cell.live")
				.first()
				.waitFor();
			const title = page.locator(".notebookOverlay .view-line", { hasText: "title:" }).first();
			await title.click();
			await page.keyboard.press("End");
			await page.keyboard.type(" again");
			await page.keyboard.press("Control+S");
			await expect.poll(() => readFileSync(file, "utf8")).toBe(before.replace(/(title: .*)/, "$1 again"));
			await page.screenshot({ path: join(SHOTS, "desktop-notebook.png") });
		});

		test("a server that dies is started again, with the text as it stood, typed letters and all", async () => {
			const servers = (): number[] =>
				readdirSync("/proc")
					.filter((name) => /^\d+$/.test(name))
					.filter((pid) => {
						try {
							const line = readFileSync(`/proc/${pid}/cmdline`, "utf8");
							return line.includes(work) && line.includes("server.node.cjs");
						} catch {
							return false;
						}
					})
					.map(Number);
			await command(page, "Lodebook: Open as Text");
			await page.waitForSelector(".squiggly-error");
			const [first] = servers();
			expect(servers().length).toBe(1);
			// A letter that is not saved: the format is no number any more.
			const format = page.locator(".view-line", { hasText: "format:" }).first();
			await format.click();
			await page.keyboard.press("End");
			await page.keyboard.type("x");
			await page.locator(".statusbar-item", { hasText: "2 errors" }).first().waitFor();
			process.kill(first as number, "SIGKILL");
			await expect.poll(() => servers().filter((pid) => pid !== first).length).toBe(1);
			expect(await format.innerText()).toMatch(/x$/);
			// It has the text that is not on disk, and goes on with it.
			await page.keyboard.press("Backspace");
			await page.locator(".statusbar-item", { hasText: "1 error" }).first().waitFor();
			await page.keyboard.type("x");
			await page.locator(".statusbar-item", { hasText: "2 errors" }).first().waitFor();
			await page.keyboard.press("Backspace");
			await page.locator(".statusbar-item", { hasText: "1 error" }).first().waitFor();
		});

		test("a newcomer: from the packed extension and an empty folder to the first card, step by step", async () => {
			// A second try begins with another one.
			const empty = mkdtempSync(join(work, "empty-"));
			const lines: string[] = [];
			let since = performance.now();
			const step = async (what: string, done: () => Promise<unknown>): Promise<void> => {
				await done();
				const now = performance.now();
				lines.push(`${((now - since) / 1000).toFixed(1).padStart(6)} s  ${what}`);
				since = now;
			};
			let newcomers: Awaited<ReturnType<typeof startDesktop>> | undefined;
			try {
				await step("the packed extension is installed, the editor starts", async () => {
					newcomers = await startDesktop({ work: join(work, "newcomer"), vsix });
				});
				const page = await browser.newPage({ viewport: { width: 1400, height: 900 } });
				page.setDefaultTimeout(LIMIT_MS);
				await step("without a folder the explorer offers a plan, once", async () => {
					await page.goto(newcomers?.address(empty).replace(/\?.*/, "?ew=true") ?? "");
					await page.waitForSelector(".monaco-workbench .part.statusbar");
					const offers = page.locator(".welcome-view-content a, .welcome-view-content .monaco-button", {
						hasText: "New Plan",
					});
					await again(offers.first(), () => page.keyboard.press("Control+Shift+E"));
					expect(await offers.count()).toBe(1);
				});
				await page.screenshot({ path: join(SHOTS, "newcomer-1-welcome.png") });
				await step("an empty folder is open", async () => {
					await page.goto(newcomers?.address(empty) ?? "");
					await page.waitForSelector(".monaco-workbench .part.statusbar");
				});
				await step("New Plan asks its first question", async () => {
					await command(page, "Lodebook: New Plan");
					await page.locator(".quick-input-title", { hasText: "1 of 5" }).waitFor();
				});
				await step("five questions are answered, and the plan is there without problems", async () => {
					await answer(page, ["Windy knoll"]);
					await page.locator(".quick-input-title", { hasText: "2 of 5" }).waitFor();
					await answerNewPlan(page, "44.1 S, 170.4 E", "2027-07-03", [
						"24 mm",
						"2",
						"full-frame",
						"6000 x 4000",
						"geared",
					]);
					await page.locator(".codelens-decoration", { hasText: "No problems found" }).first().waitFor();
				});
				await page.screenshot({ path: join(SHOTS, "newcomer-2-plan.png") });
				await step("it is exported as a card", async () => {
					await command(page, "Lodebook: Export the Plan");
					await choice(page, /./).waitFor();
					await answer(page, ["Card"]);
					const name = page.locator(".quick-input-widget .quick-input-box input");
					await expect.poll(() => name.inputValue(), { timeout: LIMIT_MS }).toMatch(/windy-knoll.*\.html$/);
					await page.screenshot({ path: join(SHOTS, "newcomer-3-export.png") });
					await page.keyboard.press("Enter");
					await expect
						.poll(() => readdirSync(empty).filter((one) => one.endsWith(".html")).length, { timeout: LIMIT_MS })
						.toBe(1);
				});
				await step("a sample that comes with the extension is opened", async () => {
					await command(page, "Lodebook: Open a Sample");
					await answer(page, ["Gannet Cave"]);
					await page.locator(".tab.active", { hasText: "gannet-cave.lode.yaml" }).waitFor();
					await page
						.locator(".view-line", { hasText: /Gannet\sCave/ })
						.first()
						.waitFor();
				});
				await page.screenshot({ path: join(SHOTS, "newcomer-4-sample.png") });
				const [card = ""] = readdirSync(empty).filter((one) => one.endsWith(".html"));
				expect(readFileSync(join(empty, card), "utf8")).toContain('id="card"');
				console.log(`From the packed extension to the first card:\n${lines.join("\n")}`);
				await page.close();
			} finally {
				await newcomers?.close();
			}
		});

		test("nothing outside this machine was asked for", () => {
			expect(outside).toEqual([]);
		});
	},
);
