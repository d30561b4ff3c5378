/**
 * A pointer fixed on the turning plate, at an angle θ to the axis. Turned from one star to another of declination
 * 90° − θ it must meet both; each miss says how the axis is off (`alignment/pairs.ts`).
 *
 * An axis error e brings a star e · n nearer to the axis, so that the pointer passes it at a distance d = D − θ − e · n
 * (D: polar distance, d positive when the star is outside the pointer's circle). A clock error turns both stars and
 * changes nothing; a pointer that is not at θ shows in both misses alike.
 *
 * Stars of exactly that declination are rare. With the axis on the pole the pointer passes each star at D − θ, and that
 * is what the steps ask for: how far from the star, and on which side. Meeting the stars themselves would leave the axis
 * at e · n = D − θ of both (`asAimed`: a degree and more). Distances are told to a tenth of a degree; what the rounding
 * leaves is the expected axis, e · n = (D − θ) − (as told).
 */
import { type AxisVector, hemisphere, poleBearing } from "../../alignment/axis-error.ts";
import { combine, fromPole, isTooClose, solvePair } from "../../alignment/pairs.ts";
import { DEFAULT_OFFSET, DEFAULT_REACH, missOf } from "../../alignment/pointer.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { list, optional, starName } from "../../notation/shape.ts";
import { type Interval, longest } from "../../sky/intervals.ts";
import { findBody, hourPlaceOf, type SkyBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { DEG, halfTurn, turn } from "../../sky/vector.ts";
import { inTime, minutesTaken } from "../before-frames.ts";
import { type CommonContent, type ContentOf, POINTER_KEYS } from "../common-keys.ts";
import type { Mark, Obstacle, SetUp } from "../method.ts";
import { minuteNear, onMinutes } from "../minutes.ts";
import { aimSource, POINTED_WITH_KEYS } from "../pointed-with.ts";
import { canSight, markOf, sightObstacles } from "../sight.ts";
import { source } from "../source.ts";
import { axisNumbers, type Tonight } from "../tonight.ts";
import { words } from "./words.ts";

const STEP_MS = 600_000;

/** Its own keys. */
export const keys = {
	stars: optional(list(starName(), { min: 2, max: 2 }), {
		doc: "the two stars.",
		example: "[Spica, eta Virginis]",
	}),
	...POINTER_KEYS,
	...POINTED_WITH_KEYS,
};

export type Content = ContentOf<typeof keys> & CommonContent;

export interface SweepSetUp extends SetUp {
	/** Angle between axis and pointer, degrees. */
	readonly offset: number;
	/** Hour angle between the stars, degrees. */
	readonly spread: number | undefined;
	/** How the pointer passes each of the marks when the axis is right. */
	readonly passes: readonly SweepPass[];
	/** Axis error if the pointer met both stars as they are, degrees. */
	readonly asAimed: AxisVector | undefined;
	/** What one degree of miss at each star says about the axis, degrees. */
	readonly perMiss: readonly [AxisVector, AxisVector] | undefined;
}

/** How the pointer passes a star when the axis is right. */
export interface SweepPass {
	/** How far the star is outside the circle that the pointer sweeps, on the side away from the pole; inside negative, degrees. */
	readonly outside: number;
	/** The same as the steps tell it. */
	readonly told: number;
	/** Where the pointer passes, as seen from the star: degrees clockwise from straight up, as one faces it. */
	readonly way: number;
}

/** What it takes. Common practice, no source. */
export const MINUTES = 15;

/** Everything about it tonight. */
export function setUp(content: Content, tonight: Tonight): SweepSetUp {
	const { spot, onSite, zone } = tonight;
	const offset = content.offset ?? DEFAULT_OFFSET;
	const reach = content.reach ?? DEFAULT_REACH;
	const obstacles: Obstacle[] = [];
	const names = content.stars ?? [];
	const bodies = names.map((name) => findBody(name));
	if (names.length < 2) obstacles.push({ type: "needs-key", key: "stars" });
	bodies.forEach((body, i) => {
		if (!body) obstacles.push({ type: "unknown-name", key: `stars.${i}`, name: names[i] as string });
	});
	const [first, second] = bodies;
	let windows: readonly Interval[] = [];
	let at: EpochMs | undefined;
	let stars: readonly [SeenStar, SeenStar] | undefined;
	if (first && second) {
		const works = (t: EpochMs): boolean => canSight(first, tonight, t) && canSight(second, tonight, t);
		windows = onMinutes(whereTrue(works, onSite, STEP_MS), works, zone);
		const window = longest(inTime(windows, tonight, minutesTaken(content, MINUTES)));
		const middle = window && minuteNear((window.from + window.until) / 2, windows, works, zone);
		at = content.at === undefined ? middle : tonight.instant(content.at);
		if (at === undefined) obstacles.push({ type: "no-window" });
		else stars = [seen(first, 0, tonight, at), seen(second, 1, tonight, at)];
	}
	if (stars && at !== undefined) {
		for (const { mark, polarDistance } of stars) {
			const { name, key } = mark;
			const least = Math.abs(polarDistance - offset);
			if (least > reach) obstacles.push({ type: "never-near", name, key, least, reach, to: words.circle() });
			obstacles.push(...sightObstacles(mark, mark.body, mark.direction, tonight, at));
		}
	}
	const [one, other] = stars ?? [];
	const spread = one && other && Math.abs(halfTurn(other.hourAngle - one.hourAngle));
	if (spread !== undefined && isTooClose(spread)) obstacles.push({ type: "pair-too-close", spread, key: "stars" });
	const perMiss =
		one && other && solvePair(fromPole(one.hourAngle, spot.latitude), fromPole(other.hourAngle, spot.latitude));
	const [perFirst, perSecond] = perMiss ?? [
		{ along: 1, across: 0 },
		{ along: 0, across: 1 },
	];
	const passes = (stars ?? []).map((star) => passOf(star, offset, tonight));
	const [past, pastOther] = passes;
	return {
		...axisNumbers(tonight),
		...(past && pastOther
			? { bias: combine([perFirst, perSecond], past.outside - past.told, pastOther.outside - pastOther.told) }
			: {}),
		offset,
		spread,
		passes,
		markMiss: one && Math.abs(one.polarDistance - offset),
		asAimed: perMiss && one && other && combine(perMiss, one.polarDistance - offset, other.polarDistance - offset),
		perMiss,
		at,
		windows,
		marks: (stars ?? []).map(({ mark }) => mark),
		obstacles,
		pictures: {},
		sources: [
			aimSource(content, tonight, [perFirst, perSecond]),
			source("squareness", content, tonight, [combine([perFirst, perSecond], -1, -1)]),
			source("body", content, tonight, [perFirst, perSecond]),
		],
	};
}

/** How the pointer must pass the stars at another minute, and what a miss of each then says about the axis. */
export interface SweepMinute {
	readonly passes: readonly [SweepPass, SweepPass];
	readonly perMiss: readonly [AxisVector, AxisVector];
}

/** Undefined where the two can tell nothing apart. */
export function sweepAt({ marks, offset }: SweepSetUp, tonight: Tonight, at: EpochMs): SweepMinute | undefined {
	const [one, other] = marks.flatMap(({ body }, i) => (body ? [seen(body, i, tonight, at)] : []));
	if (!one || !other) return undefined;
	const { latitude } = tonight.spot;
	const perMiss = solvePair(fromPole(one.hourAngle, latitude), fromPole(other.hourAngle, latitude));
	return perMiss && { passes: [passOf(one, offset, tonight), passOf(other, offset, tonight)], perMiss };
}

interface SeenStar {
	readonly mark: Mark & { readonly body: SkyBody };
	readonly hourAngle: number;
	readonly polarDistance: number;
}

/** As it is seen: refraction lifts a star, and the pointer is put on what is seen. */
function seen(body: SkyBody, index: number, tonight: Tonight, at: EpochMs): SeenStar {
	const { spot } = tonight;
	const mark = markOf(body, `stars.${index}`, tonight, at);
	const place = hourPlaceOf({ ...spot, air: { pressure: 0, temperature: 0 } }, mark.direction);
	return {
		mark,
		hourAngle: place.hourAngleRad * DEG,
		polarDistance: 90 - hemisphere(spot.latitude) * place.declinationRad * DEG,
	};
}

function passOf({ mark, polarDistance }: SeenStar, offset: number, { spot }: Tonight): SweepPass {
	const outside = polarDistance - offset;
	const pole = { azimuth: poleBearing(spot.latitude), altitude: Math.abs(spot.latitude) };
	const { right, up } = missOf(mark.direction, pole);
	const side = outside < 0 ? -1 : 1;
	return {
		outside,
		told: Math.round(outside * 10) / 10,
		way: turn(Math.atan2(side * right, side * up) * DEG),
	};
}
