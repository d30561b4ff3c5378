/** Bodies whose bearing can be taken tonight, ranked by the axis error that they leave. */
import { radius95Of } from "../../alignment/budget.ts";
import { degrees, errorDegrees } from "../../notation/angle.ts";
import { bearingWithPoint } from "../../notation/bearing.ts";
import { nightClock } from "../../notation/night-clock.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { type Interval, totalMinutes } from "../../sky/intervals.ts";
import { fromSun, NEAR_SUN, sunAltitude } from "../../sky/night.ts";
import { BODY_NAMES, findBody, type SkyBody } from "../../sky/place.ts";
import { starsBrighterThan } from "../../sky/stars.ts";
import { lateLast, minutesTaken } from "../before-frames.ts";
import type { Candidate, Search } from "../method.ts";
import type { Tonight } from "../tonight.ts";
import { type Content, MINUTES, setUpWith, windowsOf } from "./set-up.ts";
import { words } from "./words.ts";

/** A body to take a bearing from. */
export interface BearingBody extends Candidate {
	readonly windows: readonly Interval[];
	readonly direction: Direction;
	/** Axis error that it leaves, 95 %, degrees. */
	readonly radius95: number;
}

/** Stars bright enough to be found without a map: V. Common practice, no source. */
const UNMISTAKABLE = 1.3;
/** A window shorter than this is not worth planning on, minutes. */
const SHORTEST_WINDOW = 10;
const MOST = 12;
/** The Sun glares where it is from this altitude on, degrees. Common practice, no source. */
const GLARES_FROM = -8;

/** Planets, the Moon and unmistakable stars whose bearing can be taken tonight, the finest first; never the Sun. */
export function bearingBodies(content: Content, tonight: Tonight): readonly BearingBody[] {
	const { uncertainty, takes } = content;
	const own = { ...(uncertainty && { uncertainty }), ...(takes !== undefined && { takes }) };
	if (!tonight.tools.scales) return [];
	const found = bodies().flatMap((body): BearingBody[] => {
		if (totalMinutes(windowsOf(body, tonight)) < SHORTEST_WINDOW) return [];
		const found = setUpWith(body, { body: body.name, ...own }, tonight);
		const { marks, obstacles, windows, at } = found;
		const [mark] = marks;
		if (obstacles.length > 0 || !mark || at === undefined) return [];
		// Nobody is sent to look for a body in the Sun's glare.
		if (sunAltitude(tonight.spot, at) > GLARES_FROM && fromSun(mark.direction, tonight.spot, at) < NEAR_SUN) return [];
		const { name, direction } = mark;
		const radius95 = radius95Of(found);
		return [{ name, keys: { body: name }, at, windows, direction, miss: undefined, radius95 }];
	});
	return lateLast(
		found.sort((a, b) => a.radius95 - b.radius95),
		tonight,
		minutesTaken(content, MINUTES),
	);
}

/** What is looked for on any night. */
const bodies = (): readonly SkyBody[] => [
	...BODY_NAMES.filter((name) => !["sun", "galactic-centre", "uranus", "neptune"].includes(name)).flatMap(
		(name) => findBody(name) ?? [],
	),
	...starsBrighterThan(UNMISTAKABLE).map((star): SkyBody => ({ type: "star", name: star.name, star })),
];

/** The search as the rest of the house asks it. */
export const search: Search<Content, BearingBody> = {
	key: "body",
	momentary: false,
	timed: true,
	fills: false,
	find: (content, tonight, { most = MOST } = {}) =>
		tonight
			.remember(`bodies ${JSON.stringify(content.uncertainty ?? {})} ${content.takes} ${tonight.due}`, () =>
				bearingBodies(content, tonight),
			)
			.slice(0, most),
	detail: (found, night) => words.detail({ ...saidOf(found), at: nightClock(night, found.at) }),
	choice: (found) => words.choice(saidOf(found)),
};

/** What is said of one of them, on every face. */
export const saidOf = ({ direction, radius95 }: BearingBody) => ({
	altitude: degrees(direction.altitude),
	bearing: bearingWithPoint(direction.azimuth),
	error: errorDegrees(radius95),
});
