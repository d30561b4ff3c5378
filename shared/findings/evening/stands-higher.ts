import { type EvaluatedTarget, isOfArcs } from "../../cells/targets/target.ts";
import { clockOf, type EpochMs, minuteDown, minuteUp } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { eveningOf, type PlanTasks } from "../../evaluate/evening/of-plan.ts";
import { degrees } from "../../notation/angle.ts";
import { nightClock, nightInterval } from "../../notation/night-clock.ts";
import { airMass } from "../../sky/extinction.ts";
import type { Interval } from "../../sky/intervals.ts";
import { equatorialPlace, type SkyBody, type Spot } from "../../sky/place.ts";
import { separation } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule, setKey } from "../finding.ts";
import { eachTarget } from "../target/each.ts";

const words = sentences("evening/stands-higher", {
	title: "Target without a time, taken while it is low",
	about: `A target that has no time in the plan is taken as soon as there is room for it, so that an evening ends early. That
		may be while it has only just come into view, low in the haze. At 15° the light passes through nearly four times as
		much air as overhead. Where the target loses 0.3 magnitudes less later in the evening (a quarter of its light), with
		all planned frames still taken, this note says when. Write that time, or the one that your composition needs: a
		landscape often wants the sky low.`,
	message: `{name} has no time in the plan and is taken {times}, at altitude {altitude}, where the air dims it by {loss} mag.
		From {begin} it is at {highest}, and loses {least} mag. Give it a time.`,
	change: "Begin {name} at {begin}",
});

/** Magnitudes that are worth another time: a quarter of the light. Common practice, no source. */
const WORTH = 0.3;
/** Magnitudes from the best that nobody waits for. Common practice, no source. */
const AS_GOOD = 0.1;
const STEP_MS = 600_000;
/** Of the sky's turn, milliseconds: IAU 1982, Aoki et al., Astronomy and Astrophysics 105 (1982) 359. */
const SIDEREAL_DAY_MS = 86_164_090.5;

const untimed = (time = ""): { readonly targets: string } => ({
	targets: `- name: cloud\n  aim: M24\n${time}  exposure: 60 s\n  frames: 30\n  foreground: true`,
});

export default rule({
	code: "evening/stands-higher",
	severity: "info",
	words,
	wrong: untimed(),
	instead: untimed('  at: "23:30"\n'),
	right: [untimed('  at: "20:40"\n'), { targets: untimed().targets.replace("M24", "Antares") }],
	*find(evaluation) {
		const { site, tasks, evening } = evaluation;
		if (!site || !tasks || !evening) return;
		const lossAt = (altitude: number): number => site.extinction * airMass(altitude);
		for (const { cell, target, night } of eachTarget(evaluation)) {
			const { name, index, body, series, directionAt } = target;
			if (!body || !isFree(target)) continue;
			const length = series.until - series.from;
			const altitudeFrom = (start: EpochMs): number => directionAt(start + length / 2).altitude;
			const altitude = altitudeFrom(series.from);
			const loss = lossAt(altitude);
			// Nothing is dimmed by less than one air mass.
			if (altitude < 0 || loss - site.extinction < WORTH || isJoined(index, tasks)) continue;
			const starts = startsOf(body, site.spot, series, target.usable);
			const least = Math.min(...starts.map((start) => lossAt(altitudeFrom(start))));
			if (loss - least < WORTH || evening.leftOut.some(({ kind, of }) => kind === "sky" && of === index)) continue;
			const begin = starts
				.filter((start) => lossAt(altitudeFrom(start)) <= least + AS_GOOD)
				.sort((one, other) => one - other)
				.find((start) => loss - lossAt(altitudeFrom(start)) >= WORTH && keepsAll(evaluation, index, start));
			if (begin === undefined) continue;
			const clock = nightClock(night, begin);
			const highest = altitudeFrom(begin);
			yield {
				...at(cell, `${index}.name`),
				message: words.message({
					name,
					times: nightInterval(night, series),
					altitude: degrees(altitude, 0),
					loss: loss.toFixed(1),
					begin: clock,
					highest: degrees(highest, 0),
					least: lossAt(highest).toFixed(1),
				}),
				fixes: () =>
					fix(words.change({ name, begin: clock }), false, setKey(cell, `${index}`, "at", clockOf(night.zone, begin))),
			};
		}
	},
});

/** Whether another time is as good for its picture: a single one of the night's sky, which the plan gives no time. */
const isFree = ({ timed, body, needsDark, usable, entry, panorama, limits }: EvaluatedTarget): boolean =>
	!timed &&
	needsDark &&
	body?.type !== "arch" &&
	panorama === undefined &&
	!isOfArcs(entry) &&
	usable.length > 0 &&
	limits !== undefined;

/** Degrees; frames of one lens that are nearer to each other may be for one picture. */
const JOINED = 30;

/** Whether it may be one of several that are joined, and so are taken one after the other. */
function isJoined(index: number, { tasks, listed }: PlanTasks): boolean {
	const own = tasks.targets[listed.indexOf(index)];
	return tasks.targets.some(
		(one) => own && one !== own && one.lens === own.lens && separation(one.toward, own.toward) < JOINED,
	);
}

/**
 * When a series may begin: in each window every ten minutes, and with its middle as near the meridian as that allows; on
 * whole minutes.
 */
function startsOf(body: SkyBody, spot: Spot, { from, until }: Interval, windows: readonly Interval[]): EpochMs[] {
	const length = until - from;
	const middle = from + length / 2;
	const transit = middle - (equatorialPlace(body, spot, middle).hourAngle / 360) * SIDEREAL_DAY_MS;
	return windows.flatMap((window) => {
		const [first, last] = [minuteUp(window.from), minuteDown(window.until - length)];
		if (first > last) return [];
		const steps = Array.from({ length: Math.floor((last - first) / STEP_MS) + 1 }, (_, i) => first + i * STEP_MS);
		const best = [-1, 0, 1].map((days) => minuteUp(transit + days * SIDEREAL_DAY_MS - length / 2));
		return [...steps, ...best.map((wish) => Math.min(last, Math.max(first, wish)))];
	});
}

/** Whether the evening has room for all that it has room for now when a target begins at a time. */
function keepsAll({ tasks, evening, night }: Evaluation, index: number, start: EpochMs): boolean {
	if (!tasks || !evening || !night) return false;
	const place = tasks.listed.indexOf(index);
	const targets = tasks.tasks.targets.map((one, i) => (i === place ? { ...one, at: start } : one));
	const moved = eveningOf({ ...tasks, tasks: { ...tasks.tasks, targets } });
	return (
		moved !== undefined &&
		moved.aligned === evening.aligned &&
		moved.leftOut.length <= evening.leftOut.length &&
		moved.clashes.length <= evening.clashes.length
	);
}
