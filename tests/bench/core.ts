/** What the core takes: run in a process of its own by bench.mjs. Prints medians in milliseconds as JSON. */
import { readFileSync } from "node:fs";
import { aimPoint } from "../../shared/alignment/pointer.ts";
import { createEvaluator, evaluate } from "../../shared/evaluate/evaluate.ts";
import { eveningOf } from "../../shared/evaluate/evening/of-plan.ts";
import { nightsOf } from "../../shared/evaluate/nights.ts";
import { check } from "../../shared/findings/check.ts";
import { guideStars } from "../../shared/methods/square-laser/search.ts";
import { EXAMPLE_LINE } from "../../shared/notation/shape.ts";
import { card } from "../../shared/outputs/card/card.tsx";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { PlanReader, readPlan } from "../../shared/plan/plan.ts";
import { PlanJoiner } from "../../shared/plan/reuse.ts";
import { nightOf } from "../../shared/sky/night.ts";
import { readHgt } from "../../shared/terrain/hgt.ts";
import { surveyGround } from "../../shared/terrain/survey.ts";
import { PLAIN } from "../plain-environment.ts";

const sample = readFileSync(process.env.LODEBOOK_SAMPLE as string, "utf8");
const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1] as number;
const p95 = (values: number[]): number => values.sort((a, b) => a - b)[Math.ceil(values.length * 0.95) - 1] as number;
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
/** The sample with twenty targets, half of them with a time of their own. */
const twenty = evaluate(
	readPlan(
		sample.replace(
			/^targets:[\s\S]*?(?=^---)/m,
			`targets:\n${Array.from({ length: 20 }, (_, i) => {
				const from =
					i % 2 === 0 ? `    from: "${20 + Math.floor(i / 4)}:${String((i * 15) % 60).padStart(2, "0")}"\n` : "";
				return `  - name: target ${i}\n    aim: galactic-centre\n    exposure: 60 s\n    frames: 4\n${from}`;
			}).join("")}`,
		),
	),
).tasks;
if (twenty?.tasks.targets.length !== 20) throw new Error("the plan has not twenty targets");
result["evening of twenty targets, warm, median"] = median(times(200, () => eveningOf(twenty)).slice(50));
/** Twelve kits on one evening, no two alike; every `round` has others. */
function groupAt(round: number) {
	const part = (kind: string): string =>
		sample.split(/^---$/m).find((cell) => cell.trim().startsWith(`${kind}:`)) ?? "";
	const methods = [
		part("method"),
		"\nmethod: { kind: compass }\n",
		"\nmethod: { kind: landmark-bearing, landmark: water tower }\n",
	];
	const kits = new Map(
		Array.from({ length: 12 }, (_, i) => [
			`${i}.lode.yaml`,
			readPlan(
				[
					part("lens").replace("24 mm", `${14 + 3 * i} mm`),
					part("tracker"),
					methods[i % 3],
					methods[(i + 1) % 3],
					part("targets").replace("90 s", `${40 + 3 * i + round} s`),
				].join("---"),
			),
		]),
	);
	const members = [...kits.keys()].map((path, i) => `  - { name: kit ${i}, from: ${path} }\n`).join("");
	const text = `plan: { title: Twelve, kind: group }\n---${part("site")}---${part("night")}---\ngroup:\n${members}`;
	const joiner = new PlanJoiner();
	const reads = new PlanReader();
	return (note: string) =>
		joiner.join(reads.read(`${text}---\nnote: ${note}\n`), "group.lode.yaml", (path) => {
			const plan = kits.get(path);
			return plan ? { plan } : { missing: "not-found" };
		});
}
const groups = Array.from({ length: 12 }, (_, i) => groupAt(i));
result["a group's evening, twelve different kits, warm, median"] = median(
	times(groups.length, (i) => createEvaluator()((groups[i] as (typeof groups)[number])("first")).group).slice(4),
);
const [oneGroup] = groups;
if (!oneGroup) throw new Error("there is no group");
const evaluateGroup = createEvaluator();
if (evaluateGroup(oneGroup("first")).group?.kits.length !== 12) throw new Error("the group has not twelve kits");
result["the same checked again after an edit elsewhere, median"] = median(
	times(24, (i) => check(evaluateGroup(oneGroup(`edit ${i}`)))).slice(4),
);
const checked = Array.from({ length: 60 }, (_, i) => {
	const evaluation = evaluate(readPlan(variant(i)));
	return { evaluation, findings: check(evaluation) };
});
const pages = times(checked.length, (i) => {
	const { evaluation, findings } = checked[i] as (typeof checked)[number];
	pageBody(pageView(evaluation, findings));
}).slice(10);
result["page of a plan, warm, median"] = median(pages);
result["page of a plan, warm, p95"] = p95(pages);
// The card is made of an evaluation that nobody has looked at yet: its minutes and steps are part of it.
const forCards = Array.from({ length: 40 }, (_, i) => {
	const text = variant(i + 100);
	const evaluation = evaluate(readPlan(text));
	return { path: "a.lode.yaml", text, evaluation, findings: check(evaluation) };
});
const environment = { ...PLAIN, explanation: (code: string) => `explained:${code}` };
const cards = times(forCards.length, (i) =>
	card.of.plan?.make(forCards[i] as (typeof forCards)[number], environment, ""),
).slice(10);
result["card of a plan, warm, median"] = median(cards);
result["card of a plan, warm, p95"] = p95(cards);
result["one plan, warm, median"] = median(times(200, (i) => check(evaluate(readPlan(variant(i + 3))))));
// A plan of another aim, evaluated anew on another night each time, with all that is told of its targets.
const aimed = (aim: string): number =>
	median(
		times(120, (i) => {
			const evaluation = evaluate(readPlan(variant(i).replace("aim: galactic-centre", `aim: ${aim}`)));
			check(evaluation);
			return evaluation.targets && evaluation.valuesOf(evaluation.targets.cell);
		}).slice(20),
	);
result["one plan of a comet with all its values, warm, median"] = aimed(`{ comet: "${EXAMPLE_LINE}" }`);
result["one plan of the arch and its panorama with all its values, warm, median"] = aimed(
	"milky-way-arch\n    panorama: {}",
);
horizon().then((took) => {
	result["horizon, 360° over 100 km of 3″ tiles, on one core, median"] = took;
	process.stdout.write(JSON.stringify(result));
});

/** Hills all around 46.5° N, 8.5° E, as the bytes of 3″ tiles: every tile that has ground within 100 km. */
async function horizon(): Promise<number> {
	const side = 1201;
	const tiles: { readonly name: string; readonly bytes: Buffer }[] = [];
	for (let south = 45; south <= 47; south++)
		for (let west = 7; west <= 9; west++) {
			const bytes = Buffer.alloc(2 * side * side);
			for (let row = 0; row < side; row++)
				for (let column = 0; column < side; column++) {
					const [y, x] = [south + 1 - row / (side - 1), west + column / (side - 1)];
					const hills = Math.sin(40 * x) * Math.cos(55 * y) + 0.4 * Math.sin(310 * x + 170 * y);
					bytes.writeInt16BE(Math.round(1200 + 700 * hills), 2 * (row * side + column));
				}
			tiles.push({ name: `N${south}E00${west}.hgt`, bytes });
		}
	const took: number[] = [];
	for (let i = 0; i < 5; i++) {
		const start = performance.now();
		const survey = await surveyGround(
			tiles.map(({ name, bytes }) => ({
				load: async () => {
					const tile = readHgt(name, bytes);
					return "code" in tile ? undefined : tile;
				},
			})),
			{ latitude: 46.5, longitude: 8.5, eyeHeight: 1.7, reach: 100_000 },
		);
		took.push(performance.now() - start);
		if ("code" in survey || survey.points.length < 20) throw new Error("the hills make no horizon");
	}
	return median(took);
}
