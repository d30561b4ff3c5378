/** What methods print: no two values under one label, times where numbers hold for a minute, cautions before their step. */
import { describe, expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { intervalText } from "../../shared/notation/interval.ts";
import { spreadText } from "../../shared/notation/spread.ts";
import { methodStateText } from "../../shared/outputs/method-state.ts";
import { minutesOf } from "../../shared/outputs/minutes.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { methodReference } from "../../shared/outputs/reference/reference.ts";
import { told } from "../../shared/text/sentence.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const CELLS = {
	"pole-sighting": "",
	compass: "",
	"sky-bearing": "body: Spica",
	"landmark-bearing": "landmark: water tower",
	"square-laser": "guide-star: eta Virginis\nlocal-rules-checked: true",
	"star-sweep": "stars: [Alphard, zeta Virginis]\nreach: 9°\nlocal-rules-checked: true",
	phone: "",
	drift: 'first: { star: Spica, at: "21:00" }\nsecond: { star: Antares, at: "21:20" }',
};

const plan = (kind: string, more: string, changes: object = {}): string =>
	planWith({ method: `kind: ${kind}\n${more}`.trimEnd(), ...changes });

const evaluated = (text: string) => {
	const evaluation = evaluateText(text);
	const [method] = evaluation.methods;
	if (!method?.value) throw new Error(text);
	return { evaluation, cell: method.cell, method: method.value };
};
const said = (text: string): readonly string[] =>
	evaluated(text)
		.method.steps()
		.map(({ say }) => told(say));

describe.each(Object.entries(CELLS))("%s", (kind, more) => {
	test("has no two values of the same label", () => {
		const { evaluation, cell } = evaluated(plan(kind, more));
		const labels = evaluation.valuesOf(cell).map(({ label }) => label);
		expect(labels.filter((label, i) => labels.indexOf(label) !== i)).toEqual([]);
	});

	test("shows no bare minus in its values and steps", () => {
		const { evaluation, cell } = evaluated(plan(kind, more));
		const texts = evaluation.valuesOf(cell).map(({ text }) => text);
		expect([...texts, ...said(plan(kind, more))].filter((text) => /(^|\s)[−-]\d/.test(text))).toEqual([]);
	});
});

test("the steps of a sweep say the minute that its stars' places are for", () => {
	const { method } = evaluated(plan("star-sweep", CELLS["star-sweep"]));
	const timed = method.steps().filter(({ at }) => at !== undefined);
	expect(timed).toHaveLength(1);
	expect(timed[0]?.at).toBe(method.setUp.at);
	expect(told(timed[0]?.say as never)).toMatch(/^At \d\d:\d\d turn the plate/);
});

test("a faint pole star is put in its place when eyes are used to the dark; a bright one as soon as it is seen", () => {
	const open = (latitude: string, star = "") => {
		const site = `name: Open\nlatitude: ${latitude}\nlongitude: 20 E\ntimezone: Etc/UTC`;
		return evaluated(plan("pole-sighting", star, { site, night: "date: 2027-06-05" })).method;
	};
	const minutesIn = ({ setUp: { at, windows } }: ReturnType<typeof open>) =>
		((at ?? 0) - Math.min(...windows.map(({ from }) => from))) / 60_000;
	expect(open("40 S").works).toBe(true);
	expect(minutesIn(open("40 S"))).toBeGreaterThanOrEqual(20);
	expect(minutesIn(open("40 S"))).toBeLessThanOrEqual(30);
	expect(minutesIn(open("40 N"))).toBeLessThan(1);
});

test("a method that fails at its time alone says when it works", () => {
	const text = plan("square-laser", `${CELLS["square-laser"]}\nat: "22:50"`);
	const { evaluation } = evaluated(text);
	const [view] = pageView(evaluation, check(evaluation)).methods;
	if (!view) throw new Error("no method");
	expect(view.works).toBe(false);
	expect(methodStateText(view, { whyIsTold: true })).toMatch(
		/^The right-angle laser does not work at 22:50; it works \d\d:\d\d–\d\d:\d\d\./,
	);
	// Nothing at any time: that is said as ever.
	const never = evaluated(plan("square-laser", 'guide-star: Polaris\nlocal-rules-checked: true\nat: "22:50"'));
	const [none] = pageView(never.evaluation, check(never.evaluation)).methods;
	expect(methodStateText(none as never, { whyIsTold: true })).toMatch(/^The right-angle laser does not work tonight\./);
});

test("windows are told by the minutes inside them", () => {
	const at = (clock: string) => Date.parse(`2027-06-05T${clock}Z`);
	const text = (from: string, until: string) => intervalText("Etc/UTC", { from: at(from), until: at(until) });
	expect(text("20:00:10", "21:00:50")).toBe("20:01–21:00");
	expect(text("20:00:00", "21:00:00")).toBe("20:00–21:00");
	expect(text("20:00:10", "20:01:50")).toBe("20:01");
	expect(text("20:00:10", "20:00:50")).toMatch(/^20:0\d–20:0\d$/);
	// A star as a target is in view as long as it can be sighted, to the minute.
	const site = "name: Open\nlatitude: 32.4123 S\nlongitude: 24.5 E\nskyline: [[0, 10]]\ntimezone: Etc/UTC";
	const night = 'date: 2027-06-05\narrive: "21:00"\nleave: "01:00"';
	const targets = "- { name: Spica, aim: Spica, exposure: 5 s, tracked: false }";
	const { evaluation, method } = evaluated(plan("sky-bearing", "body: Spica", { site, night, targets }));
	const target = evaluation.targets?.value?.[0];
	// Above 65° a bearing is too coarse: both end where the star goes below the skyline, or with the stay.
	const last = (list: readonly { readonly from: number; readonly until: number }[] | undefined) =>
		intervalText("Etc/UTC", (list ?? []).at(-1) as never).slice(-5);
	expect(last(method.setUp.windows)).toBe(last(target?.inView));
});

test("a table is called by its steps, and a time that the plan does not give is not called planned", () => {
	const first = (more: string) => {
		const { evaluation, cell } = evaluated(plan("sky-bearing", `body: Spica\n${more}`.trimEnd()));
		const [table] = minutesOf(evaluation, cell);
		return { title: table?.title, planned: table?.rows.find(({ planned }) => planned)?.columns[0] };
	};
	expect(first("").planned).toMatch(/, best$/);
	expect(first('at: "20:10"').planned).toBe("20:10, planned");
	expect(first("").title).toBe("Every five minutes");
	const { evaluation, cell } = evaluated(plan("square-laser", CELLS["square-laser"]));
	expect(minutesOf(evaluation, cell)[0]?.title).toBe("Minute by minute");
});

test("the star that a guide star is easily taken for is named in the step", () => {
	const near = plan("square-laser", "guide-star: Mintaka\nlocal-rules-checked: true", { night: "date: 2027-12-20" });
	expect(said(near).find((step) => step.includes("put the beam"))).toMatch(/Do not mistake .+ for it: 1\.\d° away/);
	expect(said(plan("square-laser", CELLS["square-laser"])).join(" ")).not.toContain("Do not take");
});

test("a caution comes before what it is for, and the laser is off before anything is moved or locked", () => {
	const order = (text: string, ...words: readonly RegExp[]) => {
		const all = said(text).join("\n");
		const places = words.map((word) => all.search(word));
		expect(places, all).not.toContain(-1);
		expect(places).toEqual([...places].sort((a, b) => a - b));
	};
	order(
		plan("square-laser", CELLS["square-laser"]),
		/Look and listen/,
		/put the beam/,
		/Switch the laser off, then lock/,
	);
	order(
		plan("star-sweep", CELLS["star-sweep"]),
		/Look and listen/,
		/At \d\d:\d\d turn the plate/,
		/Switch the laser off\. Correct/,
	);
	order(
		plan("sky-bearing", 'body: Sun\nat: "17:05"'),
		/Never look at the Sun/,
		/turn the pan until the thread.s shadow/,
	);
});

test("the page calls a sight a sight", () => {
	const of = (pointer: string) => {
		const { evaluation } = evaluated(plan("square-laser", `${CELLS["square-laser"]}\npointer: ${pointer}`));
		return pageView(evaluation, []).methods[0]?.alignment;
	};
	expect(String(of("sight")?.alternative)).not.toMatch(/laser/i);
	expect(of("sight")?.pointer?.sight).toBe(true);
	expect(String(of("laser")?.alternative)).toMatch(/the laser/);
});

test("the methods' page tells the ± that each method counts with, those of the evaluation", () => {
	const page = methodReference();
	for (const [kind, more] of Object.entries(CELLS)) {
		const [, part = ""] = new RegExp(`## ${kind}\\n([^]*?)(?=\\n## |$)`).exec(page) ?? [];
		const { setUp } = evaluated(plan(kind, more, { tracker: "head: geared" })).method;
		for (const { name, spread, unit } of setUp.sources)
			expect(part, kind).toContain(`\`${name}\` ± ${spreadText(spread, unit)}`);
	}
});
