/** Pairs of stars for a sweep tonight, ranked by the axis error that they leave. */
import { hemisphere } from "../../alignment/axis-error.ts";
import { radius95Of } from "../../alignment/budget.ts";
import { isTooClose } from "../../alignment/pairs.ts";
import { DEFAULT_OFFSET, DEFAULT_REACH } from "../../alignment/pointer.ts";
import { degrees, errorDegrees } from "../../notation/angle.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { type Interval, totalMinutes } from "../../sky/intervals.ts";
import { starAt, starColumns } from "../../sky/stars.ts";
import { told } from "../../text/sentence.ts";
import { lateLast, minutesTaken } from "../before-frames.ts";
import type { Candidate, Search } from "../method.ts";
import { canSight } from "../sight.ts";
import type { Tonight } from "../tonight.ts";
import { type Content, MINUTES, setUp } from "./set-up.ts";
import { words } from "./words.ts";

/** Two stars for a sweep. */
export interface SweepPair extends Candidate {
	readonly names: readonly [string, string];
	readonly windows: readonly Interval[];
	/** Hour angle between them, degrees. */
	readonly spread: number;
	/** Axis error that it leaves, 95 %, degrees. */
	readonly radius95: number;
}

/** Stars of a sweep are looked for down to this magnitude, and at most this many are paired. */
const SWEEP_FAINTEST = 4;
const PAIRED = 14;
/** A window shorter than this is not worth planning on, minutes. */
const SHORTEST_WINDOW = 10;
/** How far precession moves a star from its catalogue's declination until 2040, degrees. */
const PRECESSION_MARGIN = 0.3;
const MOST = 8;

/** Pairs of stars within reach of the circle that the pointer sweeps, both in view at once, the finest first. */
export function sweepPairs(content: Content, tonight: Tonight): readonly SweepPair[] {
	const { uncertainty, pointer, takes, offset = DEFAULT_OFFSET, reach = DEFAULT_REACH } = content;
	const { declination, magnitude, rightAscension } = starColumns();
	const circle = hemisphere(tonight.spot.latitude) * (90 - offset);
	const candidates: number[] = [];
	declination.forEach((value, index) => {
		const near = Math.abs(value - circle) <= reach + PRECESSION_MARGIN;
		if (near && (magnitude[index] as number) <= SWEEP_FAINTEST) candidates.push(index);
	});
	const moments = tonight.night.sunDark
		.flatMap(({ from, until }) => Array.from({ length: 7 }, (_, i) => from + ((until - from) * i) / 6))
		.filter((at) => at >= tonight.onSite.from && at <= tonight.onSite.until);
	const seen = candidates
		.filter((index) => {
			const star = starAt(index);
			return moments.some((at) => canSight({ type: "star", name: star.name, star }, tonight, at));
		})
		.sort((a, b) => (magnitude[a] as number) - (magnitude[b] as number))
		.slice(0, PAIRED);
	const pairs: SweepPair[] = [];
	seen.forEach((first, i) => {
		for (const second of seen.slice(i + 1)) {
			const turn = (rightAscension[first] as number) - (rightAscension[second] as number);
			if (isTooClose(Math.abs(((turn + 540) % 360) - 180))) continue;
			const names = [starAt(first).name, starAt(second).name] as const;
			const own = {
				stars: names,
				offset,
				reach,
				...(uncertainty ? { uncertainty } : {}),
				...(pointer ? { pointer } : {}),
				...(takes === undefined ? {} : { takes }),
			};
			const found = setUp(own, tonight);
			const { obstacles, windows, at, spread } = found;
			const works = obstacles.length === 0 && totalMinutes(windows) >= SHORTEST_WINDOW;
			if (!works || at === undefined || spread === undefined) continue;
			pairs.push({
				name: told(words.pair({ first: names[0], second: names[1] })),
				names,
				keys: { stars: names },
				at,
				windows,
				direction: undefined,
				miss: undefined,
				spread,
				radius95: radius95Of(found),
			});
		}
	});
	return lateLast(
		pairs.sort((a, b) => a.radius95 - b.radius95),
		tonight,
		minutesTaken(content, MINUTES),
	);
}

/** The search as the rest of the house asks it. */
export const search: Search<Content, SweepPair> = {
	key: "stars",
	momentary: false,
	timed: false,
	fills: true,
	find: (content, tonight, { most = MOST } = {}) => {
		const { uncertainty = {}, offset, reach, pointer, takes } = content;
		return tonight
			.remember(`pairs ${offset} ${reach} ${JSON.stringify(uncertainty)} ${pointer} ${takes} ${tonight.due}`, () =>
				sweepPairs(content, tonight),
			)
			.slice(0, most);
	},
	detail: (found, night) => words.detail({ ...saidOf(found), at: nightClock(night, found.at) }),
	choice: (found) => words.choice(saidOf(found)),
};

/** What is said of one of them, on every face. */
export const saidOf = ({ spread, radius95 }: SweepPair) => ({
	spread: degrees(spread, 0),
	error: errorDegrees(radius95),
});
