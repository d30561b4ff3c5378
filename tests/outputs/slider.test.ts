/** The page's sky by its clock, in a real browser: what the slider moves, how long it takes, and what a redraw leaves as it was. */
import { readFileSync } from "node:fs";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { nightClock } from "../../shared/outputs/clock.ts";
import {
	chartAreaAt,
	chartLinesAt,
	chartMarksAt,
	chartOutlineAt,
	chartStarsAt,
	onChart,
} from "../../shared/outputs/page/chart-paths.ts";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { areaAt, linesAt, outlineAt, starsAt } from "../../shared/outputs/page/sky-paths.ts";
import { EDITOR_STYLE, STYLE } from "../../shared/outputs/page/style.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { halfTurn, RAD } from "../../shared/sky/vector.ts";
import { sliderFrames } from "../bench/slider.mjs";
import { BROWSER, launch } from "../editor/browser.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const read = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), "utf8");

const viewOf = (text: string) => {
	const evaluation = evaluateText(text);
	return pageView(evaluation, check(evaluation));
};

describe.skipIf(BROWSER === undefined)("in the preview, in a real browser", () => {
	let browser: Browser;
	beforeAll(async () => {
		browser = await launch();
	});
	afterAll(() => browser?.close());

	/** The page of a plan as the preview has it. */
	async function shown(text: string, width = 1280): Promise<Page> {
		const page = await browser.newPage({ viewport: { width, height: 900 } });
		await page.setContent(
			`<!DOCTYPE html><html lang="en"><head><title>Preview</title><style>${STYLE}${EDITOR_STYLE}</style></head><body class="vscode-light"><main><p id="banner" class="banner" hidden></p><div id="instead"></div><div id="page"></div></main></body></html>`,
		);
		await page.evaluate("window.acquireVsCodeApi = () => ({ postMessage() {}, getState() {}, setState() {} });");
		await page.evaluate(read("dist/page.js"));
		await draw(page, text);
		return page;
	}

	const draw = (page: Page, text: string): Promise<unknown> =>
		page.evaluate(
			`new Promise((done) => { addEventListener("message", () => setTimeout(done), { once: true }); postMessage(${JSON.stringify(
				{
					type: "page",
					plan: "a.lode.yaml",
					title: "A",
					locked: false,
					html: pageBody(viewOf(text)),
					instead: "",
					banner: "",
				},
			)}); })`,
		);

	const slideTo = (page: Page, at: number): Promise<unknown> =>
		page.evaluate(
			`{ const slider = document.getElementById("time"); slider.value = "${at}"; slider.dispatchEvent(new Event("input", { bubbles: true })); }`,
		);

	const attributes = (page: Page, selector: string, name: string): Promise<readonly string[]> =>
		page.evaluate(
			`[...document.querySelectorAll(${JSON.stringify(selector)})].map((one) => one.getAttribute("${name}"))`,
		) as Promise<readonly string[]>;

	test.each([1280, 700, 400])(
		"names that go with their marks stay whole at the seam and between the parts: %d px",
		async (width) => {
			// Over the pole, a way through the picture's ends.
			const text = planWith({
				site: "name: quay\nlatitude: 50 N\nlongitude: 8 E\nelevation: 10 m",
				night: 'date: 2027-03-08\narrive: "19:00"\nleave: "05:00"',
				targets: `- { name: the lesser wain over the gate, aim: Kochab, exposure: 60 s }\n- { name: the great wain over the gate, aim: Dubhe, exposure: 60 s }`,
			});
			const { panorama } = viewOf(text);
			if (!panorama) throw new Error("no picture");
			const page = await shown(text, width);
			const cut: string[] = [];
			for (let k = 0; k <= 40; k++) {
				const at = panorama.from + ((panorama.until - panorama.from) * k) / 40;
				await slideTo(page, at);
				cut.push(
					...((await page.evaluate(`[...document.querySelectorAll("#panorama :is(.place, .body) text")].flatMap((name) => {
					const parts = [...document.querySelectorAll("#panorama svg")].filter((svg) => svg.clientWidth > 0 && getComputedStyle(svg).visibility === "visible");
					const mark = name.parentNode.transform.baseVal[0].matrix;
					if (mark.e < 0) return [];
					const own = name.getBBox();
					const isWhole = parts.some((svg) => [0, ${panorama.frame.width}].some((by) => {
						const left = mark.e + own.x + by;
						const { x, width } = svg.viewBox.baseVal;
						return left >= x && left + own.width <= x + width;
					}));
					return isWhole ? [] : [name.textContent + " at ${k}"];
				})`)) as string[]),
				);
			}
			expect(cut).toEqual([]);
			await page.close();
		},
	);

	test("the slider moves stars, Milky Way, frames, figures, marks and names of the view and of the all-sky chart to where they are computed", async () => {
		const text = read("samples/roofless-chapel.lode.yaml");
		const { panorama } = viewOf(text);
		if (!panorama) throw new Error("no picture");
		const { frame, stars, milkyWay, figures, frames, places, bodies } = panorama;
		const page = await shown(text);
		await page.check("#figures");
		for (const at of [panorama.from + 3_600_000, panorama.from + 5 * 3_600_000]) {
			await slideTo(page, at);
			const edges = frames.flatMap(({ sky }) => (sky ? [sky] : []));
			const strip = (selector: string) => attributes(page, `#sky-behind ${selector}, #sky-before ${selector}`, "d");
			expect(await strip(".stars")).toEqual(stars.map((one) => starsAt(frame, one.places, at)));
			expect(await strip(".milky-way")).toEqual(milkyWay.map((one) => areaAt(frame, one, at)));
			expect(await strip(".figures")).toEqual([linesAt(frame, figures, at)]);
			expect(await strip(".frame")).toEqual(edges.map((one) => outlineAt(frame, one, at)));
			const chart = (selector: string) => attributes(page, `.all-sky ${selector}`, "d");
			expect(await chart(".stars")).toEqual(stars.map((one) => chartStarsAt(frame, one.places, at)));
			expect(await chart(".milky-way")).toEqual(milkyWay.map((one) => chartAreaAt(frame, one, at)));
			expect(await chart(".figures")).toEqual([chartLinesAt(frame, figures, at)]);
			expect(await chart(".frame")).toEqual(edges.map((one) => chartOutlineAt(frame, one, at)));
			const marks = chartMarksAt(panorama, "pole", at);
			for (const [selector, directions, labels] of [
				[".place", marks.places, marks.labels.slice(0, places.length)],
				[".body", marks.bodies, marks.labels.slice(places.length, places.length + bodies.length)],
			] as const) {
				expect(await attributes(page, `.all-sky ${selector}`, "transform")).toEqual(
					directions.map((one) => `translate(${one ? onChart(frame.centre, one).join(",") : "-999,-999"})`),
				);
				expect(await page.locator(`.all-sky ${selector} + .label`).allTextContents()).toEqual(
					labels.map((one) => one?.name ?? ""),
				);
			}
		}
		// Something rose and something set meanwhile.
		expect(chartMarksAt(panorama, "", panorama.from).bodies).not.toEqual(
			chartMarksAt(panorama, "", panorama.until).bodies,
		);
		await page.close();
	});

	test.each([
		"samples/roofless-chapel.lode.yaml",
		"samples/dusk-comet.lode.yaml",
		"samples/nebula-between-rocks.lode.yaml",
		"tests/evening/workshop.lode.yaml",
	])("of %s, view and chart say for who cannot see them what is so at the slider's minute", async (path) => {
		const text = read(path);
		const evaluation = evaluateText(text);
		const { panorama } = viewOf(text);
		const { night, targets } = evaluation;
		if (!panorama || !night) throw new Error("no picture");
		const page = await shown(text);
		let [ups, downs] = [0, 0];
		for (let share = 0; share <= 1; share += 0.05) {
			const at = Math.floor((panorama.from + share * (panorama.until - panorama.from)) / 60_000) * 60_000;
			await slideTo(page, at);
			const [label, view, chart] = (await page.evaluate(
				`["#panorama", "#panorama .whole > desc", ".all-sky desc"].map((one) => { const place = document.querySelector(one); return place.getAttribute("aria-label") ?? place.textContent; })`,
			)) as readonly [string, string, string];
			expect(label).toBe(view);
			expect(view).toContain(`at ${nightClock(night, at)}. The pole`);
			expect(chart).toContain(`at ${nightClock(night, at)}, the zenith`);
			for (const target of targets?.value ?? []) {
				if (!target) continue;
				const { azimuth, altitude } = target.directionAt(at);
				// Rounding at the horizon itself may go either way.
				if (Math.abs(altitude) < 0.05) continue;
				const name = target.name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
				for (const said of [view, chart]) {
					const found = new RegExp(` ${name}: altitude ([\\d.]+)°, bearing ([\\d.]+)°\\.`).exec(said);
					if (altitude < 0) {
						downs++;
						expect(said).toContain(` ${target.name}: below the horizon.`);
						continue;
					}
					ups++;
					expect(Math.abs(Number(found?.[1]) - altitude), `${said} ${altitude}`).toBeLessThan(0.11);
					const aside = Math.abs(halfTurn(Number(found?.[2]) - azimuth)) * Math.cos(altitude * RAD);
					expect(aside, `${said} ${azimuth}`).toBeLessThan(0.11);
				}
			}
		}
		expect(ups).toBeGreaterThan(10);
		if (path.includes("roofless")) expect(downs).toBeGreaterThan(0);
		await page.close();
	});

	// How long a frame takes is measured by `npm run bench`.
	test.each([1280, 700, 400])("with 2,000 stars every step of the slider draws a frame at %d px", async (width) => {
		const page = await shown(read("samples/roofless-chapel.lode.yaml"), width);
		const frames = await sliderFrames(page, 2000);
		expect(frames.length).toBeGreaterThan(10);
		expect(Math.min(...frames)).toBeGreaterThan(0.1);
		await page.close();
	});

	test("a redraw leaves the focus, the constellation lines and what was opened", async () => {
		const text = read("samples/roofless-chapel.lode.yaml");
		const page = await shown(text);
		await page.check("#figures");
		await page.locator("details summary").first().click();
		const focused = (): Promise<unknown> =>
			page.evaluate(
				"[document.activeElement.localName, document.activeElement.id || document.activeElement.textContent]",
			);
		for (const one of [page.locator("#dim"), page.locator("#time"), page.locator("#page h2 [data-go]").nth(1)]) {
			await one.focus();
			const had = await focused();
			const top = (): Promise<unknown> =>
				page.evaluate("Math.round(document.activeElement.getBoundingClientRect().top)");
			const before = await top();
			// Two lines more before it, another title, and a finding.
			await draw(page, `# one\n# two\n${text.replace("title: ", "title: The ").replace("f-number", "f-numbr")}`);
			expect(await focused()).toEqual(had);
			await draw(page, text);
			expect(await focused()).toEqual(had);
			expect(await top()).toBe(before);
		}
		expect(await page.isChecked("#figures")).toBe(true);
		expect((await attributes(page, "#panorama .figures", "d"))[0]).not.toBe("");
		expect(await page.locator("details").first().getAttribute("open")).toBe("");
		await page.close();
	});

	test("in a narrow pane too, where the view is in parts", async () => {
		const text = read("samples/gannet-cave.lode.yaml");
		const { panorama } = viewOf(text);
		if (!panorama) throw new Error("no picture");
		const page = await shown(text, 700);
		const { frame } = panorama;
		const part = page.locator("#panorama .strips-2 svg").first();
		await part.scrollIntoViewIfNeeded();
		const [box, left, wide] = [
			await part.boundingBox(),
			...((await page.evaluate(
				"(({ x, width }) => [x, width])(document.querySelector('#panorama .strips-2 svg').viewBox.baseVal)",
			)) as [number, number]),
		];
		if (!box) throw new Error("no part");
		for (const [azimuth, altitude, isSky] of [
			[215, 12, true],
			[180, 75, false],
		] as const) {
			const x = frame.width / 2 + (azimuth - frame.centre) * frame.scale - left;
			const y = frame.horizon - altitude * frame.scale;
			const scale = box.width / wide;
			const clip = { x: box.x + x * scale, y: box.y + y * scale, width: 1, height: 1 };
			const colour = await colourOf(await page.screenshot({ clip }));
			expect(JSON.stringify(colour) === "[107,101,87]", `${azimuth} ${altitude} ${colour}`).toBe(!isSky);
		}
		await page.close();
	});

	test("through an opening one sees the sky, beside it what hides it: in the view and in the all-sky chart", async () => {
		const text = read("samples/gannet-cave.lode.yaml");
		const { panorama } = viewOf(text);
		if (!panorama) throw new Error("no picture");
		const page = await shown(text);
		const { frame } = panorama;
		const ground = [0x6b, 0x65, 0x57];
		// Bearing and altitude in the mouth of the cave, and in its walls; no star, name or line is there.
		for (const [azimuth, altitude, isSky] of [
			[215, 12, true],
			[170, 56, true],
			[60, 20, false],
			[300, 30, false],
			[180, 75, false],
		] as const)
			for (const [selector, x, y, width] of [
				[
					"#panorama .whole",
					((azimuth - frame.centre + 540) % 360) * frame.scale + frame.width / 2 - 180 * frame.scale,
					frame.horizon - altitude * frame.scale,
					frame.width,
				],
				[".all-sky svg", ...onChart(frame.centre, { azimuth, altitude }), 300],
			] as const) {
				const picture = page.locator(selector);
				await picture.scrollIntoViewIfNeeded();
				const box = await picture.boundingBox();
				if (!box) throw new Error(selector);
				const scale = box.width / width;
				const shot = await page.screenshot({
					clip: { x: box.x + x * scale, y: box.y + y * scale, width: 1, height: 1 },
				});
				const colour = await colourOf(shot);
				expect(JSON.stringify(colour) === JSON.stringify(ground), `${selector} ${azimuth} ${altitude} ${colour}`).toBe(
					!isSky,
				);
			}
		await page.close();
	});

	/** Red, green and blue of a picture of one pixel. */
	async function colourOf(shot: Buffer): Promise<readonly number[]> {
		const reader = await browser.newPage();
		const colour = (await reader.evaluate(`(async () => {
			const image = new Image();
			image.src = "data:image/png;base64,${shot.toString("base64")}";
			await image.decode();
			const context = Object.assign(document.createElement("canvas"), { width: 1, height: 1 }).getContext("2d");
			context.drawImage(image, 0, 0);
			return [...context.getImageData(0, 0, 1, 1).data].slice(0, 3);
		})()`)) as readonly number[];
		await reader.close();
		return colour;
	}
});
