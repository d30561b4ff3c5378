/** The panel *Trace on a Photo* as a page of its own: fingers, narrow windows, dark and bright colours. */
import { mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, CDPSession, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { fitted, toScreen } from "../../client/page/tracing/viewport.ts";
import { traceAnswer } from "../../server/tracing/answer.ts";
import { tracePanel } from "../../server/tracing/panel.tsx";
import { solveTrace } from "../../server/tracing/solve.ts";
import { EDITOR_STYLE, STYLE } from "../../shared/outputs/page/style.ts";
import type { FromTracing, Trace, TracedPhoto } from "../../shared/protocol/tracing.ts";
import type { SkyPoint } from "../../shared/sky/outline.ts";
import { BROWSER, launch } from "../editor/browser.ts";
import { ARCH_PLAN, archPhoto, CAIRN, PHOTO, placeOf, TOWER } from "../photo/arch-photo.ts";
import { evaluateText } from "../plan-text.ts";

const dist = fileURLToPath(new URL("../../dist/", import.meta.url));
const SHOTS = fileURLToPath(new URL("../editor/shots/", import.meta.url));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

const photo: TracedPhoto = {
	name: "arch.png",
	width: PHOTO.width,
	height: PHOTO.height,
	time: "2027-06-05 21:30:00",
	projection: "rectilinear",
	focalLength: "24 mm",
	sensor: "36 x 24 mm",
};

/** A target whose way goes through the photo, and a guide star that is in it at its time. */
const plan = ARCH_PLAN.replace("aim: galactic-centre", "aim: Achernar").replace('at: "23:00"', 'at: "19:00"');

describe.skipIf(BROWSER === undefined)("the panel as a page", () => {
	const evaluation = evaluateText(plan);
	const { png } = archPhoto([]);
	let browser: Browser;
	beforeAll(async () => {
		mkdirSync(SHOTS, { recursive: true });
		browser = await launch();
	});
	afterAll(() => browser?.close());

	interface Opened {
		readonly page: Page;
		readonly problems: string[];
		readonly last: () => Trace | undefined;
		readonly touch: CDPSession;
		/** Where on the window a place of the whole photo is. */
		readonly at: (place: readonly [number, number]) => Promise<readonly [number, number]>;
	}

	/** The page with a photo in it, its server in this process. */
	async function open(width: number, height: number, ground: string): Promise<Opened> {
		const context = await browser.newContext({ viewport: { width, height }, hasTouch: true });
		const page = await context.newPage();
		const problems: string[] = [];
		page.on("pageerror", (error) => problems.push(error.message));
		page.on("request", (request) => {
			if (!/^(?:about|data|blob):/.test(request.url())) problems.push(request.url());
		});
		let last: Trace | undefined;
		await page.exposeFunction("tell", async (message: FromTracing) => {
			if (message.type !== "trace") return;
			last = message.trace;
			const answer = traceAnswer(message.trace, solveTrace(message.trace, evaluation), evaluation, message.at);
			await page.evaluate(
				`window.postMessage(${JSON.stringify({ type: "traced", stamp: message.stamp, answer })}, "*")`,
			);
		});
		const { html, style } = tracePanel(evaluation);
		await page.setContent(
			`<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Trace</title><style>${STYLE}${EDITOR_STYLE}${style}</style></head><body class="${ground}" style="--vscode-editor-background: ${ground === "vscode-dark" ? "#1e1e1e" : "#ffffff"}">${html}<script>window.acquireVsCodeApi = () => ({ postMessage: (message) => { window.tell(message); } });</script><script>${readFileSync(join(dist, "tracing.js"), "utf8")}</script></body></html>`,
		);
		await page.evaluate(
			`window.postMessage({ type: "photo", photo: ${JSON.stringify(photo)}, bytes: Uint8Array.from(atob("${Buffer.from(png).toString("base64")}"), (c) => c.charCodeAt(0)) }, "*")`,
		);
		await page.locator("#name", { hasText: "3000 × 2000" }).waitFor();
		const box = async () => {
			const found = await page.locator("#photo").boundingBox();
			if (!found) throw new Error("the photo is not shown");
			return found;
		};
		return {
			page,
			problems,
			last: () => last,
			touch: await context.newCDPSession(page),
			at: async (place) => {
				await page.locator("#stage").scrollIntoViewIfNeeded();
				const screen = await box();
				const [x, y] = toScreen(fitted(PHOTO, screen), place);
				return [screen.x + x, screen.y + y];
			},
		};
	}

	async function markBoth({ page, at }: Opened): Promise<void> {
		for (const [i, [name, direction]] of (
			[
				["cairn", CAIRN],
				["far tower", TOWER],
			] as const
		).entries()) {
			await page.touchscreen.tap(...(await at(placeOf(direction))));
			await page.locator("#marks input").nth(i).fill(name);
			await page.keyboard.press("Enter");
		}
		await page.locator("#camera", { hasText: "The camera looked at" }).waitFor();
	}

	test("a finger taps marks, draws a skyline and moves a point; two fingers zoom and trace nothing", async () => {
		const opened = await open(900, 1000, "vscode-light");
		const { page, at, last, touch, problems } = opened;
		await markBoth(opened);
		const send = (type: "touchStart" | "touchMove" | "touchEnd", ...points: (readonly [number, number])[]) =>
			touch.send("Input.dispatchTouchEvent", { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) });
		await page.locator('input[name="tool"][value="skyline"] + span').click();
		const along = await Promise.all(
			(
				[
					[179, 5.5],
					[181, 6.5],
					[184, 5.4],
					[187, 4.5],
				] as const
			).map((one: SkyPoint) => at(placeOf(one))),
		);
		await send("touchStart", along[0] as readonly [number, number]);
		for (const place of along.slice(1)) await send("touchMove", place);
		await send("touchEnd");
		await page.locator("#lines .result", { hasText: "points, bearing 179" }).waitFor();
		const drawn = last()?.lines[0]?.points ?? [];
		expect(drawn.length).toBeGreaterThan(2);
		// The second point, dragged up.
		const [x, y] = along[1] as readonly [number, number];
		await send("touchStart", [x, y]);
		await send("touchMove", [x, y - 20]);
		await page.screenshot({ path: join(SHOTS, "tracing-finger.png") });
		await send("touchMove", [x, y - 40]);
		await send("touchEnd");
		await expect
			.poll(() => Math.min(...(last()?.lines[0]?.points ?? []).map((point) => point[1])))
			.toBeLessThan(Math.min(...drawn.map((point) => point[1])) - 50);
		const before = JSON.stringify(last()?.lines);
		const middle = await at([1500, 1000]);
		await send("touchStart", [middle[0] - 40, middle[1]]);
		await send("touchStart", [middle[0] - 40, middle[1]], [middle[0] + 40, middle[1]]);
		await send("touchMove", [middle[0] - 120, middle[1]], [middle[0] + 120, middle[1]]);
		await send("touchEnd");
		await page.screenshot({ path: join(SHOTS, "tracing-pinched.png") });
		await page.locator("#undo").click();
		await expect.poll(() => JSON.stringify(last()?.lines)).not.toBe(before);
		expect(last()?.lines[0]?.points).toEqual(drawn);
		expect(problems).toEqual([]);
		await page.context().close();
	});

	test.each([
		["desk", 1280, 900, "vscode-dark"],
		["narrow", 420, 800, "vscode-light"],
		["contrast", 900, 800, "vscode-high-contrast"],
	] as const)(
		"%s: nothing wider than the window, nothing that a reader of screens stumbles over",
		async (name, width, height, ground) => {
			const opened = await open(width, height, ground);
			const { page, problems } = opened;
			await markBoth(opened);
			expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
			await page.evaluate(axe);
			const found = (await page.evaluate(
				"axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + nodes[0].html))",
			)) as string[];
			expect(found).toEqual([]);
			await page.screenshot({ path: join(SHOTS, `tracing-${name}.png`), fullPage: true });
			expect(problems).toEqual([]);
			await page.context().close();
		},
	);
});
