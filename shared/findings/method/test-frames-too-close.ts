import { clockOf, type EpochMs, minuteUp, wallClock } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { TestFrame } from "../../methods/method.ts";
import { minutesText } from "../../notation/duration.ts";
import { exactNightClock, nightClock } from "../../notation/night-clock.ts";
import type { Cell } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, type Fix, fix, rule, setKey } from "../finding.ts";

const words = sentences("method/test-frames-too-close", {
	title: "Not enough time between two test frames",
	about: `A drift test takes one frame on each of two stars. In between you look at the first frame, turn the camera
		to the other star, aim and let the tracker settle: 5 min as a rule (common practice, no source). With less
		time the second frame starts late, and its drift is measured at another time than the plan says. If the two
		frames overlap, the camera cannot take both, and this is a warning. Give the second a later time; the time in
		the plan is the middle of each frame.`,
	overlap: `The test frame on {second} would begin at {begin}, but the one on {first} runs until {end}. Take it at {at} or
		later (the middle of the frame).`,
	close: `Only {gap} between the test frames on {first} and {second}: looking at the first frame, turning and aiming take
		about {usual}. Take the second at {at} or later (the middle of the frame).`,
	none: "no time",
	change: "Take the frame on {name} at {at}",
});

const drift = (second: string, frame = "4 min") => ({
	method: `kind: drift\nfirst: { star: Spica, at: "21:10" }\nsecond: { star: Antares, at: "${second}", frame: ${frame} }`,
});

export default rule({
	code: "method/test-frames-too-close",
	severity: "info",
	words,
	wrong: drift("21:14"),
	instead: drift("21:19"),
	right: [drift("21:19"), drift("21:20", "6 min")],
	over: [drift("21:18"), drift("21:19", "6 min")],
	*find(evaluation) {
		const { night, methods } = evaluation;
		if (!night) return;
		for (const { cell, value: method } of methods) {
			const frames = method?.setUp.testFrames ?? [];
			for (const [i, second] of frames.entries()) {
				const first = frames[i - 1];
				if (!first || second.from >= first.free) continue;
				const middle = minuteUp(first.free + (second.until - second.from) / 2);
				const clock = (moment: EpochMs): string => exactNightClock(night, moment);
				const said = { first: first.of, second: second.of, at: nightClock(night, middle) };
				const isOverlap = second.from < first.until;
				yield {
					...at(cell, `${second.key}.at`),
					...(isOverlap && { severity: "warning" }),
					message: isOverlap
						? words.overlap({ ...said, begin: clock(second.from), end: clock(first.until) })
						: words.close({
								...said,
								gap: gapText(first, second),
								usual: minutesText((first.free - first.until) / 60_000),
							}),
					fixes: () => later(evaluation, cell, second, middle),
				};
			}
		}
	},
});

const gapText = (first: TestFrame, second: TestFrame) =>
	second.from === first.until ? words.none() : minutesText((second.from - first.until) / 60_000);

/** The second frame later, where its star is still in view then. */
function later(
	{ night, tonight, methods }: Evaluation,
	cell: Cell,
	{ key, of }: TestFrame,
	middle: EpochMs,
): readonly Fix[] {
	const one = methods.find((method) => method.cell === cell)?.value;
	if (!one || !night || !tonight) return [];
	const { content, method, setUp } = one;
	const own = (content as unknown as Readonly<Record<string, object>>)[key];
	const moved = { ...content, [key]: { ...own, at: wallClock(night.zone, middle).secondsOfDay } } as typeof content;
	if (method.setUp(moved, tonight).obstacles.length > setUp.obstacles.length) return [];
	const time = clockOf(night.zone, middle);
	return fix(words.change({ name: of, at: nightClock(night, middle) }), false, setKey(cell, key, "at", time));
}
