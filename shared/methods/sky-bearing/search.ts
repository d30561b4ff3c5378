/** Bodies whose bearing can be taken tonight, ranked by the axis error that they leave. */
import { budgetOf } from "../../alignment/budget.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { degrees, errorDegrees } from "../../notation/angle.ts";
import { bearingWithPoint } from "../../notation/bearing.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { type Interval, totalMinutes } from "../../sky/intervals.ts";
import { fromSun, NEAR_SUN, sunAltitude } from "../../sky/night.ts";
import { BODY_NAMES } from "../../sky/place.ts";
import { starAt, starColumns } from "../../sky/stars.ts";
import { told } from "../../text/sentence.ts";
import { lateLast } from "../before-frames.ts";
import type { Candidate, Search } from "../method.ts";
import type { Tonight } from "../tonight.ts";
import { type Content, MINUTES, setUp } from "./set-up.ts";
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
export function bearingBodies({ uncertainty }: Content, tonight: Tonight): readonly BearingBody[] {
	const { magnitude } = starColumns();
	const names: string[] = BODY_NAMES.filter((name) => !["sun", "galactic-centre", "uranus", "neptune"].includes(name));
	magnitude.forEach((value, index) => {
		if (value < UNMISTAKABLE) names.push(starAt(index).name);
	});
	const found = names.flatMap((body): BearingBody[] => {
		const found = setUp({ body, ...(uncertainty ? { uncertainty } : {}) }, tonight);
		const { marks, obstacles, windows, at } = found;
		const [mark] = marks;
		if (obstacles.length > 0 || totalMinutes(windows) < SHORTEST_WINDOW || !mark || at === undefined) return [];
		// Nobody is sent to look for a body in the Sun's glare.
		if (sunAltitude(tonight.spot, at) > GLARES_FROM && fromSun(mark.direction, tonight.spot, at) < NEAR_SUN) return [];
		const { name, direction } = mark;
		const radius95 = budgetOf(found).radius95;
		return [{ name, keys: { body: name }, at, windows, direction, miss: undefined, radius95 }];
	});
	return lateLast(
		found.sort((a, b) => a.radius95 - b.radius95),
		tonight,
		MINUTES,
	);
}

/** The search as the rest of the house asks it. */
export const search: Search<Content, BearingBody> = {
	key: "body",
	momentary: false,
	timed: true,
	fills: false,
	find: (content, tonight, { most = MOST } = {}) =>
		tonight
			.remember(`bodies ${JSON.stringify(content.uncertainty ?? {})} ${tonight.due}`, () =>
				bearingBodies(content, tonight),
			)
			.slice(0, most),
	detail: ({ at, direction, radius95 }, clock) => words.detail(saidOf(at, direction, radius95, clock)),
	choice: ({ at, direction, radius95 }) => {
		const { altitude, bearing, error } = saidOf(at, direction, radius95, () => "");
		return words.choice({ altitude, bearing, error });
	},
	listing: {
		name: "bodies",
		always: false,
		record: ({ name, at, direction, radius95 }, iso) => ({
			name,
			at: iso(at),
			altitude: direction.altitude,
			bearing: direction.azimuth,
			axisError95: radius95,
		}),
		text: (found, clock) =>
			found.length === 0
				? []
				: [
						{ text: `\n${told(words.listHead())}\n` },
						...found.map(({ name, at, direction, radius95 }) => {
							const said = saidOf(at, direction, radius95, clock);
							return { text: `${name.padEnd(24)}${told(words.listLine({ ...said, at: said.at.padStart(8) }))}\n` };
						}),
					],
	},
};

const saidOf = (at: EpochMs, direction: Direction, radius95: number, clock: (at: EpochMs) => string) => ({
	at: clock(at),
	altitude: degrees(direction.altitude),
	bearing: bearingWithPoint(direction.azimuth),
	error: errorDegrees(radius95),
});
