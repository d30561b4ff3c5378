/** A clock time of the next day says so, whoever tells it. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { cautionsFor } from "../../shared/outputs/cautions.ts";
import { toldSteps } from "../../shared/outputs/steps.ts";
import { evaluateText } from "../plan-text.ts";

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
		"01:25 (+1)",
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
	expect(cautions).toContain("Low water by the plan: 01:55 (+1); out by 02:55 (+1).");
	expect(cautions).toContain("the evening ends at 02:45 (+1)");
});

test("findings", () => {
	const evaluation = evaluateText(cave.replace('leave: "02:45"', 'leave: "03:45"'));
	const finding = check(evaluation).find(({ code }) => code === "night/after-low-water");
	expect(finding?.message).toMatch(/01:55 \(\+1\)[\s\S]*03:45 \(\+1\)/);
});
