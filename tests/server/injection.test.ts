/**
 * Texts that mean to become something else (markup, script, a link, a second calendar property, a workflow command, a
 * terminal's control), in every text of a plan, in every form that is written from it. The kinds are those of the usual
 * collections of such strings; the strings are written here.
 */
import ical from "ical.js";
import sax from "sax";
import { describe, expect, test } from "vitest";
import { nightsOf } from "../../shared/evaluate/nights.ts";
import { check } from "../../shared/findings/check.ts";
import { annotations } from "../../shared/outputs/annotations/annotations.ts";
import { calendarText } from "../../shared/outputs/calendar/calendar.ts";
import { compare } from "../../shared/outputs/compare/compare.ts";
import { geodata } from "../../shared/outputs/geojson/geojson.ts";
import { findingRecords } from "../../shared/outputs/json/finding-record.ts";
import { comparisonMarkdown } from "../../shared/outputs/markdown/comparison.ts";
import { summaryMarkdown } from "../../shared/outputs/markdown/summary.ts";
import { cellPart } from "../../shared/outputs/notebook/cell-part.tsx";
import { pageDocument } from "../../shared/outputs/page/document.ts";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { yearOfNights } from "../../shared/outputs/page/year-of-nights.tsx";
import { sarifLog } from "../../shared/outputs/sarif/sarif.ts";
import { PICTURES, type PictureName, pictureDocument } from "../../shared/outputs/svg/svg.tsx";
import { evaluateText } from "../plan-text.ts";

const PAYLOADS = [
	// Each control by itself, and what XML does not allow.
	...Array.from({ length: 33 }, (_, code) => `a${String.fromCharCode(code === 32 ? 127 : code)}>b`),
	"a\u0085>b",
	"a\ufffe>b",
	"a\ud800>b",
	'x>"y">z',
	"<script>alert(1)</script>",
	"</title><script>alert(1)</script>",
	"</style><script>alert(1)</script>",
	"--></script><img src=x onerror=alert(1)>",
	"<svg/onload=alert(1)>",
	"<svg><foreignObject><iframe srcdoc='x'></iframe></foreignObject></svg>",
	'"><a href=javascript:alert(1)>x</a>',
	"' onmouseover='alert(1)",
	'" style="background:url(//example.org/x)',
	"<a xlink:href='data:text/html,x'>",
	"<math><mtext><style><img src=x></style></mtext></math>",
	"<!--",
	"]]><x>",
	"<?php x ?>",
	"<![CDATA[x]]>",
	"&lt;script&gt;",
	"&#60;script&#62;",
	"&colon;",
	"[x](javascript:alert(1))",
	"![x](//example.org/x.png)",
	"[x]: //example.org",
	"<https://example.org>",
	"https://example.org/a?b=c",
	"# heading",
	"- item",
	"> quote",
	"```js\nx\n```",
	"`x`",
	"**x**",
	"| a | b |",
	"~~~",
	"<details open>",
	"@someone #1 !2",
	"x\nATTENDEE:mailto:a@example.org",
	"x\\nBEGIN:VALARM",
	"x;VALUE=URI:y",
	"x\r\nX-EVIL:1",
	"::error file=x::y",
	"::set-output name=x::y",
	"%0A::warning::x",
	"x,line=1::y",
	"##[command]x",
	"\u001b[31mred\u001b[0m",
	"\u001b]0;title\u0007",
	"\u202egnp.exe",
	"\u2066x\u2069",
	"\u0007bell",
	"\rover",
	"{{7*7}}",
	"$" + "{7*7}",
	"<%= 7 %>",
	"__proto__",
	"constructor",
	"\u2028alert(1)\u2029",
	"\uFEFF",
	"＜script＞",
	"\u0000".replace("\0", "nul"),
];

const NIGHT = { year: 2027, month: 6, day: 5 };

/** A plan in which every text that can be chosen freely is the payload. */
function planOf(payload: string): string {
	const quoted = JSON.stringify(payload);
	return `plan:
  title: ${quoted}
  summary: ${quoted}
---
site:
  name: ${quoted}
  latitude: 32.4123 S
  longitude: 54.3622 W
  elevation: 145 m
  timezone: America/Montevideo
  landmarks:
    - { name: ${quoted}, latitude: 32.4391 S, longitude: 54.3951 W, elevation: 187 m }
  openings:
    - { name: ${quoted}, outline: [[60, 5], [150, 5], [150, 80], [60, 80]] }
---
night:
  date: 2027-06-05
  arrive: "17:00"
  leave: "02:00"
---
lens:
  name: ${quoted}
  focal-length: 24 mm
  f-number: 2
  sensor: 36 x 24 mm
  pixels: 6000 x 4000
---
method:
  kind: landmark-bearing
  landmark: ${quoted}
---
method:
  kind: square-laser
  guide-star: ${quoted}
---
targets:
  - name: ${quoted}
    aim: galactic-centre
    lens: ${quoted}
    opening: ${quoted}
    exposure: 60 s
    frames: 10
  - name: unknown
    aim: ${quoted}
---
note: ${quoted}
---
log:
  - { at: 2027-06-05T22:00:00, frame: 24 mm, star: ${quoted}, drift: { across: 4 px, over: 5 min }, note: ${quoted} }
---
${quoted}: 1
`;
}

/** Elements and attributes of the page's own. */
const ELEMENTS =
	/^(?:html|head|meta|br|title|style|script|body|main|header|div|section|h1|h2|h3|p|span|button|ol|ul|li|table|thead|tbody|tr|th|td|caption|details|summary|label|input|output|figure|figcaption|svg|g|path|line|circle|rect|text|tspan|ellipse|polygon|clippath|defs|title|desc|mask|radialgradient|stop|use|dl|dt|dd|strong|em|code)$/i;
const ATTRIBUTES =
	/^(?:id|class|for|type|role|lang|charset|name|content|http-equiv|min|max|step|value|aria-[a-z]+|data-[a-z]+|viewbox|x|y|x1|y1|x2|y2|cx|cy|r|rx|ry|d|width|height|points|fill|fill-opacity|stroke|stroke-width|stroke-dasharray|stroke-opacity|stroke-linejoin|stroke-linecap|opacity|transform|text-anchor|dominant-baseline|clip-path|xmlns|hidden|open|scope|colspan|font-size|font-weight|title|href|dx|preserveaspectratio|vector-effect|fill-rule|visibility|display|mask|maskunits|stop-color|stop-opacity|offset|tabindex)$/i;

/** What stands in a text of HTML or SVG that the page itself would not write. */
function strange(html: string): readonly string[] {
	const wrong: string[] = [];
	const bare = html.replace(/<(style|script)>[\s\S]*?<\/\1>/g, "").replace(/^<\?xml [^>]*\?>|^<!DOCTYPE html>/, "");
	let at = 0;
	for (const match of bare.matchAll(/<(\/?)([a-zA-Z][^\s/>]*)((?:\s+[^\s=>/]+(?:="[^"]*")?)*)\s*\/?>/g)) {
		if (bare.slice(at, match.index).includes("<")) wrong.push(bare.slice(at, match.index).slice(0, 80));
		at = match.index + match[0].length;
		if (!ELEMENTS.test(match[2] ?? "")) wrong.push(`<${match[2]}>`);
		for (const [, name = "", value = ""] of (match[3] ?? "").matchAll(/\s+([^\s=>/]+)(?:="([^"]*)")?/g))
			if (
				!ATTRIBUTES.test(name) ||
				(name === "href" && !/^#sky(?:-[a-z]+)?$/.test(value)) ||
				(!name.startsWith("data-") &&
					!name.startsWith("aria-") &&
					name !== "content" &&
					/url\((?!#)|javascript:/i.test(value))
			)
				wrong.push(`${name}="${value}"`);
	}
	if (bare.slice(at).includes("<")) wrong.push(bare.slice(at).slice(0, 80));
	return wrong;
}

describe.each(PAYLOADS)("%j", (payload) => {
	const text = planOf(payload);
	const evaluation = evaluateText(text);
	const findings = check(evaluation);
	const view = pageView(evaluation, findings);
	const records = findingRecords(text, findings);

	test("HTML and SVG: elements and attributes are the page's own", () => {
		expect(strange(pageBody(view))).toEqual([]);
		expect(strange(pageDocument(view, ""))).toEqual([]);
		const found = nightsOf(evaluation.plan, NIGHT, { ...NIGHT, day: NIGHT.day + 1 });
		expect(strange(yearOfNights(found.ok ? [...found.nights] : [], NIGHT))).toEqual([]);
		for (const name of Object.keys(PICTURES) as PictureName[])
			for (const ground of ["light", "dark"] as const) {
				const picture = pictureDocument(name, view, ground);
				expect(strange(picture ?? "")).toEqual([]);
				if (picture === undefined) continue;
				// Throws where it is not well-formed.
				sax.parser(true).write(picture).close();
				expect(picture).not.toMatch(/="var\(|data-sky/);
			}
		for (const cell of evaluation.plan.cells) expect(strange(cellPart(view, [cell.index]).html)).toEqual([]);
	});

	test("Markdown: no element but the fold's, no link, no picture, no mention, no heading of its own", () => {
		const forms = [
			summaryMarkdown(evaluation, findings),
			...evaluation.plan.cells.map(({ index }) => cellPart(view, [index]).markdown),
			comparisonMarkdown(
				compare({ evaluation, findings }, { evaluation: evaluateText("plan:\n  title: other\n"), findings: [] }),
				"a",
				"b",
			),
		];
		for (const markdown of forms) {
			// What is escaped, or stands in code, is text.
			const live = markdown.replace(/\\[\s\S]|&[#\w]+;/g, "").replace(/`[^`\n]*`/g, "");
			expect(live.replace(/<\/?(?:details|summary)>/g, "")).not.toMatch(/<[a-z!/?]/i);
			expect(live).not.toMatch(/\]\(|!\[|^\[[^\]]*\]:|https?:\/\/|(?<![\w.])@\w/m);
			expect(live).not.toMatch(/^(?:# |```|~~~)/m);
		}
	});

	test("iCalendar: the properties that are meant, one event each", () => {
		const calendar = calendarText(evaluation, Date.UTC(2027, 0, 1));
		const parsed = new ical.Component(ical.parse(calendar ?? ""));
		const known = new Set([
			"version",
			"prodid",
			"name",
			"x-wr-calname",
			"uid",
			"sequence",
			"dtstamp",
			"dtstart",
			"dtend",
			"summary",
			"description",
			"categories",
			"action",
			"trigger",
			"tzid",
			"tzoffsetfrom",
			"tzoffsetto",
			"location",
			"transp",
		]);
		for (const component of [
			parsed,
			...parsed.getAllSubcomponents(),
			...parsed.getAllSubcomponents().flatMap((one) => one.getAllSubcomponents()),
		])
			for (const { name } of component.getAllProperties()) expect(known).toContain(name);
		expect(calendar?.split("\r\n").every((line) => !/[\r\n]/.test(line))).toBe(true);
	});

	test("JSON forms, workflow commands, the terminal", () => {
		expect(
			JSON.parse(
				JSON.stringify(
					sarifLog([{ path: "a.lode.yaml", records }], {
						version: "1.0.0",
						explanation: (code) => `explained:${code}`,
					}),
				),
			).runs[0].results.length,
		).toBe(findings.length);
		expect(JSON.parse(JSON.stringify(geodata(evaluation))).features.length).toBeGreaterThan(0);
		const lines = annotations("a,b::c%.lode.yaml", records).split("\n");
		expect(lines.pop()).toBe("");
		expect(lines.length).toBe(findings.length);
		for (const line of lines)
			expect(line).toMatch(
				/^::(?:error|warning|notice) file=a%2Cb%3A%3Ac%25\.lode\.yaml,line=\d+,endLine=\d+,col=\d+,endColumn=\d+,title=[\w-]+\/[\w-]+::[^\r\n]*$/,
			);
		for (const { message, fixes } of findings)
			for (const one of [message, ...fixes.map(({ title }) => title)])
				expect(one).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/);
	});

	test("no finding is longer than its line", () => {
		const rows = text.split("\n");
		for (const { line, column, endLine, endColumn } of records) {
			expect(column).toBeLessThanOrEqual((rows[line - 1] ?? "").length + 1);
			expect(endColumn).toBeLessThanOrEqual((rows[endLine - 1] ?? "").length + 1);
		}
	});
});
