import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { basename, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { insteadOfPage, pageBody } from "../../shared/outputs/page/page.tsx";
import { EDITOR_STYLE, STYLE } from "../../shared/outputs/page/style.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { BROWSER, launch } from "../editor/browser.ts";
import { evaluateText } from "../plan-text.ts";
import { CLI } from "../server/client.ts";

const samples = fileURLToPath(new URL("../../samples/", import.meta.url));
const SHOTS = fileURLToPath(new URL("../editor/shots/", import.meta.url));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

const SAMPLES = [
	"roofless-chapel",
	"gannet-cave",
	"dry-gorge",
	"larch-clearing",
	"terrace-near-the-line",
	"midsummer-skerry",
	"mistakes",
];

/** Every sample, and plans of the evening that have most in one picture. */
const PLANS = [
	...readdirSync(samples)
		.filter((name) => name.endsWith(".lode.yaml"))
		.map((name) => name.replace(".lode.yaml", "")),
	...["southern-gorge", "northern-sea-cave", "long-lens", "one-hour", "panorama"].map(
		(name) => `../tests/evening/${name}`,
	),
];

interface WrittenText {
	readonly text: string;
	/** The place of its picture among those of the page. */
	readonly picture: number;
	readonly size: number;
	/** Not so of what waits beside the picture until the clock brings it up. */
	readonly isIn: boolean;
	readonly over: number;
	readonly left: number;
	readonly right: number;
	readonly top: number;
	readonly bottom: number;
}

/** Two texts of a picture that cover each other by more than the room above and below their letters. */
const overlaps = (texts: readonly WrittenText[]): readonly string[] =>
	texts.flatMap((one, i) =>
		texts
			.slice(0, i)
			.filter(
				(other) =>
					other.picture === one.picture &&
					Math.min(one.right, other.right) - Math.max(one.left, other.left) > 1 &&
					Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 0.3 * (one.bottom - one.top),
			)
			.map((other) => `${one.text} × ${other.text}`),
	);

/** Words of a page's text that a line's end cuts in two, other than behind a hyphen, a dash or a stroke. */
const BROKEN_WORDS = `(() => {
	const broken = [];
	const range = document.createRange();
	const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	for (let text; (text = walker.nextNode()); ) {
		const own = text.parentElement;
		if (!own.checkVisibility({ visibilityProperty: true }) || own.closest("svg, style, script")) continue;
		for (const { 0: word, index } of text.data.matchAll(/[^\\s\\-\\u2010-\\u2015/]+/g)) {
			range.setStart(text, index);
			range.setEnd(text, index + word.length);
			const tops = [...range.getClientRects()].filter(({ width }) => width > 0).map(({ top }) => top);
			if (Math.max(...tops) - Math.min(...tops) > 8) broken.push(word);
		}
	}
	return broken;
})()`;

describe.skipIf(BROWSER === undefined)("the page as a file, in a real browser", () => {
	let browser: Browser;
	const folder = mkdtempSync(join(tmpdir(), "lodebook-page-"));
	const problems: string[] = [];

	beforeAll(async () => {
		mkdirSync(SHOTS, { recursive: true });
		browser = await launch();
	});
	afterAll(() => browser?.close());

	async function open(sample: string, options: BrowserContextOptions = {}, kind = "--html"): Promise<Page> {
		const out = join(folder, `${basename(sample)}${kind}.html`);
		expect(
			spawnSync(process.execPath, [CLI, "show", join(samples, `${sample}.lode.yaml`), kind, "-o", out]).status,
		).toBe(0);
		const page = await (await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options })).newPage();
		page.on("console", (message) => problems.push(`${message.type()}: ${message.text()}`));
		page.on("pageerror", (error) => problems.push(error.message));
		page.on("request", (request) => {
			if (!request.url().startsWith("file:")) problems.push(`asked for ${request.url()}`);
		});
		await page.goto(`file://${out}`);
		return page;
	}

	test("every sample: no error, no request, nothing wider than the window; desk, tablet and phone", async () => {
		for (const sample of SAMPLES) {
			for (const [name, width, height] of [
				["desk", 1280, 900],
				["tablet", 768, 1024],
				["phone", 360, 780],
			] as const) {
				const page = await open(sample, { viewport: { width, height } });
				expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
				// No column is so narrow that words stand on end in it.
				const narrow = await page.evaluate(`[...document.querySelectorAll("th, td")]
					.filter((one) => one.checkVisibility() && one.textContent.length > 5 && getComputedStyle(one.closest("thead") ?? one).position !== "absolute")
					.filter((one) => one.getBoundingClientRect().width < 40)
					.map((one) => one.textContent)`);
				expect(narrow, `${sample} ${name}`).toEqual([]);
				if (sample === "roofless-chapel")
					await page.screenshot({ path: join(SHOTS, `page-${name}.png`), fullPage: true });
				await page.context().close();
			}
		}
		expect(problems).toEqual([]);
	});

	test("its policy lets nothing run that is not its own, and nothing be asked for", async () => {
		const page = await open("roofless-chapel");
		const refused: (string | undefined)[] = [];
		page.on("requestfailed", (request) => refused.push(request.failure()?.errorText));
		// As if something had got into the page after all.
		await page.evaluate(`
			document.body.insertAdjacentHTML("beforeend", '<img src="https://example.org/x.png" onerror="window.ran = 1"><button id="evil" onclick="window.ran = 2">x</button><iframe srcdoc="<script>parent.ran = 3</script>"></iframe><form id="f" action="https://example.org/"></form>');
			const script = document.createElement("script");
			script.textContent = "window.ran = 4";
			document.body.append(script);
			document.getElementById("evil").click();
			document.getElementById("f").submit();
			document.body.insertAdjacentHTML("beforeend", '<style>h1 { color: rgb(1, 2, 3) }</style>');
		`);
		await page.waitForTimeout(300);
		expect(await page.evaluate("window.ran")).toBe(undefined);
		expect(await page.evaluate("getComputedStyle(document.querySelector('h1')).color")).not.toBe("rgb(1, 2, 3)");
		expect(page.url()).toMatch(/^file:/);
		await page.context().close();
		// The picture's request was refused by the policy, and that was all there was.
		expect(refused).toEqual(["csp"]);
		expect(
			problems
				.splice(0)
				.filter((problem) => !/Content Security Policy|asked for https:\/\/example\.org\/x\.png/.test(problem)),
		).toEqual([]);
	});

	test("light, dark, high contrast and dim have no violation that axe-core finds", async () => {
		for (const [name, scheme, theme, dim] of [
			["light", "light", "", false],
			["dark", "dark", "", false],
			["contrast", "dark", "contrast", false],
			["contrast-light", "light", "contrast-light", false],
			["dim", "light", "", true],
		] as const) {
			const page = await open("roofless-chapel", { colorScheme: scheme });
			if (theme) await page.evaluate(`document.documentElement.dataset.theme = ${JSON.stringify(theme)}`);
			if (dim) await page.click("#dim");
			await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
			await page.screenshot({ path: join(SHOTS, `page-${name}.png`) });
			await page.evaluate(axe);
			const { violations } = (await page.evaluate("axe.run()")) as {
				violations: { id: string; nodes: { html: string; failureSummary?: string }[] }[];
			};
			expect(violations.map(({ id, nodes }) => `${name} ${id}: ${nodes[0]?.html} ${nodes[0]?.failureSummary}`)).toEqual(
				[],
			);
			await page.context().close();
		}
	});

	test.each([
		["light", "vscode-light", "#ffffff"],
		["warm", "vscode-light", "#fdf6e3"],
		["dark", "vscode-dark", "#1f1f1f"],
		["high contrast", "vscode-high-contrast", "#000000"],
		// The editor gives this one the class of the dark one too.
		["light high contrast", "vscode-high-contrast vscode-high-contrast-light", "#ffffff"],
	])(
		"in the editor's colours, %s: axe-core finds nothing, normal and dim; what hides stands out from the sky",
		async (name, theme, background) => {
			const evaluation = evaluateText(readFileSync(join(samples, "mistakes.lode.yaml"), "utf8"));
			const chapel = evaluateText(readFileSync(join(samples, "roofless-chapel.lode.yaml"), "utf8"));
			const now = insteadOfPage(pageView(evaluation, check(evaluation)));
			const drawn = pageBody(pageView(chapel, check(chapel)));
			for (const mode of ["", ' data-mode="dim"']) {
				const page = await browser.newPage({ viewport: { width: 700, height: 900 } });
				await page.setContent(
					`<!DOCTYPE html><html lang="en"${mode} style="--vscode-editor-background: ${background}"><head><title>Preview</title><style>${STYLE}${EDITOR_STYLE}</style></head><body class="${theme}"><main><p id="banner" class="banner" role="status">Of before.</p><div id="instead">${now}</div><div id="page">${drawn}</div></main></body></html>`,
				);
				await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
				await page.evaluate(axe);
				const { violations } = (await page.evaluate("axe.run()")) as { violations: { id: string; nodes: object[] }[] };
				expect(violations, name).toEqual([]);
				const colours = (await page.evaluate(
					`["--sky", "--ground", "--ink"].map((name) => getComputedStyle(document.body).getPropertyValue(name).trim())`,
				)) as string[];
				expect(new Set(colours).size, colours.join()).toBe(3);
				expect(await page.evaluate("getComputedStyle(document.getElementById('banner')).position")).toBe("sticky");
				await page.close();
			}
		},
		60_000,
	);

	test("in the dim mode every pixel's green and blue are zero, with all open, on desk and phone, of the card too", async () => {
		for (const [width, height, kind] of [
			[1280, 900, "--html"],
			[360, 780, "--html"],
			[360, 780, "--card"],
		] as const) {
			const page = await open("roofless-chapel", { viewport: { width, height } }, kind);
			await page.click("#dim");
			await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
			await page.mouse.move(0, 0);
			const shot = await page.screenshot({ fullPage: true });
			if (width === 360 && kind === "--html")
				await page.screenshot({ path: join(SHOTS, "page-dim.png"), fullPage: true });
			// The picture is read in a page of its own, whose policy lets an image in.
			const reader = await browser.newPage();
			const worst = await reader.evaluate(`(async () => {
				const image = new Image();
				image.src = "data:image/png;base64,${shot.toString("base64")}";
				await image.decode();
				const canvas = document.createElement("canvas");
				canvas.width = image.width; canvas.height = image.height;
				const context = canvas.getContext("2d");
				context.drawImage(image, 0, 0);
				let worst = 0, red = 0;
				for (let y = 0; y < image.height; y += 500) {
					const { data } = context.getImageData(0, y, image.width, Math.min(500, image.height - y));
					for (let i = 0; i < data.length; i += 4) { worst = Math.max(worst, data[i + 1], data[i + 2]); red = Math.max(red, data[i]); }
				}
				return { worst, red };
			})()`);
			expect(worst).toEqual({ worst: 0, red: expect.any(Number) });
			expect((worst as { red: number }).red).toBeGreaterThan(150);
			await reader.close();
			await page.context().close();
		}
		expect(problems).toEqual([]);
	});

	test.each([271, 320, 380, 500])(
		"at %d px every row of the timeline has its name, two hours at least a number, and no minute of a table is broken",
		async (width) => {
			for (const sample of ["larch-clearing", "roofless-chapel", "lone-arch"]) {
				const page = await open(sample, { viewport: { width, height: 900 } });
				await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
				const { unnamed, hours } = (await page.evaluate(`(() => {
					const shown = (one) => [...one.querySelectorAll("tspan:not(.times, .step-times)")].some((name) => getComputedStyle(name).display !== "none");
					const texts = [...document.querySelectorAll("#timeline g:has(> rect) > text")];
					return {
						unnamed: texts.filter((one) => !shown(one)).map((one) => one.textContent),
						hours: [...document.querySelectorAll("#timeline g:not(:has(> rect)) > text")].filter((one) => /^\\d\\d/.test(one.textContent) && getComputedStyle(one).display !== "none").length,
					};
				})()`)) as { unnamed: string[]; hours: number };
				expect(unnamed, sample).toEqual([]);
				expect(hours, sample).toBeGreaterThan(1);
				// A word that is broken is narrower than itself.
				const broken =
					await page.evaluate(`[...document.querySelectorAll(".minutes td:first-child")].flatMap((cell) => {
					const text = cell.firstChild;
					return [...text.data.matchAll(/[\\w:]+/g)].filter((word) => {
						const range = document.createRange();
						range.setStart(text, word.index);
						range.setEnd(text, word.index + word[0].length);
						return range.getClientRects().length > 1;
					}).map(([word]) => word);
				})`);
				expect(broken, sample).toEqual([]);
				await page.context().close();
			}
		},
		60_000,
	);

	test("the slider turns the sky and moves the clock; the dim button says its state", async () => {
		const page = await open("roofless-chapel");
		const before = await page.locator(".place").first().getAttribute("transform");
		await page.locator("#time").focus();
		for (let i = 0; i < 60; i++) await page.keyboard.press("ArrowRight");
		expect(await page.locator("#clock").innerText()).toBe("21:30");
		expect(await page.locator(".place").first().getAttribute("transform")).not.toBe(before);
		expect(await page.locator("#dim").getAttribute("aria-pressed")).toBe("false");
		await page.click("#dim");
		expect(await page.locator("#dim").getAttribute("aria-pressed")).toBe("true");
		await page.context().close();
	});

	test.each([...PLANS, "workshop/saturday"])(
		"%s on paper: two pages of A4 or Letter at most, nothing cut off",
		async (sample) => {
			for (const [format, width] of [
				["A4", 740],
				["Letter", 760],
			] as const) {
				const page = await open(sample);
				const pdf = await page.pdf({ format, path: join(SHOTS, `page-${sample}-${format}.pdf`) });
				const pages = pdf.toString("latin1").match(/\/Type\s*\/Page(?!s)/g)?.length ?? 0;
				expect(pages, format).toBeGreaterThanOrEqual(1);
				expect(pages, format).toBeLessThanOrEqual(2);
				await page.emulateMedia({ media: "print" });
				await page.setViewportSize({ width, height: 900 });
				expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
				// A step's name has the width of a small sheet, where its times and numbers are over and under it.
				await page.setViewportSize({ width: 500, height: 700 });
				const narrowest = await page.evaluate(
					`Math.min(...[...document.querySelectorAll(".evening td:nth-child(3)")].map((td) => td.getBoundingClientRect().width).filter((width) => width > 0), 500)`,
				);
				expect(narrowest).toBeGreaterThan(400);
				await page.context().close();
			}
		},
		60_000,
	);

	test.each([
		["dusk-comet", 1280, 2],
		["slate-quarry-arch", 1280, 2],
		["dusk-comet", 400, 1],
	] as const)(
		"the shot list of %s has the page's width at %d px, and prints no closed part",
		async (name, width, columns) => {
			const page = await open(name, { viewport: { width, height: 900 } });
			const { wide, lefts, narrowest } = (await page.evaluate(`(() => {
			const dl = document.querySelector(".shot dl");
			const dds = [...dl.querySelectorAll("dd")].map((one) => one.getBoundingClientRect());
			return {
				wide: dl.getBoundingClientRect().width / document.querySelector(".shots").getBoundingClientRect().width,
				lefts: [...new Set(dds.map(({ left }) => Math.round(left)))],
				narrowest: Math.min(...dds.map(({ width }) => width)),
			};
		})()`)) as { wide: number; lefts: readonly number[]; narrowest: number };
			expect(wide).toBeGreaterThan(0.98);
			expect(lefts).toHaveLength(columns);
			expect(narrowest).toBeGreaterThan(width === 400 ? 200 : 380);
			await page.emulateMedia({ media: "print" });
			const shown = await page.evaluate(
				"[...document.querySelectorAll('details:not([open]) summary')].filter((one) => one.getClientRects().length > 0).map((one) => one.textContent)",
			);
			expect(shown).toEqual([]);
			await page.context().close();
		},
	);

	test.each(["--html", "--card"])("%s in print: black on white, whatever the screen's mode was", async (kind) => {
		const out = join(folder, `printed${kind}.html`);
		spawnSync(process.execPath, [CLI, "show", join(samples, "mistakes.lode.yaml"), kind, "-o", out]);
		for (const mode of ["light", "dark", "dim"]) {
			const page = await (await browser.newContext({ colorScheme: mode === "dark" ? "dark" : "light" })).newPage();
			await page.goto(`file://${out}`);
			if (mode === "dim") await page.evaluate(`document.documentElement.dataset.mode = "dim"`);
			await page.emulateMedia({ media: "print", colorScheme: mode === "dark" ? "dark" : "light" });
			const coloured = await page.evaluate(`[...document.querySelectorAll("body *")]
				.filter((one) => one.checkVisibility() && !one.closest("svg") && one.innerText?.trim())
				.map((one) => [getComputedStyle(one).color, one.innerText.slice(0, 40)])
				.filter(([colour]) => { const [r, g, b] = colour.match(/\\d+/g).map(Number); return Math.max(r, g, b) > 0x55 || r !== g || g !== b; })`);
			expect(coloured, mode).toEqual([]);
			await page.context().close();
		}
	});

	test("a report's index: no word of its table is broken, every name and degree is whole on its map", async () => {
		const plans = join(folder, "reported");
		mkdirSync(plans);
		const plan = (name: string, latitude: string, longitude: string): void =>
			writeFileSync(
				join(plans, `${name.split(" ")[0]}.lode.yaml`),
				`plan:\n  title: Night of ${name}\n---\nsite:\n  name: ${name}\n  latitude: ${latitude}\n  longitude: ${longitude}\n---\nnight:\n  date: 2027-08-06\n`,
			);
		plan("Sheepfold hill", "47.1 N", "8.7 E");
		plan("Washerwomen's observation platform at the waterfall", "47.11 N", "8.74 E");
		spawnSync(process.execPath, [CLI, "report", plans, "-o", join(folder, "report")]);
		const page = await (await browser.newContext({ viewport: { width: 1100, height: 900 } })).newPage();
		await page.goto(`file://${join(folder, "report/index.html")}`);
		const cut = await page.evaluate(`[...document.querySelectorAll("svg text")].filter((text) => {
			const [svg, box] = [text.ownerSVGElement.getBoundingClientRect(), text.getBoundingClientRect()];
			return box.left < svg.left || box.right > svg.right || box.top < svg.top || box.bottom > svg.bottom;
		}).map((text) => text.textContent)`);
		expect(cut).toEqual([]);
		const broken =
			await page.evaluate(`[...document.querySelectorAll(".nights td:nth-child(2) a, .nights td:nth-child(3)")].flatMap((cell) => {
			const text = cell.firstChild;
			return [...text.data.matchAll(/\\S+/g)].filter(({ 0: word, index }) => {
				const range = document.createRange();
				range.setStart(text, index);
				range.setEnd(text, index + word.length);
				return new Set([...range.getClientRects()].map(({ top }) => top)).size > 1;
			}).map(([word]) => word);
		})`);
		expect(broken).toEqual([]);
		expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
		await page.screenshot({ path: join(SHOTS, "report.png"), fullPage: true });
		await page.context().close();
	});

	test.each([...PLANS, "workshop/saturday"])(
		"%s: no word is broken, page from a narrow pane to a desk, card on a phone",
		async (plan) => {
			for (const kind of ["--html", "--card"]) {
				const page = await open(plan, {}, kind);
				await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
				for (const width of kind === "--card" ? [320, 390] : [271, 380, 700, 1280]) {
					await page.setViewportSize({ width, height: 900 });
					expect(await page.evaluate(BROKEN_WORDS), `${kind} ${width}`).toEqual([]);
					expect(await page.evaluate("document.documentElement.scrollWidth"), `${kind} ${width}`).toBeLessThanOrEqual(
						width,
					);
				}
				await page.context().close();
			}
		},
		60_000,
	);

	test("a name that is one long word is broken, and leaves nothing wider than the window", async () => {
		const name = "Zwischenwasserscheidenobservationsplattform".repeat(3);
		const plan = readFileSync(join(samples, "roofless-chapel.lode.yaml"), "utf8");
		const file = join(folder, "long.lode.yaml");
		writeFileSync(file, plan.replaceAll("water tower", name).replaceAll("core over the gable", name));
		expect(readFileSync(file, "utf8")).not.toContain("water tower");
		for (const kind of ["--html", "--card"]) {
			const page = await open(relative(samples, file).replace(".lode.yaml", ""), {}, kind);
			await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
			for (const width of [271, 380, 700, 1280]) {
				await page.setViewportSize({ width, height: 900 });
				expect(await page.evaluate("document.documentElement.scrollWidth"), `${kind} ${width}`).toBeLessThanOrEqual(
					width,
				);
			}
			await page.context().close();
		}
	}, 60_000);

	test.each([...PLANS])(
		"%s: text in pictures is 11 px or more, inside of them and never over another, from a narrow pane to a desk",
		async (plan) => {
			const page = await open(plan);
			for (const width of [271, 400, 700, 1280]) {
				await page.setViewportSize({ width, height: 900 });
				const texts = (await page.evaluate(`[...document.querySelectorAll("svg text")]
					.filter((text) => getComputedStyle(text).visibility !== "hidden" && text.getBoundingClientRect().width > 0)
					.map((text) => {
						const svg = text.ownerSVGElement.getBoundingClientRect();
						const { left, right, top, bottom } = text.getBoundingClientRect();
						const isIn = right > svg.left && left < svg.right && top < svg.bottom && bottom > svg.top;
						return {
							text: text.textContent,
							picture: [...document.querySelectorAll("svg")].indexOf(text.ownerSVGElement),
							size: parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a,
							isIn,
							over: isIn ? Math.max(svg.left - left, right - svg.right) : 0,
							left, right, top, bottom,
						};
					})`)) as readonly WrittenText[];
				if (plan !== "mistakes") expect(texts.length).toBeGreaterThan(10);
				expect(
					texts.filter(({ size }) => size < 11).map(({ text, size }) => `${width}: ${text} is ${size} px`),
				).toEqual([]);
				expect(
					texts.filter(({ over }) => over >= 1).map(({ text, over }) => `${width}: ${text} is ${over} px outside`),
				).toEqual([]);
				expect(overlaps(texts.filter(({ isIn }) => isIn)).map((two) => `${width}: ${two}`)).toEqual([]);
				// Of the strips that stand for the panorama only one width's is shown, and its text is as large.
				const strips = (await page.evaluate(`[...document.querySelectorAll("#panorama svg")]
					.filter((svg) => svg.getBoundingClientRect().width > 10)
					.map((svg) => [svg.getBoundingClientRect().width / svg.viewBox.baseVal.width * (parseFloat(getComputedStyle(svg).getPropertyValue("--label")) || 13.5), svg.parentElement.className])`)) as [
					number,
					string,
				][];
				if (plan !== "mistakes") expect(new Set(strips.map(([, name]) => name)).size).toBe(1);
				for (const [size] of strips) expect(size).toBeGreaterThanOrEqual(11);
			}
			await page.context().close();
		},
		60_000,
	);

	test("the next step is the first one, and on the evening the one that is next by the clock, whatever the device's zone", async () => {
		for (const [now, text] of [
			["2027-06-01T12:00:00-03:00", "Next: 17:00 Set up"],
			["2027-06-05T19:50:00-03:00", "Next: 19:56 Align: right-angle laser"],
			["2027-06-05T19:57:00-03:00", "Next: 20:23 Aim at core over the gable"],
			["2027-06-06T01:55:00-03:00", "Next: 01:50 (+1) Pack up"],
			["2027-06-09T12:00:00-03:00", "Next: 17:00 Set up"],
		] as const) {
			const page = await open("roofless-chapel", { timezoneId: "America/Lima" });
			await page.clock.setFixedTime(new Date(now));
			await page.reload();
			expect(await page.locator("#next").innerText()).toBe(text);
			await page.context().close();
		}
	});

	test("dim red is kept for the next time a page is opened", async () => {
		const page = await open("roofless-chapel");
		await page.click("#dim");
		await page.reload();
		expect(await page.locator("#dim").getAttribute("aria-pressed")).toBe("true");
		expect(await page.evaluate("document.documentElement.dataset.mode")).toBe("dim");
		await page.click("#dim");
		await page.context().close();
	});
});
