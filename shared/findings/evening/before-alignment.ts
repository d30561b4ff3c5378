import type { EvaluatedMethod } from "../../cells/method/method.ts";
import { evaluateMethod } from "../../cells/method/method.ts";
import { type EpochMs, minuteUp } from "../../earth/zone.ts";
import { leadStarts } from "../../evaluate/evening/leads.ts";
import type { MethodContent } from "../../methods/methods.ts";
import { clockText } from "../../notation/clock.ts";
import { nightClock } from "../../notation/night-clock.ts";
import type { Cell } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, type Fix, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("evening/before-alignment", {
	title: "Correction before the alignment",
	about: `A drift test corrects an axis that another method has already set: the tracker must be running and roughly
		aligned. Before that there is nothing to correct, so the test is left out. Give it a later time, or no time:
		it is then placed after the alignment.`,
	message: `The {method} begins at {begins}, but the alignment it corrects is not finished until {done}: it is left
		out. Begin it later.`,
	after: "Begin the {method} at {begins}",
});

const drift = (first: string): readonly string[] => [
	'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true\nuncertainty: { aim: ± 0.2°, squareness: ± 0.2°, roll: ± 0.2°, level: ± 0.2° }',
	`kind: drift\nfirst: { star: Regulus, at: "${first}" }\nsecond: { star: Antares }`,
];

const DAY_SECONDS = 86_400;

export default rule({
	code: "evening/before-alignment",
	severity: "warning",
	whole: true,
	words,
	wrong: { method: drift("19:50") },
	right: { method: drift("20:13") },
	over: { method: drift("20:12") },
	*find({ evening, tasks, methods, night, tonight }) {
		const alignment = evening?.steps.find(({ kind, of }) => kind === "align" && of === evening.aligned);
		if (!evening || !tasks || !night || !tonight || !alignment) return;
		const sky = evening.steps.find(
			({ kind, of }) => kind === "sky" && tasks.tasks.targets[tasks.listed.indexOf(of ?? -1)]?.tracked,
		);
		const due = sky && (leadStarts(evening.steps).get(sky.of ?? -1) ?? sky.from);
		for (const [of, { cell, value }] of methods.entries()) {
			const begins = value?.begins;
			if (!value || begins === undefined || !tasks.tasks.aligns[of]?.corrects) continue;
			if (evening.steps.some((step) => step.kind === "align" && step.of === of) || begins >= alignment.until) continue;
			const [first = "kind"] = clocksOf(cell);
			yield {
				...at(cell, first),
				message: words.message({
					method: value.name,
					begins: nightClock(night, begins),
					done: nightClock(night, alignment.until),
				}),
				fixes: () => later(cell, value, alignment.until),
			};
		}

		/** All its clock times moved, where it works then and is done before the frames. */
		function later(cell: Cell, value: EvaluatedMethod, done: EpochMs): readonly Fix[] {
			const begins = minuteUp(done);
			const shift = begins - (value.begins ?? done);
			if (!tonight || !night || begins + value.takes * 1000 > (due ?? night.onSite.until)) return [];
			const moved = shifted(value.content, shift / 1000) as MethodContent;
			if (!evaluateMethod(moved, tonight)?.works) return [];
			const edits = clocksOf(cell).map((path) => replaceValue(cell, path, clockText(clockAt(moved, path))));
			return fix(words.after({ method: value.name, begins: nightClock(night, begins) }), false, ...edits);
		}
	},
});

/** Paths of the clock times that a method's cell has: the cell's own, those of its parts. */
const clocksOf = ({ read: { content, places } }: Cell): readonly string[] =>
	["at", ...Object.keys(content ?? {}).map((key) => `${key}.at`)].filter((path) => places.has(path));

/** The content of a cell with all its clock times moved. */
const shifted = (content: object, seconds: number): object =>
	Object.fromEntries(
		Object.entries(content).map(([key, value]) => [
			key,
			key === "at" && typeof value === "number"
				? (((value + seconds) % DAY_SECONDS) + DAY_SECONDS) % DAY_SECONDS
				: typeof value === "object" && value !== null && !Array.isArray(value)
					? shifted(value, seconds)
					: value,
		]),
	);

const clockAt = (content: object, path: string): number =>
	path
		.split(".")
		.reduce<unknown>((value, key) => (value as Record<string, unknown> | undefined)?.[key], content) as number;
