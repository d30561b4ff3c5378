/** What the core takes: run in a process of its own by bench.mjs. Prints medians in milliseconds as JSON. */
import { readFileSync } from "node:fs";
import { aimPoint } from "../../shared/alignment/pointer.ts";
import { createEvaluator, evaluate } from "../../shared/evaluate/evaluate.ts";
import { nightsOf } from "../../shared/evaluate/nights.ts";
import { check } from "../../shared/findings/check.ts";
import { guideStars } from "../../shared/methods/square-laser/search.ts";
import { card } from "../../shared/outputs/card/card.tsx";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { PlanReader, readPlan } from "../../shared/plan/plan.ts";
import { nightOf } from "../../shared/sky/night.ts";

const sample = readFileSync(process.env.LODEBOOK_SAMPLE as string, "utf8");
const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1] as number;
const times = (count: number, run: (i: number) => unknown): number[] =>
	Array.from({ length: count }, (_, i) => {
		const start = performance.now();
		run(i);
		return performance.now() - start;
	});

/** The sample on other dates and at other latitudes: no two alike. */
const variant = (i: number): string =>
	sample
		.replace("2027-06-05", new Date(Date.UTC(2027, 0, 1 + (i % 365))).toISOString().slice(0, 10))
		.replace("32.4123 S", `${(32 + (i % 30) * 0.1).toFixed(4)} S`);

const result: Record<string, number> = {};
// As `lodebook check` does: one reader and one evaluator for all files.
const reader = new PlanReader({ keeps: 200_000 });
const evaluateNext = createEvaluator();
const thousand = performance.now();
for (let i = 0; i < 1000; i++) check(evaluateNext(reader.read(variant(i))));
result["1000 plans read, evaluated and checked"] = performance.now() - thousand;
const { tonight } = evaluate(readPlan(sample));
if (!tonight) throw new Error("the sample has no night");
const aim = aimPoint(tonight.spot.latitude, 90);
result["guide stars of a night, warm, median"] = median(times(200, () => guideStars(aim, tonight, { reach: 1 })));
const { spot } = tonight;
const year = (): void => {
	for (let day = 0; day < 365; day++) {
		const from = Date.UTC(2027, 0, 1, 10) + day * 86_400_000;
		nightOf(spot, { from, until: from + 86_400_000 }, 18);
	}
};
result["365 nights: Sun, Moon, darkness, warm, median"] = median(times(15, year).slice(5));
const seasonal = readPlan(sample);
const season = (): void => {
	const outcome = nightsOf(seasonal, { year: 2027, month: 1, day: 1 }, { year: 2027, month: 12, day: 31 });
	if (!outcome.ok || [...outcome.nights].length !== 365) throw new Error("the sample's nights cannot be searched");
};
result["365 nights of a plan: target, method, guide stars, warm, median"] = median(times(15, season).slice(5));
const checked = Array.from({ length: 60 }, (_, i) => {
	const evaluation = evaluate(readPlan(variant(i)));
	return { evaluation, findings: check(evaluation) };
});
result["page of a plan, warm, median"] = median(
	times(checked.length, (i) => {
		const { evaluation, findings } = checked[i] as (typeof checked)[number];
		pageBody(pageView(evaluation, findings));
	}).slice(10),
);
// The card is made of an evaluation that nobody has looked at yet: its minutes and steps are part of it.
const forCards = Array.from({ length: 40 }, (_, i) => {
	const text = variant(i + 100);
	const evaluation = evaluate(readPlan(text));
	return { path: "a.lode.yaml", text, evaluation, findings: check(evaluation) };
});
const environment = {
	now: 0,
	version: "",
	pageScript: "",
	paint: (text: string) => text,
	fromHere: (path: string) => path,
	fromRoot: (path: string) => path,
	ground: "light",
} as const;
result["card of a plan, warm, median"] = median(
	times(forCards.length, (i) => card.of.plan?.make(forCards[i] as (typeof forCards)[number], environment, "")).slice(
		10,
	),
);
result["one plan, warm, median"] = median(times(200, (i) => check(evaluate(readPlan(variant(i + 3))))));
process.stdout.write(JSON.stringify(result));
