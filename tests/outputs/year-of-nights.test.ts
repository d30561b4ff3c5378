/** The picture of a year's nights: what it holds, how it looks in every theme, and how a night is chosen in it. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { dayNumber } from "../../shared/earth/calendar.ts";
import { bestOfWeeks, type NightChoice, nightsOf } from "../../shared/evaluate/nights.ts";
import { dateText } from "../../shared/notation/date.ts";
import { EDITOR_STYLE, STYLE } from "../../shared/outputs/page/style.ts";
import { yearOfNights } from "../../shared/outputs/page/year-of-nights.tsx";
import { readPlan } from "../../shared/plan/plan.ts";
import { BROWSER, launch } from "../editor/browser.ts";

const read = (path: string): string => readFileSync(fileURLToPath(new URL(`../../${path}`, import.meta.url)), "utf8");
const PRESENT = { year: 2027, month: 6, day: 5 };

function yearOf(sample: string): readonly NightChoice[] {
	const outcome = nightsOf(
		readPlan(read(`samples/${sample}.lode.yaml`)),
		{ ...PRESENT, month: 2, day: 10 },
		{ ...PRESENT, year: 2028, month: 2, day: 9 },
	);
	return outcome.ok ? [...outcome.nights] : [];
}

const nights = yearOf("roofless-chapel");
const picture = yearOfNights(nights, PRESENT);
const inOne = (html: string, pattern: RegExp): readonly string[] =>
	[...html.matchAll(pattern)].map(([, one = ""]) => one);

describe("the picture", () => {
	const places = picture.split("<g ").slice(1);
	const sides = places.map((place) =>
		Number(/width="([\d.]+)" height="[\d.]+" fill="var\(--blue\)"/.exec(place)?.[1] ?? 0),
	);

	test("has a place for each night, a square whose area is its minutes, and a frame for the best of each new-moon week", () => {
		expect(places).toHaveLength(nights.length);
		const most = Math.max(...nights.map(({ minutes }) => minutes));
		const largest = Math.max(...sides);
		for (const [i, { minutes }] of nights.entries())
			expect((sides[i] as number) ** 2 / largest ** 2).toBeCloseTo(minutes / most, 2);
		const { best } = bestOfWeeks(nights);
		expect(
			places
				.flatMap((place, i) => (place.includes('rx="5"') ? [dateText((nights[i] as NightChoice).date)] : []))
				.sort(),
		).toEqual(best.map(({ date }) => dateText(date)).sort());
	});

	test("puts each night at its day and month, those of one month in a row", () => {
		for (const [i, place] of places.entries()) {
			const { date } = nights[i] as NightChoice;
			const [, x, y] = /translate\((\d+) (\d+)\)/.exec(place) ?? [];
			const first = nights[0]?.date ?? date;
			expect([Number(x), Number(y)]).toEqual([
				92 + (date.day - 1) * 22,
				24 + ((date.year - first.year) * 12 + date.month - first.month) * 22,
			]);
		}
		expect(inOne(picture, />(\d{4}-\d\d)</g)).toHaveLength(13);
	});

	test("says for who cannot see it how many nights are usable, and the best ones", () => {
		const { best, others } = bestOfWeeks(nights);
		expect(picture).toContain("<title>Nights of a year</title>");
		expect(picture).toContain(
			`<desc>${best.length + others.length} of 365 nights from 2027-02-10 until 2028-02-09 are usable.`,
		);
		for (const { date } of best) expect(/<desc>([^<]*)/.exec(picture)?.[1]).toContain(dateText(date));
		expect(inOne(picture, /data-night="([\d-]+)"/g)).toHaveLength(best.length + others.length);
		expect(nights.some(({ date }) => dayNumber(date) === dayNumber(PRESENT))).toBe(true);
	});

	test("of a year without one usable night, and of no nights, is not broken", () => {
		const none = yearOfNights(
			nights.filter(({ minutes }) => minutes === 0),
			undefined,
		);
		expect(none).not.toMatch(/NaN|undefined|data-night/);
		expect(none).toMatch(/<desc>0 of \d+ nights/);
		expect(yearOfNights([], PRESENT)).toBe("");
	});
});

describe.skipIf(BROWSER === undefined)("in the preview, in a real browser", () => {
	let browser: Browser;
	const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
	beforeAll(async () => {
		browser = await launch();
	});
	afterAll(() => browser?.close());

	/** As the preview has it, with the page's script; what that says to the extension is kept. */
	async function shown(theme: string, background: string, mode = "", width = 700): Promise<Page> {
		const page = await browser.newPage({ viewport: { width, height: 640 } });
		await page.setContent(
			`<!DOCTYPE html><html lang="en"${mode} style="--vscode-editor-background: ${background}"><head><title>Preview</title><style>${STYLE}${EDITOR_STYLE}</style></head><body class="${theme}"><main><p id="banner" class="banner" role="status" hidden></p><div id="instead"></div><div id="page"><h1>Plan</h1></div><section aria-labelledby="year-heading"><h2 id="year-heading">Nights of a year</h2><p><button id="compare-nights" type="button">Compare</button></p><p id="nights-say" role="status"></p><div id="nights"></div><p id="night-says" class="soft"></p></section></main></body></html>`,
		);
		await page.evaluate(
			"window.said = []; window.acquireVsCodeApi = () => ({ postMessage: (message) => said.push(message), getState() {}, setState() {} });",
		);
		await page.evaluate(read("dist/page.js"));
		await page.evaluate(`postMessage(${JSON.stringify({ type: "nights", html: picture, says: "", isCurrent: true })})`);
		await page.locator("#nights [role=button]").first().waitFor();
		return page;
	}
	const said = (page: Page): Promise<unknown> => page.evaluate("said.splice(0)");

	test.each([
		["vscode-light", "#ffffff"],
		["vscode-light", "#fdf6e3"],
		["vscode-dark", "#1f1f1f"],
		["vscode-high-contrast", "#000000"],
		["vscode-high-contrast vscode-high-contrast-light", "#ffffff"],
	])(
		"%s on %s: axe-core finds nothing, normal and dim; squares and frames stand out; nothing is wider than the window",
		async (theme, background) => {
			for (const mode of ["", ' data-mode="dim"']) {
				const page = await shown(theme, background, mode);
				await page.evaluate(axe);
				const { violations } = (await page.evaluate("axe.run()")) as { violations: { id: string; nodes: object[] }[] };
				expect(violations).toEqual([]);
				const luminances = (await page.evaluate(`["--blue", "--ink", "--panel"].map((name) => {
				const context = Object.assign(document.createElement("canvas"), { width: 1, height: 1 }).getContext("2d");
				context.fillStyle = getComputedStyle(document.body).getPropertyValue(name).trim();
				context.fillRect(0, 0, 1, 1);
				const [r, g, b] = [...context.getImageData(0, 0, 1, 1).data].map((one) => one / 255).map((one) => one <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4);
				return 0.2126 * r + 0.7152 * g + 0.0722 * b;
			})`)) as [number, number, number];
				const [blue, ink, panel] = luminances;
				// WCAG 2.2, 1.4.11: what is needed to understand a picture has a contrast of at least 3 to 1.
				for (const one of [blue, ink])
					expect((Math.max(one, panel) + 0.05) / (Math.min(one, panel) + 0.05)).toBeGreaterThan(3);
				await page.setViewportSize({ width: 320, height: 640 });
				expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(320);
				await page.close();
			}
		},
		60_000,
	);

	test("in the dim mode every pixel's green and blue are zero, with a night in focus too", async () => {
		const page = await shown("vscode-dark", "#1f1f1f", ' data-mode="dim"');
		await page.locator("#nights [tabindex='0']").focus();
		await page.keyboard.press("ArrowRight");
		const shot = await page.screenshot();
		const worst = await page.evaluate(`(async () => {
			const image = new Image();
			image.src = "data:image/png;base64,${shot.toString("base64")}";
			await image.decode();
			const canvas = Object.assign(document.createElement("canvas"), { width: image.width, height: image.height });
			const context = canvas.getContext("2d");
			context.drawImage(image, 0, 0);
			const { data } = context.getImageData(0, 0, image.width, image.height);
			let [worst, red] = [0, 0];
			for (let i = 0; i < data.length; i += 4) { worst = Math.max(worst, data[i + 1], data[i + 2]); red = Math.max(red, data[i]); }
			return { worst, red };
		})()`);
		expect(worst).toEqual({ worst: 0, red: expect.any(Number) });
		expect((worst as { red: number }).red).toBeGreaterThan(200);
		await page.close();
	});

	test("a click and Enter choose a night, arrows go from night to night, and a line says which one it is", async () => {
		const page = await shown("vscode-light", "#ffffff");
		await said(page);
		await page.locator("#compare-nights").click();
		expect(await said(page)).toEqual([{ type: "nights" }]);
		await page.locator('[data-night="2027-07-04"]').click();
		expect(await said(page)).toEqual([{ type: "night", date: "2027-07-04" }]);
		expect(await page.locator("#night-says").innerText()).toContain("2027-07-04 Sun: ");
		// The plan's own night is the one that the tab key comes to, and the only one.
		expect(await page.locator("#nights [tabindex='0']").count()).toBe(1);
		await page.locator("#nights [tabindex='0']").focus();
		await page.keyboard.press("ArrowRight");
		await page.keyboard.press("ArrowDown");
		expect(await page.locator("#night-says").innerText()).toContain("2027-07-06 Tue: ");
		await page.keyboard.press("Enter");
		expect(await said(page)).toEqual([{ type: "night", date: "2027-07-06" }]);
		await page.keyboard.press("ArrowUp");
		await page.keyboard.press("ArrowLeft");
		await page.keyboard.press(" ");
		expect(await said(page)).toEqual([{ type: "night", date: "2027-06-05" }]);
		await page.close();
	});

	test("of a plan that has changed since they are grey, and none can be chosen", async () => {
		const page = await shown("vscode-light", "#ffffff");
		await page.evaluate(
			`postMessage(${JSON.stringify({ type: "nights", html: picture, says: "Changed.", isCurrent: false })})`,
		);
		await expect.poll(() => page.locator("#nights-say").innerText()).toBe("Changed.");
		await said(page);
		await page.locator('[data-night="2027-07-04"]').click();
		expect(await said(page)).toEqual([]);
		expect(await page.locator("#nights [role=button], #nights [tabindex]").count()).toBe(0);
		expect(await page.locator("#nights svg").getAttribute("role")).toBe("img");
		await page.close();
	});
});
