/**
 * What can hurt is said before the step it belongs to, on every face; a laser that the plan does not clear says so above
 * its steps. Every method that has a hazard with some of the cells it may have, and every face that tells steps.
 */
import { readFileSync } from "node:fs";

import { describe, expect, test } from "vitest";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { ALL_METHODS } from "../../shared/methods/methods.ts";
import { calendarText } from "../../shared/outputs/calendar/calendar.ts";
import { card } from "../../shared/outputs/card/card.tsx";
import { cautionsFor, cautionsOf, notClearedText } from "../../shared/outputs/cautions.ts";
import { statesMarkdown } from "../../shared/outputs/markdown/comparison.ts";
import { summaryMarkdown } from "../../shared/outputs/markdown/summary.ts";
import { cellPart } from "../../shared/outputs/notebook/cell-part.tsx";
import type { CheckedPlan, Environment } from "../../shared/outputs/output.ts";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { toldSteps } from "../../shared/outputs/steps.ts";
import { comparisonText } from "../../shared/outputs/text/comparison.ts";
import { planText } from "../../shared/outputs/text/plan.ts";
import { PLAIN } from "../plain-environment.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const ENVIRONMENT: Environment = {
	...PLAIN,
	now: Date.UTC(2027, 0, 1),
	version: "1.2.3",
	explanation: (code: string) => `explained:${code}`,
};

/** Cells with a hazard that can be done on the example's evening. */
const CELLS: readonly string[] = [
	"kind: compass",
	"kind: phone",
	"kind: sky-bearing\nbody: sun\nat: 17:02",
	"kind: square-laser\nguide-star: eta Virginis\nat: 20:01",
	"kind: square-laser\nguide-star: eta Virginis\nat: 20:01\nlocal-rules-checked: false",
	"kind: square-laser\nguide-star: eta Virginis\nat: 20:01\nlocal-rules-checked: true",
	"kind: star-sweep\nstars: [Spica, Procyon]\nreach: 12°",
	"kind: star-sweep\nstars: [Spica, Procyon]\nreach: 12°\nlocal-rules-checked: true",
];

/** The plan with the cell as its only method, first before a fallback, or as the fallback behind one. */
const PLACES = {
	only: (cell: string) => planWith({ method: cell }),
	first: (cell: string) => planWith({ method: [cell, "kind: landmark-bearing\nlandmark: water tower"] }),
	fallback: (cell: string) => planWith({ method: ["kind: landmark-bearing\nlandmark: water tower", cell] }),
};

const planOf = (text: string): CheckedPlan => {
	const evaluation = evaluateText(text);
	return { path: "a.lode.yaml", text, evaluation, findings: check(evaluation) };
};

/** A face as it is read: no markup, no marks of escaping, no folded lines. */
const read = (text: string): string =>
	text
		.replace(/\r\n[ \t]/g, "")
		.replace(/<style[\s\S]*?<\/style>|<script[\s\S]*?<\/script>/g, "")
		.replace(/<[^>]+>/g, " ")
		.replace(/&quot;/g, '"')
		.replace(/&#39;/g, "'")
		.replace(/&amp;/g, "&")
		.replace(/\\n/g, " ")
		.replace(/[\\*]/g, "")
		.replace(/\s+/g, " ");

/** Every face that tells a method's steps; the part of a notebook is that of the method's own cell. */
function facesOf(plan: CheckedPlan, place: number): Readonly<Record<string, string>> {
	const { evaluation, findings } = plan;
	const view = pageView(evaluation, findings);
	const cell = evaluation.plan.cells.indexOf(evaluation.methods[place]?.cell as never);
	const part = cellPart(view, [cell]);
	const carded = card.of.plan?.make(plan, ENVIRONMENT, "");
	return {
		page: pageBody(view),
		card: typeof carded === "string" ? carded : "",
		text: planText(plan, ENVIRONMENT),
		markdown: summaryMarkdown(evaluation, findings),
		"notebook, HTML": part.html,
		"notebook, Markdown": part.markdown,
		"notebook, text": part.text,
		...(place === 0 && { calendar: calendarText(evaluation, ENVIRONMENT.now) ?? "" }),
	};
}

const methodAt = ({ methods }: Evaluation, place: number) => {
	const value = methods[place]?.value;
	if (!value) throw new Error("no method");
	return value;
};

describe("what can hurt", () => {
	test("each method with a hazard is tried here, with all its hazards", () => {
		const tried = new Set(
			CELLS.flatMap((cell) => {
				const { method, content } = methodAt(evaluateText(PLACES.only(cell)), 0);
				return method.hazards(content).map((hazard) => `${method.kind} ${hazard}`);
			}),
		);
		const all = ALL_METHODS.flatMap((method) =>
			[{}, { body: "Sun" }].flatMap((content) =>
				method.hazards(content as never).map((hazard) => `${method.kind} ${hazard}`),
			),
		);
		expect([...new Set(all)].filter((one) => !tried.has(one))).toEqual([]);
		expect(tried.size).toBeGreaterThan(4);
	});

	describe.each(Object.entries(PLACES))("%s", (where, textOf) => {
		test.each(CELLS)("%s: said before its steps on every face", (cell) => {
			const plan = planOf(textOf(cell));
			const place = where === "fallback" ? 1 : 0;
			const method = methodAt(plan.evaluation, place);
			expect(method.works).toBe(true);
			const steps = toldSteps(method).map(({ say }) => read(String(say)));
			const cautions = [notClearedText(method), ...cautionsOf(method)].filter((text) => text !== "").map(read);
			expect(cautions.length).toBeGreaterThan(0);
			for (const [name, text] of Object.entries(facesOf(plan, place))) {
				const face = read(text);
				// What is far from the first step is not read with it: the own words of the method stand right above.
				const first = face.lastIndexOf(steps[0] as string);
				expect(first, `${name} tells the steps`).toBeGreaterThan(-1);
				for (const caution of cautions) {
					const at = face.indexOf(caution);
					expect(at, `${name}: ${caution}`).toBeGreaterThan(-1);
					expect(at, `${name}: ${caution}`).toBeLessThan(face.indexOf(steps[0] as string));
				}
			}
		});
	});

	test.each(CELLS.filter((cell) => /laser|sweep/.test(cell) && !cell.includes("true")))(
		"%s: not cleared is said right above the steps",
		(cell) => {
			for (const [where, textOf] of Object.entries(PLACES)) {
				const plan = planOf(textOf(cell));
				const place = where === "fallback" ? 1 : 0;
				const method = methodAt(plan.evaluation, place);
				const [step = ""] = toldSteps(method).map(({ say }) => read(String(say)));
				const warned = read(notClearedText(method));
				for (const [name, text] of Object.entries(facesOf(plan, place))) {
					const face = read(text);
					const above = face.slice(0, face.lastIndexOf(step));
					expect(above.length - above.lastIndexOf(warned) - warned.length, `${name}, ${where}`).toBeLessThan(900);
				}
			}
		},
	);

	test.each(CELLS)("%s: a comparison says what the new plan brings, and that its laser is not cleared", (cell) => {
		const before = planOf(planWith({ method: "kind: landmark-bearing\nlandmark: water tower" }));
		const after = planOf(PLACES.only(cell));
		const method = methodAt(after.evaluation, 0);
		const cautions = [notClearedText(method), ...cautionsOf(method)].filter((text) => text !== "").map(read);
		for (const text of [statesMarkdown({ before, after }), comparisonText({ before, after }, ENVIRONMENT)])
			for (const caution of cautions) expect(read(text)).toContain(caution);
	});
});

test.each([
	// [arrive, leave, whether one drives tired afterwards: after midnight, or up at three in the morning]
	["18:00", "23:30", false],
	["18:00", "23:59", false],
	["18:00", "00:30", true],
	["18:00", "05:50", true],
	["18:00", "06:30", true],
	["03:00", "05:50", true],
	["01:00", "06:30", true],
	["03:30", "06:30", false],
])("on site from %s until %s: the caution on driving tired is told: %s", (arrive, leave, isLate) => {
	const cautions = cautionsFor(
		evaluateText(planWith({ night: `date: 2027-06-05\narrive: "${arrive}"\nleave: "${leave}"` })),
	);
	expect(cautions.some((text) => text.startsWith("Late: "))).toBe(isLate);
});

describe("the Sun in a frame", () => {
	const skerry = readFileSync("samples/midsummer-skerry.lode.yaml", "utf8");
	// At 23:30 it stands at 336.9°, and moves a quarter of a degree a minute to the right: so far along the horizon.
	test.each([
		["NNW", "24 mm", /^Sun: it is up and in the frame of skerry .* as close as 1\.\d° to its middle \(at 23:30\)\./],
		["336°", "24 mm", /^Sun: it is up and in the frame of .* \(at 23:2[5-8]\)\./],
		["325°", "24 mm", /^Sun: it is up and in the frame of .* \(at 23:20\)\./],
		["325°", "135 mm", /^Sun: it is up while you aim at and photograph .*, as close as 9\.\d° .* \(at 23:20\)\./],
		["270°", "24 mm", undefined],
	])("an aim at %s with %s", (azimuth, focal, said) => {
		const text = skerry.replace("azimuth: NNW", `azimuth: ${azimuth}`).replace("24 mm", focal);
		const sun = cautionsFor(evaluateText(text)).filter((one) => one.startsWith("Sun: it is up"));
		expect(sun).toEqual(said ? [expect.stringMatching(said)] : []);
	});

	test("of panels each is looked at where it looks", () => {
		const text = skerry.replace(
			"azimuth: NNW, altitude: 3 }",
			"azimuth: 270°, altitude: 3 }\n    panorama: { columns: 5, rows: 1, overlap: 30 % }",
		);
		expect(cautionsFor(evaluateText(text)).join("\n")).toMatch(/Sun: it is up .* skerry/);
	});
});
