/** Numbers by the minute on every face: each row, with what was computed for its minute. */

import { describe, expect, test, vi } from "vitest";
import { minuteTable } from "../../shared/cells/minute-table.ts";
import { clockOf } from "../../shared/earth/zone.ts";
import { alignmentsLost } from "../../shared/evaluate/evening/lost.ts";
import { check } from "../../shared/findings/check.ts";
import { methodOf } from "../../shared/methods/methods.ts";
import { planRecord } from "../../shared/outputs/json/plan.ts";
import { summaryMarkdown } from "../../shared/outputs/markdown/summary.ts";
import { type MinutesView, minutesOf } from "../../shared/outputs/minutes.ts";
import { cellPart } from "../../shared/outputs/notebook/cell-part.tsx";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { planText } from "../../shared/outputs/text/plan.ts";
import { PLAIN } from "../plain-environment.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const TEXT = planWith({
	site: "name: A\nlatitude: 35\nlongitude: 20\nelevation: 100 m\ntimezone: UTC",
	night: 'date: 2027-03-08\narrive: "17:00"\nleave: "05:00"',
	method: [
		"kind: square-laser\nguide-star: eta Virginis\nlocal-rules-checked: true",
		"kind: sky-bearing\nbody: Sirius",
		"kind: pole-sighting",
		"kind: compass",
	],
	targets:
		'- { name: core, aim: galactic-centre, from: "03:30", exposure: 60 s }\n- { name: ridge, aim: { azimuth: 95, altitude: 12 }, at: "18:10", exposure: 2 s }',
});

const evaluation = evaluateText(TEXT);
const findings = check(evaluation);
const plan = { path: "a.lode.yaml", text: TEXT, evaluation, findings };
const plain = { ...PLAIN, version: "1", explanation: (code: string) => `explained:${code}` };
const tables: readonly MinutesView[] = evaluation.plan.cells.flatMap((cell) => minutesOf(evaluation, cell));

/** Without markup and the escapes of Markdown. */
const bare = (text: string): string =>
	text
		.replace(/<[^>]*>/g, " ")
		.replace(/\\(.)/g, "$1")
		.replace(/[|*]/g, " ")
		.replace(/\s+/g, " ");

describe("numbers by the minute", () => {
	test("are of the methods whose numbers change, and of targets in the sky", () => {
		expect(tables.map(({ title }) => title)).toEqual([
			"Minute by minute",
			"Every five minutes",
			"Every five minutes",
			"core, every five minutes",
		]);
		for (const { head, rows } of tables) {
			expect(rows.filter(({ planned }) => planned).length).toBe(1);
			for (const { columns } of rows) expect(columns.length).toBe(head.length);
		}
	});

	const view = pageView(evaluation, findings);
	const faces: Readonly<Record<string, string>> = {
		page: pageBody(view),
		markdown: summaryMarkdown(evaluation, findings),
		text: planText(plan, plain),
		...Object.fromEntries(
			(["html", "markdown", "text"] as const).map((form) => [
				`notebook as ${form}`,
				cellPart(
					view,
					evaluation.plan.cells.map((_, i) => i),
				)[form],
			]),
		),
	};

	test.each(Object.keys(faces))("stand in the %s, every row once", (face) => {
		const text = bare(faces[face] ?? "");
		for (const { title, rows } of tables) {
			expect(text).toContain(title);
			for (const { columns } of rows) expect(text.split(columns.join(" ")).length, columns.join(" ")).toBe(2);
		}
	});

	test("stand in the JSON answer by their ids, with the time of each step", () => {
		const { methods, targets, cells } = planRecord(plan);
		const [laser, bearing, pole, compass] = methods;
		expect(laser?.minutes.map(({ at }) => at.slice(11, 16))).toEqual(
			tables[0]?.rows.map(({ columns }) => columns[0]?.slice(0, 5)),
		);
		expect(Object.keys(laser?.minutes[0] ?? {})).toEqual(["at", "method.beam-right", "method.beam-up"]);
		expect(Object.keys(bearing?.minutes[0] ?? {})).toContain("method.pan-offset");
		expect(Object.keys(pole?.minutes[0] ?? {})).toContain("method.pole-star-clock");
		expect(compass?.minutes).toEqual([]);
		expect(targets.map(({ name }) => name)).toEqual(["core"]);
		const figures = cells.find(({ kind }) => kind === "method")?.figures ?? [];
		const figure = (id: string) => figures.find((one) => one.id === id)?.value;
		const time = figure("method.time");
		expect(time).toMatch(/^2027-03-\d\dT\d\d:\d\d:00\+00:00$/);
		const planned: Readonly<Record<string, unknown>> = laser?.minutes.find(({ at }) => at === time) ?? {};
		for (const side of ["right", "up"]) {
			expect(figure(`method.beam-${side}`)).toBe(planned[`method.beam-${side}`]);
			expect(Number(figure(`method.beam-${side}`)) + Number(figure(`method.star-miss-${side}`))).toBeCloseTo(0, 12);
		}
		expect(laser?.steps.filter(({ at }) => at !== null).map(({ at }) => at)).toEqual([time]);
	});

	test("are made only when an output asks", () => {
		const laser = methodOf("square-laser");
		const asked = vi.spyOn(laser as { byMinute: NonNullable<typeof laser.byMinute> }, "byMinute");
		const fresh = evaluateText(TEXT);
		check(fresh);
		for (const cell of fresh.plan.cells) fresh.valuesOf(cell);
		expect(asked).not.toHaveBeenCalled();
		pageView(fresh, []);
		// For its table alone: at each time at which it can be done again it has numbers of its own.
		expect(alignmentsLost(fresh).some(({ ways }) => ways.some(({ value }) => value.method === laser))).toBe(true);
		expect(asked).toHaveBeenCalledTimes(1);
		asked.mockRestore();
	});
});

describe("which minutes", () => {
	const base = Date.UTC(2027, 2, 8, 20, 0);
	const at = (minutes: number): number => base + minutes * 60_000;
	const clocks = (windows: readonly (readonly [number, number])[], planned: number, zone = "UTC"): readonly string[] =>
		minuteTable(
			windows.map(([from, until]) => ({ from: at(from), until: at(until) })),
			at(planned),
			zone,
			() => [],
		).map((row) => clockOf(zone, row.at));

	test("every one of a short window", () => {
		expect(clocks([[1, 5]], 3)).toEqual(["20:01", "20:02", "20:03", "20:04", "20:05"]);
		expect(
			clocks(
				[
					[-200, -100],
					[0, 30],
				],
				0,
			).length,
		).toBe(31);
	});

	test("every fifth of a long one, up to an hour from the planned minute, which is always there", () => {
		const long = clocks([[-300, 300]], 7);
		expect(long.slice(0, 3)).toEqual(["19:10", "19:15", "19:20"]);
		expect(long).toContain("20:07");
		expect(long.at(-1)).toBe("21:05");
		expect(clocks([[0, 31]], 0)).toEqual(["20:00", "20:05", "20:10", "20:15", "20:20", "20:25", "20:30"]);
		// Nepal's clock is three quarters of an hour off, and its fives are its own.
		expect(clocks([[0, 31]], 0, "Asia/Kathmandu")[1]).toBe("01:50");
	});

	test("those beside a minute at which it does not work", () => {
		expect(clocks([[100, 120]], 0).length).toBe(21);
	});
});
