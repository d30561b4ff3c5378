import { carried } from "../../alignment/attitude.ts";
import { frameOf } from "../../alignment/frame-stars.ts";
import type { TimedFrame } from "../../cells/targets/frames.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/ground-climbs", {
	title: "Ground appears during tracking",
	about: `The tracker carries the camera with the sky: the frame rises or sinks with its target and rolls, and corners
		that showed sky on the first frame show ground on the last. Stacked frames lose that part of the picture. Begin
		earlier, take fewer frames, aim higher, or plan to crop.`,
	message: `As the tracker turns, the ground takes up more of the frame: {first} % of the first, {part} % from {time} on and
		{last} % of the last. Take fewer frames, aim higher or crop.`,
});

/** Part of the frame that the ground must gain to be worth a word. */
const GAIN = 0.1;
const MINUTE_MS = 60_000;

export default rule({
	code: "target/ground-climbs",
	severity: "info",
	words,
	wrong: {
		targets:
			'- name: lion over the gate\n  aim: Regulus\n  from: "19:10"\n  exposure: 60 s\n  frames: 120\n  trail: 4 px\n  foreground: true',
	},
	right: {
		targets:
			'- name: lion over the gate\n  aim: Regulus\n  from: "19:10"\n  exposure: 60 s\n  frames: 81\n  trail: 4 px\n  foreground: true',
	},
	over: {
		targets:
			'- name: lion over the gate\n  aim: Regulus\n  from: "19:10"\n  exposure: 60 s\n  frames: 82\n  trail: 4 px\n  foreground: true',
	},
	each: "target",
	*find(evaluation) {
		for (const { cell, target, clock, timePath } of eachTarget(evaluation)) {
			const frames = target.frames?.() ?? [];
			const [first, last] = [frames[0], frames.at(-1)];
			if (!target.tracked || !first || !last || last.hidden - first.hidden <= GAIN) continue;
			yield {
				...at(cell, timePath),
				message: words.message({
					time: clock(climbsAt(first, last)),
					part: Math.round(100 * (first.hidden + GAIN)),
					last: Math.round(100 * last.hidden),
					first: Math.round(100 * first.hidden),
				}),
			};
		}
	},
});

/** The minute from which on more is hidden than on the first frame, by the gain. */
function climbsAt(first: TimedFrame, last: TimedFrame): EpochMs {
	const { shot } = first;
	const hiddenAt = (at: EpochMs): number =>
		frameOf({ ...shot, attitude: carried(shot.attitude, shot.spot.latitude, (at - first.at) / 1000, shot.rate) })
			.hidden;
	const start = Math.ceil(first.at / MINUTE_MS);
	let [before, after] = [start, Math.ceil(last.at / MINUTE_MS)];
	while (after - before > 1) {
		const middle = Math.floor((before + after) / 2);
		if (hiddenAt(middle * MINUTE_MS) > first.hidden + GAIN) after = middle;
		else before = middle;
	}
	return after * MINUTE_MS;
}
