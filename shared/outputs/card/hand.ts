/** What hands set to align: tilt, bearing, clock, and the numbers of each minute. */
import { type EvaluatedMethod, tiltToSet } from "../../cells/method/method.ts";
import type { EpochMs } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { degrees } from "../../notation/angle.ts";
import { compassText, trueBearingText } from "../../notation/bearing.ts";
import { told } from "../../text/sentence.ts";
import { exactNightClock, nightClock, nightSpan } from "../clock.ts";
import { fallbacksBy, latestStart } from "../evening.ts";
import { methodHeading } from "../method-state.ts";
import { finderView } from "../page/finder.ts";
import { pointingOf, pointingText } from "../pointing.ts";
import { words } from "./words.ts";

export interface HandView {
	/** What it is done by: `Align: square-laser`. */
	readonly heading: string;
	/** What the scale must show. */
	readonly tilt: string;
	/** Of the axis, by the compass and true; the compass reading is empty where the declination is not known. */
	readonly compass: string;
	readonly bearing: string;
	/** The minute at which it is done, or from when to when where any will do; empty where the evening has no place for it. */
	readonly clock: string;
	/** How late it may begin, a sentence; empty where it cannot be later. */
	readonly latest: string;
	/** What of the sky it is aligned by: where that is, and the way to it from a bright star; empty where it needs none. */
	readonly star: string;
	/** What to do instead, and from when on; one sentence each. */
	readonly fallbacks: readonly string[];
	readonly minutes: HandMinutes | undefined;
}

/** Numbers that change with the clock. */
export interface HandMinutes {
	readonly labels: readonly string[];
	/** The planned minute, where the plan says one. */
	readonly planned: EpochMs | undefined;
	/** The first tracked frame: before it one can still be late. */
	readonly until: EpochMs;
	readonly rows: readonly { readonly at: EpochMs; readonly clock: string; readonly texts: readonly string[] }[];
}

/** Of the method that the targets count on; undefined where none works tonight. */
export function handView(evaluation: Evaluation): HandView | undefined {
	const { aligned, night, field, methods, evening } = evaluation;
	if (!aligned?.works || !night) return undefined;
	const { setUp, content } = aligned;
	const step = evening?.steps.find(
		({ kind, of }) => kind === "align" && of !== undefined && methods[of]?.value === aligned,
	);
	const clock =
		setUp.at !== undefined && (content.at !== undefined || aligned.minutes().length > 0)
			? exactNightClock(night, setUp.at)
			: step
				? nightSpan(night, step)
				: "";
	const latest = step && latestStart(step, evaluation);
	return {
		heading: methodHeading(0, aligned.name),
		tilt: degrees(tiltToSet(aligned)),
		compass: field ? compassText(setUp.bearing - field.declination) : "",
		bearing: trueBearingText(setUp.bearing),
		clock,
		latest: latest
			? withFrames(
					told(words.beginBy({ time: nightClock(night, latest.at) })),
					latest.frames === undefined ? undefined : nightClock(night, latest.frames),
				)
			: "",
		star: starToFind(aligned, evaluation),
		fallbacks: fallbacksBy(evaluation).map((one) =>
			withFrames(
				told(one.end === undefined ? words.notDone({ ...one }) : words.notDoneEnds({ ...one, end: one.end })),
				one.frames,
			),
		),
		minutes: minutesOfHand(aligned, evaluation),
	};
}

/** With when the frames then begin, where that is later than planned. */
const withFrames = (said: string, frames: string | undefined): string =>
	frames === undefined ? said : `${said} ${told(words.framesFrom({ frames }))}`;

function starToFind(aligned: EvaluatedMethod, { site, night, field }: Evaluation): string {
	const finder = finderView(aligned, site, night);
	const mark = aligned.setUp.marks.find(({ name }) => name === finder?.name);
	if (!finder || !mark) return "";
	const { name, clock, from } = finder;
	const pointing = pointingText(pointingOf(mark.direction, { field }));
	return told(words.star({ name, clock, pointing, way: from?.way ?? "" }));
}

function minutesOfHand(aligned: EvaluatedMethod, { night, evening, targets }: Evaluation): HandMinutes | undefined {
	const rows = aligned.everyMinute();
	const [first] = rows;
	if (!night || !first) return undefined;
	const frames = evening?.steps.find(({ kind, of }) => kind === "sky" && targets?.value?.[of ?? -1]?.tracked);
	return {
		labels: first.values.map(({ label }) => label),
		planned: aligned.content.at === undefined ? undefined : aligned.setUp.at,
		until: frames?.from ?? night.onSite.until,
		rows: rows.map(({ at, values }) => ({
			at,
			clock: exactNightClock(night, at),
			texts: values.map(({ text }) => text),
		})),
	};
}
