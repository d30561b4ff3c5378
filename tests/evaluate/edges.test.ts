/**
 * Where the Earth, the calendar and the clock have edges: poles, equator, date line, polar day and night, zones with odd
 * offsets, changes of the clock, the ends of the tables. Whatever is asked there: an answer or a word, never a number
 * that is none.
 */
import { describe, expect, test } from "vitest";
import { METHOD_KINDS } from "../../shared/cells/method/keys.ts";
import { momentsOf } from "../../shared/evaluate/moments.ts";
import { check } from "../../shared/findings/check.ts";
import { geodata } from "../../shared/outputs/geojson/geojson.ts";
import { summaryMarkdown } from "../../shared/outputs/markdown/summary.ts";
import { cellPart } from "../../shared/outputs/notebook/cell-part.tsx";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { evaluateText, valuesOf } from "../plan-text.ts";

interface Edge {
	readonly latitude: string;
	readonly longitude: string;
	readonly date: string;
	readonly zone?: string;
	readonly arrive?: string;
	readonly leave?: string;
}

const METHOD_LINES: Readonly<Record<string, string>> = {
	"square-laser": "guide-star: eta Virginis",
	"sky-bearing": "body: Moon",
	"landmark-bearing": "landmark: mast",
	"star-sweep": "stars: [Spica, Rigel]",
};

/** A plan with every kind of cell, and every way to align. */
function planAt({ latitude, longitude, date, zone, arrive, leave }: Edge): string {
	const methods = Object.keys(METHOD_KINDS).map(
		(kind) => `---\nmethod:\n  kind: ${kind}\n${METHOD_LINES[kind] === undefined ? "" : `  ${METHOD_LINES[kind]}\n`}`,
	);
	return `plan:
  title: At the edge
---
site:
  name: Edge
  latitude: ${latitude}
  longitude: ${longitude}
  elevation: 100 m
${zone === undefined ? "" : `  timezone: ${zone}\n`}  skyline: [[0, 5], [180, 20]]
  landmarks:
    - { name: mast, bearing: 90° }
---
night:
  date: ${date}
${arrive === undefined ? "" : `  arrive: "${arrive}"\n`}${leave === undefined ? "" : `  leave: "${leave}"\n`}---
lens:
  focal-length: 24 mm
  f-number: 2
  sensor: 36 x 24 mm
  pixels: 6000 x 4000
---
tracker:
  head: geared
  tilt-scale: ± 1°
  pan-scale: ± 1°
${methods.join("")}---
targets:
  - { name: core, aim: galactic-centre, exposure: 60 s, frames: 20, foreground: true }
  - { name: moon, aim: Moon, exposure: 1 s, tracked: false }
---
log:
  - { at: ${date}T22:00:00, frame: 24 mm, star: Spica, drift: { across: 4 px, over: 5 min } }
`;
}

/** Everything a plan can be shown as, gone over for numbers that are none. */
function soundness(text: string): readonly string[] {
	const wrong: string[] = [];
	const evaluation = evaluateText(text);
	const findings = check(evaluation);
	for (const { message, code } of findings)
		if (/NaN|undefined|Infinity|null/.test(message)) wrong.push(`${code}: ${message}`);
	for (const [id, value] of valuesOf(text))
		if (typeof value === "number" && !Number.isFinite(value)) wrong.push(`${id} is ${value}`);
	for (const { what, interval } of evaluation.windows)
		if (!(interval.until >= interval.from)) wrong.push(`${what}: ${interval.from} to ${interval.until}`);
	for (const { at, what } of momentsOf(evaluation)) if (!Number.isFinite(at)) wrong.push(`${what} at ${at}`);
	const view = pageView(evaluation, findings);
	const parts = evaluation.plan.cells.flatMap((_, i) => Object.values(cellPart(view, [i])));
	for (const shown of [
		pageBody(view),
		summaryMarkdown(evaluation, findings),
		JSON.stringify(geodata(evaluation) ?? {}),
		...parts,
	]) {
		const found = /.{0,40}(?:NaN|undefined|Infinity).{0,40}/.exec(shown);
		if (found) wrong.push(found[0]);
	}
	return wrong;
}

const LATITUDES = ["90 N", "89.9 N", "66.6 N", "45 N", "0.0 N", "0.5 S", "66.6 S", "90 S"];
const LONGITUDES = ["180 E", "179.99 W", "0 E", "20.8431 E"];
const DATES = ["2027-06-21", "2027-12-21", "2028-02-29", "2027-03-20"];

describe("the edges of the Earth", () => {
	test.each(LATITUDES)("%s, all round, through the year", (latitude) => {
		for (const longitude of LONGITUDES)
			for (const date of DATES) expect(soundness(planAt({ latitude, longitude, date }))).toEqual([]);
	});

	test("at a pole every horizon is the same, and the Sun stays up or down", () => {
		const summer = evaluateText(planAt({ latitude: "90 N", longitude: "0 E", date: "2027-06-21" }));
		expect(summer.night?.dark).toEqual([]);
		expect(
			valuesOf(planAt({ latitude: "90 N", longitude: "0 E", date: "2027-06-21" })).get("site.pole-altitude"),
		).toBeCloseTo(90, 6);
		const winter = evaluateText(
			planAt({ latitude: "90 S", longitude: "0 E", date: "2027-06-21", zone: "UTC", arrive: "18:00", leave: "06:00" }),
		);
		expect(winter.night?.dark).toEqual([winter.night?.onSite]);
	});

	test("on the two sides of the date line one night has two dates and the same sky", () => {
		const fiji = evaluateText(
			planAt({
				latitude: "17 S",
				longitude: "179.9 E",
				date: "2027-06-06",
				zone: "Pacific/Fiji",
				arrive: "20:00",
				leave: "22:00",
			}),
		);
		const west = evaluateText(
			planAt({
				latitude: "17 S",
				longitude: "179.9 E",
				date: "2027-06-05",
				zone: "Pacific/Pago_Pago",
				arrive: "21:00",
				leave: "23:00",
			}),
		);
		expect(fiji.night?.onSite).toEqual(west.night?.onSite);
	});
});

describe("the edges of the clock", () => {
	test.each([
		"Asia/Kathmandu",
		"Australia/Lord_Howe",
		"Pacific/Chatham",
		"Pacific/Kiritimati",
		"America/St_Johns",
		"Etc/GMT+12",
	])("%s", (zone) => {
		expect(
			soundness(
				planAt({ latitude: "30 N", longitude: "20 E", date: "2027-06-05", zone, arrive: "20:00", leave: "04:00" }),
			),
		).toEqual([]);
	});

	test("nights in which the clock is put on or back are an hour shorter or longer", () => {
		// Europe/Berlin: on 2027-03-28 02:00 → 03:00, on 2027-10-31 03:00 → 02:00 (EU Directive 2000/84/EC).
		const hours = (date: string): number => {
			const { night } = evaluateText(
				planAt({ latitude: "50 N", longitude: "10 E", date, zone: "Europe/Berlin", arrive: "22:00", leave: "05:00" }),
			);
			return ((night?.onSite.until ?? 0) - (night?.onSite.from ?? 0)) / 3_600_000;
		};
		expect([hours("2027-03-27"), hours("2027-10-30"), hours("2027-06-05")]).toEqual([6, 8, 7]);
		for (const date of ["2027-03-27", "2027-10-30"])
			expect(
				soundness(
					planAt({ latitude: "50 N", longitude: "10 E", date, zone: "Europe/Berlin", arrive: "02:30", leave: "02:30" }),
				),
			).toEqual([]);
	});
});

describe("the edges of the tables", () => {
	test.each(["1900-01-01", "2099-12-31", "2100-12-31"])("%s is answered", (date) => {
		expect(soundness(planAt({ latitude: "45 N", longitude: "10 E", date }))).toEqual([]);
	});

	test.each(["1899-12-31", "2101-01-01", "9999-12-31"])("%s is outside, and the plan is told so", (date) => {
		const text = planAt({ latitude: "45 N", longitude: "10 E", date });
		expect(soundness(text)).toEqual([]);
		expect(check(evaluateText(text)).map(({ code }) => code)).toContain("night/outside-tables");
	});

	test("past the magnetic model the declination is flagged, and long past it there is none", () => {
		const declination = (date: string): unknown =>
			valuesOf(planAt({ latitude: "45 N", longitude: "10 E", date })).get("site.magnetic-declination");
		const codes = (date: string): readonly string[] =>
			check(evaluateText(planAt({ latitude: "45 N", longitude: "10 E", date }))).map(({ code }) => code);
		expect(typeof declination("2029-06-05")).toBe("number");
		expect(codes("2029-06-05")).not.toContain("magnetic/outside-model");
		expect(typeof declination("2032-06-05")).toBe("number");
		expect(codes("2032-06-05")).toContain("magnetic/outside-model");
		expect(declination("2041-06-05")).toBe(null);
	});
});
