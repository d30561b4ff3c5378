/**
 * Tilt by scale, bearing by turning the pan from a star, a planet, the Moon, or the Sun's shadow.
 *
 * Pan offset = pole's bearing − body's bearing at the time − the tracker's constant error. On the sky, across the
 * meridian: one degree of turn or of bearing counts cos φ; a sideways aim on the body cos φ / cos h (useless high up); a
 * second of clock cos φ · dA/dt. A head off level: `alignment/level.ts`.
 *
 * The shadow of a thread lies in one vertical plane with the thread and the Sun, however high the Sun is. The shadow is
 * made to run along the axis from end to end: an axis that is ε off that plane is ε / cos φ off in bearing, and the turn
 * to the pole keeps that. On the sky it is ε, and the Sun's altitude is not in it.
 */
import { levelOfTurn } from "../../alignment/level.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { bodyName, optional } from "../../notation/shape.ts";
import { type Interval, longest } from "../../sky/intervals.ts";
import { type AltitudeBand, altitudeBand, apparentDirection, findBody, type SkyBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { halfTurn, RAD } from "../../sky/vector.ts";
import { inTime, minutesTaken } from "../before-frames.ts";
import type { CommonContent, ContentOf } from "../common-keys.ts";
import { spoken } from "../mark-values.ts";
import type { Mark, Obstacle, SetUp } from "../method.ts";
import { minuteNear, onMinutes } from "../minutes.ts";
import type { PanTurn } from "../pan-values.ts";
import { canSightWithin, markOf, sightObstacles } from "../sight.ts";
import { source } from "../source.ts";
import { axisNumbers, cosLatitude, type Tonight, turnToSet } from "../tonight.ts";

/** Above this a bearing from the body is too coarse to use, degrees. Common practice, no source. */
const HIGHEST_BODY = 65;
/** Below this haze, hills and refraction's whims spoil a sight, degrees. Common practice, no source. */
const LOWEST_BODY = 5;
/** A shadow is long enough to be laid along from here down, degrees. Common practice, no source. */
const HIGHEST_SUN = 60;
/** How well an axis is laid along a shadow, degrees. Common practice, no source. */
const SHADOW_AIM = 0.5;
const STEP_MS = 300_000;

/** Its own keys. */
export const keys = {
	body: optional(bodyName(), {
		doc: "star, planet, Moon, or the Sun (by its shadow only).",
		example: "Jupiter",
	}),
};

export type Content = ContentOf<typeof keys> & CommonContent;

export interface BearingSetUp extends SetUp {
	readonly pan: PanTurn | undefined;
}

/** What it takes. Common practice, no source. */
export const MINUTES = 8;

/** Everything about it tonight. */
export const setUp = (content: Content, tonight: Tonight): BearingSetUp =>
	setUpWith(content.body === undefined ? undefined : findBody(content.body), content, tonight);

/** The same of a body that was found already. */
export function setUpWith(body: SkyBody | undefined, content: Content, tonight: Tonight): BearingSetUp {
	const { spot, tools, zone } = tonight;
	const obstacles: Obstacle[] = tools.scales ? [] : [{ type: "needs-scales" }];
	const numbers = axisNumbers(tonight);
	const { body: name } = content;
	let at: EpochMs | undefined;
	let windows: readonly Interval[] = [];
	let mark: Mark | undefined;
	let rate = 0;
	if (name === undefined) obstacles.push({ type: "needs-key", key: "body" });
	else if (!body) obstacles.push({ type: "unknown-name", key: "body", name });
	else {
		const { highest } = bandOf(body);
		const works = worksWith(body, tonight);
		if (obstacles.length === 0) windows = windowsOf(body, tonight);
		const wish =
			content.at === undefined
				? firstGoodIn(longest(inTime(windows, tonight, minutesTaken(content, MINUTES))), body, tonight)
				: undefined;
		at = content.at === undefined ? wish && minuteNear(wish, windows, works, zone) : tonight.instant(content.at);
		if (at === undefined) obstacles.push({ type: "no-window" });
		else {
			mark = markOf(body, "body", tonight, at);
			const { direction } = mark;
			rate = halfTurn(apparentDirection(body, spot, at + 60_000).azimuth - direction.azimuth);
			obstacles.push(...sightObstacles(mark, body, direction, tonight, at));
			if (direction.altitude > highest) {
				const { name: called, key } = mark;
				obstacles.push({ type: "too-high", name: called, key, at, altitude: direction.altitude, limit: highest });
			}
		}
	}
	const pan = mark && { offset: turnToSet(numbers.bearing - mark.direction.azimuth, tonight), rate: -rate };
	const altitude = mark?.direction.altitude ?? 0;
	const turnFromPole = mark ? halfTurn(mark.direction.azimuth - numbers.bearing) : 0;
	const perSecond = mark ? Math.abs(rate) / 60 : 15 / 3600;
	const perDegree = cosLatitude(tonight);
	const perAim = perDegree / Math.max(0.02, Math.cos(altitude * RAD));
	const shadow = body?.type === "sun";
	return {
		...numbers,
		at,
		windows,
		marks: mark ? [mark] : [],
		pan,
		obstacles,
		pictures:
			mark && pan
				? {
						turn: {
							pole: numbers.bearing,
							mark: mark.direction.azimuth,
							markName: spoken(mark.name),
							offset: pan.offset,
						},
					}
				: {},
		sources: [
			source("tilt-scale", content, tonight, [{ along: 1, across: 0 }]),
			source("level", content, tonight, levelOfTurn(spot.latitude, turnFromPole)),
			source("pan-scale", content, tonight, [{ along: 0, across: perDegree }]),
			shadow
				? source("aim", content, tonight, [{ along: 0, across: 1 }], SHADOW_AIM)
				: source("aim", content, tonight, [{ along: 0, across: perAim }]),
			source("clock", content, tonight, [{ along: 0, across: perDegree * perSecond }]),
			source("body", content, tonight, [{ along: 0, across: perAim }]),
		],
	};
}

/** Altitudes at which a bearing can be taken from a body. */
const bandOf = ({ type }: SkyBody): AltitudeBand => (type === "sun" ? OF_SUN : OF_BODY);
const OF_SUN = altitudeBand(LOWEST_BODY, HIGHEST_SUN);
const OF_BODY = altitudeBand(LOWEST_BODY, HIGHEST_BODY);

/** Whether a bearing can be taken from a body at an instant. */
const worksWith =
	(body: SkyBody, tonight: Tonight) =>
	(at: EpochMs): boolean =>
		canSightWithin(bandOf(body), body, tonight, at);

/** When a bearing can be taken from a body tonight. */
export const windowsOf = (body: SkyBody, tonight: Tonight): readonly Interval[] =>
	tonight.remember(`bearing-windows ${body.name}`, () => {
		const works = worksWith(body, tonight);
		return onMinutes(whereTrue(works, tonight.onSite, STEP_MS), works, tonight.zone);
	});

/** Moments of a window. */
const LOOKED_AT = 9;

/** How much dearer a bearing may be than the cheapest and still be taken sooner. Common practice, no source. */
const AS_GOOD = 1.2;

/**
 * The first moment well inside a window at which a bearing costs hardly more than it ever does there: the lower the body,
 * the less, but one aligns at the first good sight and keeps the rest for another.
 */
function firstGoodIn(window: Interval | undefined, body: SkyBody, { spot }: Tonight): EpochMs | undefined {
	if (!window) return undefined;
	const moments = Array.from({ length: LOOKED_AT }, (_, i) => {
		const at = window.from + ((window.until - window.from) * (i + 0.5)) / LOOKED_AT;
		return { at, cost: 1 / Math.cos(apparentDirection(body, spot, at).altitude * RAD) };
	});
	const least = Math.min(...moments.map(({ cost }) => cost));
	return moments.find(({ cost }) => cost <= AS_GOOD * least)?.at;
}
