import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { CELL_KINDS } from "../../shared/cells/kinds.ts";
import { METHOD_KINDS } from "../../shared/cells/method/keys.ts";
import { check } from "../../shared/findings/check.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { compare, isSame, type Side } from "../../shared/outputs/compare/compare.ts";
import { newPlanText } from "../../shared/outputs/draft/new-plan.ts";
import { geodata } from "../../shared/outputs/geojson/geojson.ts";
import { comparisonMarkdown } from "../../shared/outputs/markdown/comparison.ts";
import { markdownText } from "../../shared/outputs/markdown/escaped.ts";
import { summaryMarkdown } from "../../shared/outputs/markdown/summary.ts";
import { cellPart } from "../../shared/outputs/notebook/cell-part.tsx";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { explanationMarkdown } from "../../shared/outputs/reference/explanation.ts";
import { findingReference, formatReference, methodReference } from "../../shared/outputs/reference/reference.ts";
import { PICTURES, pictureDocument } from "../../shared/outputs/svg/svg.tsx";
import { told } from "../../shared/text/sentence.ts";
import { checkText, evaluateText, planWith } from "../plan-text.ts";

const folder = new URL("../../samples/", import.meta.url);
const SAMPLES = readdirSync(folder)
	.filter((name) => name.endsWith(".lode.yaml"))
	.map((name) => [name, readFileSync(new URL(name, folder), "utf8")] as const);
const larch = SAMPLES.find(([name]) => name.startsWith("larch"))?.[1] ?? "";
const gorge = SAMPLES.find(([name]) => name.startsWith("dry-gorge"))?.[1] ?? "";
const chapel = SAMPLES.find(([name]) => name.startsWith("roofless"))?.[1] ?? "";

const sideOf = (text: string): Side => {
	const evaluation = evaluateText(text);
	return { evaluation, findings: check(evaluation) };
};
const compared = (before: string, after: string) => compare(sideOf(before), sideOf(after));

describe("two states of a plan", () => {
	test.each(SAMPLES)("%s is the same as itself, with comments and blank lines too", (_, text) => {
		expect(isSame(compared(text, text))).toBe(true);
		expect(compared(text, text.replaceAll("\n---\n", "\n\n# a comment\n---\n")).values).toEqual([]);
		expect(comparisonMarkdown(compared(text, text), "a", "b")).toContain("changed");
	});

	test("what was typed, what follows from it, which hours move, which findings come and go", () => {
		const { text, values, windows, findings } = compared(chapel, chapel.replace("2027-06-05", "2027-06-09"));
		expect(text).toEqual([{ cell: "night", of: null, key: "date", before: "2027-06-05", after: "2027-06-09" }]);
		expect(values.map(({ id }) => id)).toContain("night.moon-illumination");
		expect(values.find(({ id }) => id === "method.star-miss")).toMatchObject({
			cell: "method 1",
			before: { text: "0.88°" },
			after: { text: "3.74°" },
		});
		expect(values.map(({ cell }) => cell)).not.toContain("lens wide");
		expect(windows.find(({ what }) => what.startsWith("method 1"))).toEqual({
			what: "method 1: square-laser",
			before: ["20:00–20:04"],
			after: ["19:45–19:48"],
		});
		expect(findings.gained.map(({ code, cell }) => `${code} ${cell}`)).toContain(
			"method/guide-star-not-there method 1",
		);
		expect(findings.lost).toEqual([]);
		const back = compared(chapel.replace("2027-06-05", "2027-06-09"), chapel);
		expect(back.findings.lost).toEqual(findings.gained);
	});

	test("a cell that goes, one that cannot be read any more, a second lens by its name", () => {
		const gone = compared(chapel, chapel.replace(/---\ntracker:[\s\S]*?(?=---)/, ""));
		expect(gone.text).toEqual([
			{ cell: "tracker", of: null, key: "", before: expect.stringContaining("head: geared"), after: null },
		]);
		const broken = compared(chapel, chapel.replace("night:", "[ night"));
		expect(broken.text.map(({ cell, key }) => `${cell} ${key}`)).toContain("unreadable cell ");
		const second = compared(
			chapel,
			chapel.replace(
				"---\ntracker",
				"---\nlens: { name: long, focal-length: 85 mm, sensor: 36 x 24 mm }\n---\ntracker",
			),
		);
		expect(second.text.map(({ cell, before }) => [cell, before])).toEqual([["lens long", null]]);
	});

	test("as Markdown: in tables, and nothing of the plans becomes markup", () => {
		const nasty = "<img src=x onerror=alert(1)> [x](javascript:1) | ` **b**";
		const comparison = compared(chapel, chapel.replace("Core over the roofless chapel", JSON.stringify(nasty)));
		const markdown = comparisonMarkdown(comparison, "HEAD", "now");
		expect(markdown).toContain(markdownText(nasty));
		expect(markdown).not.toMatch(/<img|\]\(javascript/);
		const long = comparisonMarkdown(compared(chapel, chapel.replace("2027-06-05", "2027-09-05")), "HEAD", "now");
		expect(long).toContain("2027-09-05");
		expect(long).toMatch(/\| .*Moon.* \|/);
	});
});

describe("Markdown of a plan", () => {
	test.each(SAMPLES)("%s: title, verdict, findings with lines, the first method that works", (_, text) => {
		const evaluation = evaluateText(text);
		const findings = check(evaluation);
		const markdown = summaryMarkdown(evaluation, findings);
		expect(markdown.startsWith("## ")).toBe(true);
		for (const { code } of findings) expect(markdown).toContain(`\`${code}\``);
		// The first that works leads; one that does not is told in a line.
		const works = evaluation.methods.flatMap(({ value }) => (value?.works ? [value.name] : []));
		if (works[0] !== undefined) expect(markdown).toContain(`### Align: ${works[0]}`);
		for (const { value } of evaluation.methods)
			if (value && !value.works) expect(markdown.replaceAll("\\", "")).toContain(`${value.name} does not work tonight`);
		expect(markdown).not.toMatch(/NaN|undefined/);
	});

	test("any text stays the text that it is", () => {
		fc.assert(
			fc.property(fc.string({ unit: fc.constantFrom(..."ab <>[]()!*_`~#|\\&;:/-+.1\n\t") }), (text) => {
				const shown = markdownText(text);
				// No mark of Markdown or HTML stands there unescaped.
				expect(shown.replace(/\\[\s\S]|&[#\w]+;/g, "")).not.toMatch(/[<>[\]*_`~|]/);
				expect(shown).not.toContain("\n");
			}),
		);
	});
});

const escaped = (text: string): string => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/"/g, "&quot;");

describe("a cell's part", () => {
	test.each(SAMPLES)("%s: of every cell what the page has of it", (_, text) => {
		const evaluation = evaluateText(text);
		const findings = check(evaluation);
		const view = pageView(evaluation, findings);
		const whole = pageBody(view);
		for (const cell of evaluation.plan.cells) {
			const part = cellPart(view, [cell.index]);
			const table = view.tables.find((one) => one.cell === cell.index);
			for (const { rows } of table?.groups ?? [])
				for (const { label, text: value } of rows) {
					expect(part.text).toContain(`${label}: ${value}`);
					expect(part.markdown).toContain(markdownText(label));
				}
			for (const finding of findings.filter((one) => one.cell?.index === cell.index)) {
				expect(part.text).toContain(finding.message);
				expect(part.html).toContain(finding.code);
			}
			const method = view.methods.find((one) => one.cell === cell.index);
			for (const { say } of method?.works ? method.steps : []) expect(part.text).toContain(say);
		}
		const marked = (message: string): string => escaped(message).replace(/`([^`]+)`/g, "<code>$1</code>");
		for (const { message } of view.findings) expect(whole).toContain(marked(message));
		expect(cellPart(view, [])).toEqual({ html: "", markdown: "", text: "" });
	});
});

describe("pictures, places, references", () => {
	test("every picture of the sample is one SVG file; a plan without a site has none", () => {
		for (const name of Object.keys(PICTURES) as (keyof typeof PICTURES)[]) {
			const evaluation = evaluateText(
				name === "pole-dial"
					? larch
					: name === "turn-view"
						? chapel.replace(/---\nmethod:\n {2}kind: square-laser[\s\S]*?(?=---)/, "")
						: chapel,
			);
			const picture = pictureDocument(name, pageView(evaluation, []));
			expect(picture, name).toMatch(
				/^<\?xml [^>]+>\n<svg xmlns="http:\/\/www.w3.org\/2000\/svg" width="\d+" height="[\d.]+"[\s\S]*<\/svg>\n$/,
			);
			expect(picture).not.toMatch(/NaN|undefined|<script|href/);
		}
		expect(pictureDocument("panorama", pageView(evaluateText("plan:\n  title: A\n"), []))).toBe(undefined);
	});

	test("GeoJSON: the site, landmarks with a place and lines to them; none across the date line, none without coordinates", () => {
		const data = geodata(evaluateText(chapel));
		expect(
			data?.features
				.filter(({ properties }) => properties.kind !== "ray")
				.map(({ geometry, properties }) => `${geometry.type} ${properties.kind}`),
		).toEqual(["Point stand", "Point landmark", "LineString sight-line"]);
		expect(data?.features[0]?.geometry.coordinates).toEqual([-54.3622, -32.4123, 145]);
		const across = geodata(
			evaluateText(
				"site:\n  name: A\n  latitude: 17 S\n  longitude: 179.99 E\n  landmarks:\n    - { name: b, latitude: 17 S, longitude: 179.99 W }\n    - { name: c, bearing: 40° }\n",
			),
		);
		expect(across?.features.map(({ geometry }) => geometry.type)).toEqual(["Point", "Point", "LineString"]);
		expect(geodata(evaluateText("site:\n  name: A\n"))).toBe(undefined);
	});

	test("GeoJSON: rays to the pole, the axis that was found, targets at their first and last frame, openings and bearings", () => {
		const site =
			"name: A\nlatitude: 46 N\nlongitude: 8 E\nelevation: 500 m\nlandmarks:\n  - { name: c, bearing: 40° }\nopenings:\n  - { name: hole, outline: [[350, 10], [20, 10], [20, 60], [350, 60]] }";
		const targets =
			'- name: lamp\n  aim: { azimuth: 100°, altitude: 20° }\n  tracked: false\n  from: "23:30"\n  exposure: 60 s';
		const features = geodata(evaluateText(planWith({ site, targets, log: null })))?.features ?? [];
		const rays = features.filter(({ properties }) => properties.kind === "ray");
		expect(rays.map(({ properties: { of, name, bearing } }) => [of, name, Math.round(Number(bearing))])).toEqual([
			["pole", null, 0],
			["target", "lamp", 100],
			["target", "lamp", 100],
			["opening", "hole", 350],
			["opening", "hole", 20],
			["landmark", "c", 40],
		]);
		for (const { geometry, properties } of rays) {
			const [[x = 0, y = 0] = [], [east = 0, north = 0] = []] = geometry.coordinates as readonly (readonly number[])[];
			// On the tangent plane, with the radii of curvature of WGS 84 at 46°: 6,389.2 km across and 6,368.7 km along the meridian.
			const up = ((north - y) * Math.PI * 6_368.7) / 180;
			const right = ((east - x) * Math.PI * 6_389.2 * Math.cos((46 * Math.PI) / 180)) / 180;
			expect(Math.hypot(up, right)).toBeCloseTo(10, 1);
			expect(
				Math.abs((((Math.atan2(right, up) * 180) / Math.PI - Number(properties.bearing) + 540) % 360) - 180),
			).toBeLessThan(0.1);
		}
		expect(rays[1]?.properties.at).toMatch(/T23:30:00[+-]\d\d:00$/);
		const axis = geodata(evaluateText(gorge))?.features.find(({ properties }) => properties.of === "axis");
		expect(axis).toBeDefined();
		// Drifts a hundred times as large are of an axis that no method leaves: it is not drawn.
		const doubtful = evaluateText(gorge.replace(/(right|up): -?(\d+) px/g, "$1: $2" + "00 px"));
		expect(doubtful.log?.value?.evenings.every(({ doubt }) => doubt !== undefined)).toBe(true);
		expect(geodata(doubtful)?.features.filter(({ properties }) => properties.of === "axis")).toEqual([]);
	});

	test("the references name every kind, key, method and finding; an explanation has both examples", () => {
		const [format, methods, findings] = [formatReference(), methodReference(), findingReference()];
		for (const kind of Object.keys(CELL_KINDS)) expect(format).toContain(`\n## ${kind}\n`);
		for (const kind of Object.keys(METHOD_KINDS)) expect(methods).toContain(kind);
		for (const { code, words } of RULES) {
			expect(findings).toContain(code);
			const explanation = explanationMarkdown(code);
			expect(explanation).toContain(told(words.title()));
			expect(explanation.match(/^```yaml$/gm)).toHaveLength(2);
			expect(explanation).toContain("## Instead");
		}
		expect(explanationMarkdown("no/such")).toContain("no/such");
	});

	test("every link of the findings' page leads to a heading, and no line of an example is one", () => {
		const findings = findingReference();
		const pages: Readonly<Record<string, string>> = {
			"": findings,
			"methods.md": methodReference(),
			"format.md": formatReference(),
		};
		const links = [...findings.matchAll(/\]\(([\w.]*)#([^)]+)\)/g)];
		expect(links.length).toBeGreaterThan(RULES.length);
		for (const [link, page = "", anchor] of links)
			expect(
				headingsOf(pages[page] ?? "").filter((heading) => heading === anchor),
				link,
			).toHaveLength(1);
		expect(findings.match(/^### /gm)).toHaveLength(RULES.length);
		for (const [example] of findings.matchAll(/```yaml[\s\S]*?```/g)) expect(example).not.toMatch(/^##/m);
	});

	test("a new plan checks clean wherever it is", () => {
		for (const [latitude, longitude] of [
			[32.4, 20.8],
			[-44.1, 170.4],
			[0.2, -78],
			[60, 10],
		] as const) {
			const text = newPlanText({ title: `A "new" plan`, site: "Stand: one", latitude, longitude, date: "2027-10-05" });
			expect(checkText(text).filter(({ severity }) => severity === "error")).toEqual([]);
		}
	});

	test("the page of a plan with markup in every text has none of it", () => {
		const nasty = '"><svg onload=alert(1)><script>alert(2)</script>';
		const text = planWith({
			plan: `title: ${JSON.stringify(nasty)}\nsummary: ${JSON.stringify(nasty)}`,
			note: `|\n  ${nasty}`,
		}).replaceAll("water tower", nasty.replace(/["']/g, ""));
		const evaluation = evaluateText(text);
		const html = pageBody(pageView(evaluation, check(evaluation)));
		expect(html).not.toMatch(/<script|<svg onload/);
		expect(html).toContain("&lt;script>");
	});
});

/** The anchors of a page's headings. */
const headingsOf = (markdown: string): readonly string[] =>
	[...markdown.matchAll(/^#+ (.+)$/gm)].map(([, title = ""]) =>
		title
			.toLowerCase()
			.replace(/[^\p{L}\p{N} _-]/gu, "")
			.replaceAll(" ", "-"),
	);
