/** What the core takes: run in a process of its own by bench.mjs. Prints medians in milliseconds as JSON. */
import { readFileSync } from "node:fs";
import { aimPoint } from "../../shared/alignment/aim-point.ts";
import { guideStars } from "../../shared/alignment/guide-stars.ts";
import { check } from "../../shared/findings/check.ts";
import { PlanReader, readPlan } from "../../shared/plan/plan.ts";
import { createReckoner, reckon } from "../../shared/reckon.ts";

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
// As `lodebook check` does: one reader and one reckoner for all files.
const reader = new PlanReader();
const reckonNext = createReckoner();
const thousand = performance.now();
for (let i = 0; i < 1000; i++) check(reckonNext(reader.read(variant(i))));
result["1000 plans read, reckoned and checked"] = performance.now() - thousand;
const { tonight } = reckon(readPlan(sample));
if (!tonight) throw new Error("the sample has no night");
const aim = aimPoint(tonight.stand.latitude, 90);
result["guide stars of a night, warm, median"] = median(times(200, () => guideStars(aim, tonight, { reach: 1 })));
result["one plan, warm, median"] = median(times(200, (i) => check(reckon(readPlan(variant(i + 3))))));
process.stdout.write(JSON.stringify(result));
