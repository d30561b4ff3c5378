/** The card: what is live on it as a pure function, and the file in a real browser with the clock set. */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { card } from "../../shared/outputs/card/card.tsx";
import { driftView } from "../../shared/outputs/card/drift-part.tsx";
import { isDusk, type LiveMinutes, minuteMoment, momentOf, rowAt } from "../../shared/outputs/card/live.ts";
import { eveningRows } from "../../shared/outputs/evening.ts";
import { shotList } from "../../shared/outputs/shot-list.ts";
import { siteClockText } from "../../shared/outputs/site-clock.ts";
import { toldSteps } from "../../shared/outputs/steps.ts";
import { BROWSER, launch } from "../editor/browser.ts";
import { PLAIN } from "../plain-environment.ts";
import { evaluateText } from "../plan-text.ts";

const root = new URL("../../", import.meta.url);
const SHOTS = fileURLToPath(new URL("tests/editor/shots/", root));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const textOf = (sample: string): string => readFileSync(new URL(`samples/${sample}`, root), "utf8");
const SAMPLES = readdirSync(new URL("samples", root)).filter((name) => name.endsWith(".lode.yaml"));
const MINUTE = 60_000;

function cardOf(text: string, pageScript = ""): string {
	const evaluation = evaluateText(text);
	const plan = { path: "a.lode.yaml", text, evaluation, findings: check(evaluation) };
	const environment = { ...PLAIN, pageScript, explanation: (code: string) => `explained:${code}` };
	const made = card.of.plan?.make(plan, environment, "");
	if (typeof made !== "string") throw new Error("no card");
	return made;
}

describe("what is live", () => {
	const steps = [
		{ at: 10 * MINUTE, until: 20 * MINUTE },
		{ at: 20 * MINUTE, until: 30 * MINUTE },
		{ at: 25 * MINUTE, until: 28 * MINUTE },
		{ at: 40 * MINUTE, until: 50 * MINUTE },
	];

	test.each([
		["the day before nothing is counted", -24 * 60, undefined, 0, undefined],
		["before the first", 4.5, undefined, 0, 6],
		["a step begins on its minute", 10, 0, 1, 10],
		["and ends on its last", 20, 1, 2, 5],
		["of two at once the one begun last", 26, 2, 3, 14],
		["the longer goes on after the shorter", 29, 1, 3, 11],
		["between two", 35, undefined, 3, 5],
		["in the last", 45, 3, undefined, undefined],
		["after all", 50, undefined, undefined, undefined],
	])("%s", (_, minute, now, next, minutes) => {
		expect(momentOf(steps, minute * MINUTE)).toEqual({ now, next, minutes });
	});

	test("a wait is on, and never next", () => {
		const waiting = [{ at: 0, until: MINUTE, waits: true }, { at: MINUTE, until: 2 * MINUTE, waits: true }, ...steps];
		expect(momentOf(waiting, 0)).toEqual({ now: 0, next: 2, minutes: 10 });
	});

	test("nothing of no steps", () => {
		expect(momentOf([], 0)).toEqual({ now: undefined, next: undefined, minutes: undefined });
	});

	test("the row of a table is the one last begun; none before it and after its last minute", () => {
		const times = [0, 1, 2].map((minute) => minute * MINUTE);
		expect([-1, 0, 59_999, MINUTE, 3 * MINUTE - 1, 3 * MINUTE].map((at) => rowAt(times, at))).toEqual([
			undefined,
			0,
			0,
			1,
			2,
			undefined,
		]);
		expect(rowAt([], 0)).toBe(undefined);
	});

	test("numbers of this minute and the next; before the table the planned one; late once that is over; none of it with the frames", () => {
		const minutes: LiveMinutes = {
			planned: 11 * MINUTE,
			until: 20 * MINUTE,
			rows: [10, 11, 12, 13, 18, 23].map((minute) => [minute * MINUTE, `10:${minute}`, "1°"] as const),
		};
		const moment = (minute: number, of = minutes) => minuteMoment(of, minute * MINUTE);
		expect(moment(2)).toEqual({ rows: [1], late: 0 });
		expect(moment(10.5)).toEqual({ rows: [0, 1], late: 0 });
		expect(moment(11.9)).toEqual({ rows: [1, 2], late: 0 });
		expect(moment(12)).toEqual({ rows: [2, 3], late: 1 });
		expect(moment(17.9)).toEqual({ rows: [3, 4], late: 6 });
		expect(moment(20)).toEqual({ rows: [], late: 0 });
		expect(moment(30, { ...minutes, until: 60 * MINUTE })).toEqual({ rows: [], late: 0 });
		// Where the plan says no time nobody is late, and nothing is planned before the table begins.
		const { until, rows } = minutes;
		expect(moment(13, { until, rows })).toEqual({ rows: [3, 4], late: 0 });
		expect(moment(2, { until, rows })).toEqual({ rows: [], late: 0 });
		expect(minuteMoment({ until, rows: [] }, 0)).toEqual({ rows: [], late: 0 });
	});

	test("the site's clock, through a change of its offset too", () => {
		const offsets = [
			[0, 120 * MINUTE],
			[1000 * MINUTE, 60 * MINUTE],
		] as const;
		const clock = { offsets, midnight: 1440 * MINUTE, later: "{time} (+{days})" };
		expect(siteClockText(clock, 999 * MINUTE)).toBe("18:39");
		expect(siteClockText(clock, 1000 * MINUTE)).toBe("17:40");
		expect(siteClockText(clock, 1379 * MINUTE)).toBe("23:59");
		expect(siteClockText(clock, 1380 * MINUTE)).toBe("00:00 (+1)");
		expect(siteClockText(clock, 2819 * MINUTE)).toBe("23:59 (+1)");
		expect(siteClockText(clock, 2820 * MINUTE)).toBe("00:00 (+2)");
	});

	test("dim from dusk to dawn; never where the night has none", () => {
		expect([9, 10, 19, 20].map((at) => isDusk(10, 20, at))).toEqual([false, true, true, false]);
		expect(isDusk(Number(undefined), Number(undefined), 10)).toBe(false);
	});
});

describe.each(SAMPLES)("the card of %s", (sample) => {
	const html = cardOf(textOf(sample));
	const plain = html
		.replace(/<style>[\s\S]*?<\/style>/, "")
		.replace(/<[^>]*>/g, "\n")
		.replace(/&amp;/g, "&")
		.replace(/&lt;/g, "<")
		.replace(/&quot;/g, '"');

	test("is complete without a script: it has the numbers of the evaluation", () => {
		const evaluation = evaluateText(textOf(sample));
		const numbers = [
			...eveningRows(evaluation).flatMap(({ times, say, about }) => [times, say, about]),
			...shotList(evaluation).flatMap(({ pointing, frames, begins, camera }) => [pointing, frames, begins, camera]),
			...evaluation.methods.flatMap(({ value }) =>
				value?.works ? toldSteps(value).flatMap(({ say, number }) => [say, number]) : [],
			),
		];
		// The plan of mistakes has nothing that can be computed.
		expect(numbers.length > 0).toBe(sample !== "mistakes.lode.yaml");
		expect(numbers.filter((text) => !plain.includes(text))).toEqual([]);
	});

	test("is one small file", () => {
		expect(Buffer.byteLength(cardOf(textOf(sample), readFileSync(new URL("dist/page.js", root), "utf8")))).toBeLessThan(
			150_000,
		);
		expect(html).not.toMatch(/\b(?:src|href)=(?!"#)/);
		expect(html).toContain("default-src 'none'");
	});

	test("tells what can hurt before the steps it belongs to", () => {
		const [safety, steps] = [html.indexOf('id="care-heading"'), html.indexOf('<ol class="steps"')];
		expect(safety).toBeGreaterThan(0);
		if (steps >= 0) expect(safety).toBeLessThan(steps);
	});
});

describe("the drift table", () => {
	// In 240 s an axis 1° off moves a star by 15.041″ × 240 × π / 180 = 63.0″ across its path.
	test.each([
		// 51.6″ a pixel: 0.82°; the pan by 1 / cos 32.4° more; away from the meridian by 1 / sin 60° more.
		["roofless-chapel.lode.yaml", ["1 px", "1.0°", "0.9°"], /It moved up: bring the pole end of the axis to the left/],
		// 3.9 µm at 35 mm, 23.0″: 0.365°; 1 / cos 24.3°; 1 / sin 60°.
		["dry-gorge.lode.yaml", ["1 px", "0.4°", "0.4°"], /It moved right: lower the pole end/],
		// In the north the other way round, and the knobs of a wedge.
		["larch-clearing.lode.yaml", ["10 px", "3.8°", "3.0°"], /It moved up: bring the pole end of the axis to the right/],
	] as const)("%s: how far and which way", (sample, row, rule) => {
		const view = driftView(evaluateText(textOf(sample)));
		expect(view?.rows).toContainEqual(row);
		expect(view?.fields.map((field) => field.rule).join(" ")).toMatch(rule);
	});

	test("under a roof it says what cannot be read; without a tracked target there is none", () => {
		const cave = driftView(evaluateText(textOf("gannet-cave.lode.yaml")));
		expect(cave?.head).toEqual(["moved by", "the azimuth knob"]);
		expect(cave?.after).toMatch(/^No star far from the meridian is in view/);
		expect(driftView(evaluateText(textOf("midsummer-skerry.lode.yaml")))).toBe(undefined);
	});
});

describe.skipIf(BROWSER === undefined)("the card in a real browser", () => {
	let browser: Browser;
	const folder = mkdtempSync(join(tmpdir(), "lodebook-card-"));
	const problems: string[] = [];

	beforeAll(async () => {
		mkdirSync(SHOTS, { recursive: true });
		browser = await launch();
	});
	afterAll(() => browser?.close());

	async function open(sample: string, at: string, options: BrowserContextOptions = {}): Promise<Page> {
		const file = join(folder, `${sample}.html`);
		writeFileSync(file, cardOf(textOf(sample), readFileSync(new URL("dist/page.js", root), "utf8")));
		const context = await browser.newContext({
			viewport: { width: 390, height: 844 },
			timezoneId: "Asia/Tokyo",
			...options,
		});
		const page = await context.newPage();
		await page.clock.setFixedTime(new Date(at));
		page.on("console", (message) => problems.push(`${message.type()}: ${message.text()}`));
		page.on("pageerror", (error) => problems.push(error.message));
		page.on("request", (request) => {
			if (!request.url().startsWith("file:")) problems.push(`asked for ${request.url()}`);
		});
		await page.goto(`file://${file}`);
		return page;
	}

	/** What the first screen shows, without scrolling, of the parts by their ids; empty where a part is not shown. */
	async function firstScreen(page: Page, ids: readonly string[]): Promise<readonly string[]> {
		const shown: string[] = [];
		for (const id of ids) {
			const part = page.locator(id).first();
			const box = await part.boundingBox();
			if (box) expect([id, box.y + box.height < 844]).toEqual([id, true]);
			shown.push(box ? ((await part.innerText()) ?? "").replace(/\s+/g, " ").trim() : "");
		}
		return shown;
	}

	const LIVE = ["#live-clock", "#live-now", "#live-next", "#live-wait", "#late", "#minute tbody tr"];
	const BEAM = "Beam or sight from the star, to the side";

	test.each([
		[
			"day-before",
			"2027-06-04T15:00:00-03:00",
			["15:00", "", "Next, 17:00: Set up", "", "", `${BEAM} 0.31° left`],
			false,
		],
		[
			"before-dusk",
			"2027-06-05T17:16:00-03:00",
			[
				"17:16",
				"Now, until 17:20: Focus",
				"Next, 18:07: Test frame: gable by last light",
				"in 51 min",
				"",
				`${BEAM} 0.31° left`,
			],
			false,
		],
		[
			"aligning",
			"2027-06-05T20:00:00-03:00",
			[
				"20:00",
				"Now, until 20:06: Align: right-angle laser",
				"Next, 20:23: Aim at core over the gable",
				"in 23 min",
				"",
				`${BEAM} 0.56° left 0.31° left`,
			],
			true,
		],
		[
			"late",
			"2027-06-05T20:04:00-03:00",
			[
				"20:04",
				"Now, until 20:06: Align: right-angle laser",
				"Next, 20:23: Aim at core over the gable",
				"in 19 min",
				"Late by 3 min: use the numbers for 20:04, shown here.",
				`${BEAM} 0.46° right`,
			],
			true,
		],
		[
			"after-midnight",
			"2027-06-06T00:05:00-03:00",
			[
				"00:05 (+1)",
				"Now, until 01:50 (+1): Wait, or pack up: nothing is left to do",
				"Next, 01:50 (+1): Pack up",
				"in 1 h 45 min",
				"",
				"",
			],
			true,
		],
	] as const)(
		"says what to do, when, and what to set without scrolling: %s",
		async (name, at, [clock, ...said], dim) => {
			const page = await open("roofless-chapel.lode.yaml", at);
			await page.screenshot({ path: join(SHOTS, `card-${name}.png`) });
			expect(await page.locator("#star").innerText()).toMatch(
				/^Find eta Virginis: at 20:01 \d{3}°M \(\d{3}\.\d°T\), altitude 5\d\.\d°\. From \S+ go .+\.$/,
			);
			expect(await firstScreen(page, LIVE)).toEqual([`${clock} at the site`, ...said]);
			expect(await firstScreen(page, [".hand dl"])).toEqual([
				"Tilt 32.4° Axis, by compass 195°M Axis, true 180.0°T At 20:01",
			]);
			expect(await page.evaluate("document.documentElement.dataset.mode === 'dim'")).toBe(dim);
			expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(390);
			// The switch is the reader's, against the clock too.
			await page.click("#dim");
			expect(await page.evaluate("document.documentElement.dataset.mode === 'dim'")).toBe(!dim);
			expect((await page.locator("#dim").boundingBox())?.height).toBeGreaterThanOrEqual(44);
			await page.context().close();
			expect(problems.splice(0)).toEqual([]);
		},
		30_000,
	);

	test("every sample at five clocks: what is next, safety and what hands set are on the first screen", async () => {
		for (const sample of SAMPLES) {
			const rows = eveningRows(evaluateText(textOf(sample)));
			const [first, last] = [rows[0], rows.at(-1)];
			if (!first || !last) continue;
			const aligning = rows.find(({ kind }) => kind === "align");
			const align = aligning?.at ?? first.at;
			const sky = rows.find(({ kind }) => kind === "sky")?.at ?? first.at;
			for (const at of [first.at - 24 * 60 * MINUTE, first.at + MINUTE, align + 6 * MINUTE, sky, last.at]) {
				const page = await open(sample, new Date(at).toISOString());
				const [clock, now, next, , safety, hand] = await firstScreen(page, [
					...LIVE.slice(0, 4),
					".first a",
					// Without a tracker to align there is nothing to set.
					...(aligning ? [".hand dl"] : []),
				]);
				expect(clock).toMatch(/^\d\d:\d\d(?: \(\+1\))? at the site$/);
				expect(`${now}${next}`).not.toBe("");
				expect(safety).toMatch(/^Safety first: /);
				if (aligning) expect(hand).toMatch(/^Tilt .+ Axis, by compass .+°M Axis, true (?:000|180)\.0°T/);
				expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(390);
				await page.context().close();
			}
		}
		expect(problems.splice(0)).toEqual([]);
	});

	test("the panel whose turn it is stands on the first screen and is marked in its table; the next while one turns to it", async () => {
		const sample = "slate-quarry-arch.lode.yaml";
		const evaluation = evaluateText(textOf(sample));
		const panels = evaluation.targets?.value?.flatMap((target) => target?.panorama?.panels ?? []) ?? [];
		expect(panels.length).toBeGreaterThan(5);
		const [before, first, fourth, fifth, last] = [panels[0], panels[0], panels[3], panels[4], panels.at(-1)];
		if (!before || !first || !fourth || !fifth || !last) throw new Error("no panels");
		const place = ({ row, column }: { row: number; column: number }) => `row ${row}, column ${column}`;
		for (const [at, due] of [
			[before.at - MINUTE, undefined],
			[first.at + 1000, first],
			[fourth.until - 1000, fourth],
			// Between the two one turns the head.
			[fourth.until + 1000, fifth],
			[last.until - 1000, last],
		] as const) {
			const page = await open(sample, new Date(at).toISOString());
			const said = await page.locator("#live-panel").innerText();
			const marked = await page.locator(".panels tr[aria-current]").allInnerTexts();
			if (due === undefined) expect([said, marked]).toEqual(["", []]);
			else {
				expect(said).toContain(`Panel ${panels.indexOf(due) + 1} of ${panels.length}, ${place(due)}: `);
				expect(said).toMatch(
					/\d{3}°M \(\d{3}\.\d°T\), altitude \d+\.\d°; camera (?:level|\d+\.\d° (?:anti)?clockwise)$/,
				);
				expect((await page.locator("#live-panel").boundingBox())?.y).toBeLessThan(600);
				expect(marked).toHaveLength(1);
				expect(marked[0]).toContain(place(due));
			}
			await page.context().close();
		}
		// The foreground's panels have their turn too.
		const ground = eveningRows(evaluation).find(({ kind }) => kind === "foreground");
		if (!ground) throw new Error("no foreground");
		const page = await open(sample, new Date(ground.until - 1000).toISOString());
		expect(await page.locator("#live-panel").innerText()).toMatch(/^Panel (\d+) of \1 of the foreground, /);
		await page.context().close();
		expect(problems.splice(0)).toEqual([]);
	});

	test("practice runs any minute of the evening, says so, and ends", async () => {
		const page = await open("roofless-chapel.lode.yaml", "2027-01-10T15:00:00-03:00");
		expect(await page.locator("#practising").isVisible()).toBe(false);
		await page.click("#practice summary");
		const slider = page.locator("#practice-time");
		await slider.evaluate((input, at) => {
			(input as HTMLInputElement).value = String(at);
			input.dispatchEvent(new Event("input", { bubbles: true }));
		}, Date.parse("2027-06-05T20:03:00-03:00"));
		await page.click("[data-practice='60000']");
		expect(await page.locator("#live-clock").textContent()).toBe("20:04 at the site");
		expect(await page.locator("#practice-clock").textContent()).toBe("20:04");
		expect(await page.locator("#late").textContent()).toBe("Late by 3 min: use the numbers for 20:04, shown here.");
		expect(await page.locator("#practising").innerText()).toContain("Practice: this is not the time now.");
		// It runs on.
		await page.clock.setFixedTime(new Date("2027-01-10T15:01:00-03:00"));
		await page.click("[data-practice='-60000']");
		expect(await page.locator("#live-clock").textContent()).toBe("20:04 at the site");
		await page.click("#practice-stop");
		expect(await page.locator("#practising").isVisible()).toBe(false);
		expect(await page.locator("#live-clock").textContent()).toBe("15:01 at the site");
		await page.context().close();
		expect(problems.splice(0)).toEqual([]);
	});

	test("printed: one side of A5, two of A6, in black; the rest only when it is asked for", async () => {
		const sidesOf = (pdf: Uint8Array): number =>
			Buffer.from(pdf)
				.toString("latin1")
				.match(/\/Type \/Page\b/g)?.length ?? 0;
		for (const sample of SAMPLES) {
			const page = await open(sample, "2027-06-05T21:00:00-03:00");
			await page.click("#dim");
			const pdf = await page.pdf({ path: join(SHOTS, `card-${sample}.pdf`), format: "A5" });
			expect([sample, sidesOf(pdf)]).toEqual([sample, 1]);
			expect(sidesOf(await page.pdf({ format: "A6" }))).toBeLessThanOrEqual(2);
			await page.emulateMedia({ media: "print" });
			// A side that has room has larger text: it is two thirds full, but for one with hardly anything to say.
			await page.setViewportSize({ width: Math.round((136 / 25.4) * 96), height: 750 });
			const tall = Number(await page.evaluate("document.querySelector('.paper').getBoundingClientRect().height"));
			if (sample !== "mistakes.lode.yaml") expect(tall / ((198 / 25.4) * 96), sample).toBeGreaterThan(0.66);
			const colours = `[...new Set([...document.querySelectorAll(".paper, .paper *")].map((one) => getComputedStyle(one).color))]`;
			expect(await page.evaluate(colours)).toEqual(["rgb(0, 0, 0)"]);
			await page.emulateMedia({ media: "screen" });
			await page.check("#print-rest");
			if (sample !== "mistakes.lode.yaml") expect(sidesOf(await page.pdf({ format: "A5" }))).toBeGreaterThan(2);
			await page.context().close();
		}
		expect(problems.splice(0)).toEqual([]);
	});

	test("every sample: axe-core finds nothing, by day and dim", async () => {
		for (const sample of SAMPLES)
			for (const dim of [false, true]) {
				const page = await open(sample, "2020-01-01T12:00:00Z");
				if (dim) await page.click("#dim");
				await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
				await page.evaluate(axe);
				const { violations } = (await page.evaluate("axe.run()")) as {
					violations: { id: string; nodes: { html: string }[] }[];
				};
				expect(violations.map(({ id, nodes }) => `${sample} ${dim} ${id}: ${nodes[0]?.html}`)).toEqual([]);
				await page.context().close();
			}
		expect(problems.splice(0)).toEqual([]);
	});
});
