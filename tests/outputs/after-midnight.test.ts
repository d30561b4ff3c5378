/** A clock time of the next day says so, whoever tells it. */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { clockOf } from "../../shared/earth/zone.ts";
import { check } from "../../shared/findings/check.ts";
import { calendar } from "../../shared/outputs/calendar/calendar.ts";
import { card } from "../../shared/outputs/card/card.tsx";
import { cautionsFor } from "../../shared/outputs/cautions.ts";
import { summaryMarkdown } from "../../shared/outputs/markdown/summary.ts";
import type { CheckedPlan, Output } from "../../shared/outputs/output.ts";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { toldSteps } from "../../shared/outputs/steps.ts";
import { planText } from "../../shared/outputs/text/plan.ts";
import { bareTimes } from "../next-day.ts";
import { PLAIN } from "../plain-environment.ts";
import { evaluateText } from "../plan-text.ts";
import { FIRST_PLAN, randomPlan } from "../random-plans.ts";

const cave = readFileSync(new URL("../../samples/gannet-cave.lode.yaml", import.meta.url), "utf8");
/** A method that is done after midnight. */
const late = cave.replace(
	/method:\n {2}kind: square-laser[\s\S]*?---/,
	'method:\n  kind: sky-bearing\n  body: Spica\n  at: "00:10"\n---',
);

const valuesOf = (text: string): ReadonlyMap<string, string> => {
	const evaluation = evaluateText(text);
	return new Map(evaluation.plan.cells.flatMap((cell) => evaluation.valuesOf(cell).map(({ id, text }) => [id, text])));
};

test("values: of the night, of targets, of methods", () => {
	const values = valuesOf(late);
	expect(["night.sunset", "night.sunrise", "target.start"].map((id) => values.get(id))).toEqual([
		"19:02",
		"05:24 (+1)",
		"01:20 (+1)",
	]);
	expect(valuesOf(late.replace(/---\nmethod:\n {2}kind: phone[\s\S]*?---/, "---")).get("method.time")).toBe(
		"00:10 (+1)",
	);
});

test("steps and the number they show", () => {
	const [method] = evaluateText(late).methods;
	const step = method?.value && toldSteps(method.value).find(({ number }) => number.includes("00:10"));
	expect(step?.number).toBe("00:10 (+1)");
	expect(step?.say).toContain("At 00:10 (+1) ");
});

test("cautions", () => {
	const cautions = cautionsFor(evaluateText(cave)).join("\n");
	expect(cautions).toContain(
		"Low water in the plan: 01:20 (+1); go in no earlier than 22:20, and be out by 02:20 (+1).",
	);
	expect(cautions).toContain("you finish at 02:20 (+1)");
});

test("findings", () => {
	const evaluation = evaluateText(cave.replace('leave: "02:20"', 'leave: "03:45"'));
	const finding = check(evaluation).find(({ code }) => code === "night/after-low-water");
	expect(finding?.message).toMatch(/01:20 \(\+1\)[\s\S]*03:45 \(\+1\)/);
});

const SAMPLES = new URL("../../samples/", import.meta.url);

/** Plans: the samples, one aligned after midnight, some with mistakes, and chance's. */
const plans = (): readonly string[] => [
	...readdirSync(SAMPLES)
		.filter((name) => name.endsWith(".lode.yaml"))
		.map((name) => readFileSync(new URL(name, SAMPLES), "utf8")),
	late,
	late.replace('at: "00:10"', 'at: "02:30"'),
	cave.replace('at: "22:58"', 'at: "00:40"'),
	cave.replace('from: "01:20"', 'from: "02:44"').replace("frames: 30", "frames: 60"),
	cave.replace('leave: "02:20"', 'leave: "04:45"'),
	...Array.from({ length: 60 }, (_, i) => randomPlan(FIRST_PLAN + i)),
];

function made(output: Output, given: CheckedPlan): string {
	const result = output.of.plan?.make(given, PLAIN, "");
	return typeof result === "string" ? result : "";
}

test(`no form of a plan, no finding and no fix tells a time of the next day without saying so; random plans from LODEBOOK_SEED=${FIRST_PLAN} on`, () => {
	let count = 0;
	for (const whole of plans()) {
		// A note is its writer's own.
		const text = whole.replace(/---\nnote:[\s\S]*?(?=\n---|$)/g, "");
		const evaluation = evaluateText(text);
		const { night } = evaluation;
		// An evening that begins in the morning has times before noon of its own day.
		if (!night || clockOf(night.zone, night.onSite.from) < "14:00") continue;
		const findings = check(evaluation);
		const given = { path: "a.lode.yaml", text, evaluation, findings };
		const forms: Readonly<Record<string, string>> = {
			page: pageBody(pageView(evaluation, findings)),
			card: made(card, given),
			markdown: summaryMarkdown(evaluation, findings).replace(/\\([()+])/g, "$1"),
			text: planText(given, PLAIN),
			// Its lines are folded (RFC 5545).
			calendar: made(calendar, given).replace(/\r\n /g, ""),
			findings: findings.flatMap(({ message, fixes }) => [message, ...fixes.map(({ title }) => title)]).join("\n"),
			values: evaluation.plan.cells.flatMap((cell) => evaluation.valuesOf(cell).map((one) => one.text)).join("\n"),
		};
		for (const [name, form] of Object.entries(forms)) {
			expect(bareTimes(form), `${name} of ${night.zone}, ${text.slice(0, 80)}`).toEqual([]);
			count += form.split(" (+1)").length - 1;
		}
	}
	expect(count).toBeGreaterThan(1000);
});

test("a time that does not say so is found, and one that does is not", () => {
	expect(bareTimes("at 01:30 on").length).toBe(1);
	expect(bareTimes("23:10–01:40").length).toBe(1);
	expect(bareTimes("01:10–01:40").length).toBe(2);
	expect(bareTimes('01:30 (+1), 01:10–01:40 (+1), 23:10–01:40 (+1), 13:00, from: "01:30", 2027-05-06T01:30')).toEqual(
		[],
	);
});
