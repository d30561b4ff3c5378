/** A finder chart: the sky around a mark as one faces it, upright for the minute at which it is used. */
import type { EvaluatedMethod } from "../../cells/method/method.ts";
import type { EvaluatedNight } from "../../cells/night/night.ts";
import type { EvaluatedSite } from "../../cells/site/site.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { rememberedBy } from "../../memory/memory.ts";
import { degrees } from "../../notation/angle.ts";
import { brightness } from "../../sky/brightness.ts";
import { hiddenBy } from "../../sky/cover.ts";
import { frameNear, type SkyFrame } from "../../sky/frame.ts";
import { type Direction, toVector } from "../../sky/horizontal.ts";
import { apparentDirection, type SkyBody, type Spot, vectorOfDate } from "../../sky/place.ts";
import { starAt, starColumns, starVector } from "../../sky/stars.ts";
import { cross, DEG, dot, halfTurn, RAD, separation, unit, type Vector } from "../../sky/vector.ts";
import { type Phrase, told } from "../../text/sentence.ts";
import { exactNightClock } from "../clock.ts";
import { words } from "./words.ts";

/** A place on the chart: degrees to the right of its middle and above it. */
type Place = readonly [right: number, up: number];

export interface FinderView {
	readonly name: string;
	readonly clock: string;
	readonly stars: readonly { readonly at: Place; readonly magnitude: number }[];
	/** Names of the brightest, which do not stand in each other's way. */
	readonly names: readonly { readonly at: Place; readonly name: string }[];
	/** A bright star from which the eye goes to the mark; it may lie outside. */
	readonly from: { readonly at: Place; readonly name: string; readonly way: string } | undefined;
	/** Where the pointer's beam or sight belongs. */
	readonly beam: Place | undefined;
	readonly sight: boolean;
	readonly alternative: string;
}

/** Degrees from the middle to the edge. */
export const FINDER_RADIUS = 10;
/** As faint as an eye sees where it is not quite dark. */
const FAINTEST = 5.5;
/** Stars that have a name on the chart. */
const NAMED = 4;
const MOST_NAMES = 5;
/** Degrees between two names. */
const NAME_ROOM = 3;
/** A star that is found without a chart, and how far from it an eye still goes its way. */
const FOUND_AT_ONCE = 2;
const LONGEST_WAY = 30;
/** Lower stars are lost in haze, degrees. Common practice, no source. */
const LOWEST_LEADER = 5;
/** A star that is brighter by a magnitude may be so much further away, degrees. Common practice, no source. */
const WAY_FOR_MAGNITUDE = 6;

/** Of the first mark in the sky; undefined where a method has none or no time. */
export const finderView = rememberedBy(chartOf, 1);

function chartOf(
	{ setUp }: EvaluatedMethod,
	site: EvaluatedSite | undefined,
	night: EvaluatedNight | undefined,
): FinderView | undefined {
	const mark = setUp.marks.find(({ body }) => body && body.type !== "sun" && body.type !== "moon");
	const { at, pictures } = setUp;
	if (!site || !night || !mark?.body || at === undefined) return undefined;
	const { spot } = site;
	const place = placing(mark.direction);
	const around = starsAround(mark.body, spot, at);
	const seen = (index: number): Direction => apparentDirection(bodyOf(index), spot, at);
	const own = mark.body.type === "star" ? mark.body.star.index : -1;
	const stars = around(FINDER_RADIUS, FAINTEST).map((index) => ({
		index,
		at: place(seen(index)),
		magnitude: magnitudeOf(index),
	}));
	const bright = around(LONGEST_WAY, FOUND_AT_ONCE)
		.filter((index) => index !== own)
		.map((index) => ({ index, seen: seen(index) }))
		.filter((one) => one.seen.altitude >= LOWEST_LEADER && !hiddenBy(site.cover, one.seen));
	const from = isFoundAtOnce(mark.body, at) ? undefined : leaderOf(bright, mark.direction);
	const leader = from && { at: place(from.seen), seen: from.seen, name: starAt(from.index).name };
	const beam = pictures.aim && place(pictures.aim);
	const way = leader && told(words.wayFrom({ name: leader.name, way: wayOver(leader.seen, mark.direction) }));
	const clock = exactNightClock(night, at);
	return {
		name: mark.name,
		clock,
		stars: stars.map(({ at: where, magnitude }) => ({ at: where, magnitude })),
		names: spread(
			stars
				.filter(({ index, magnitude }) => index !== own && magnitude <= NAMED)
				.sort((a, b) => a.magnitude - b.magnitude)
				.map(({ index, at: where }) => ({ at: where, name: starAt(index).name })),
		),
		from: leader && { at: leader.at, name: leader.name, way: way ?? "" },
		beam,
		sight: pictures.pointer?.sight ?? false,
		alternative: told(
			words.finder({
				name: mark.name,
				clock,
				way: way ?? "",
				beam: beam ? words.finderBeam() : "",
			}),
		),
	};
}

const magnitudeOf = (index: number): number => starColumns().magnitude[index] ?? Number.POSITIVE_INFINITY;

const bodyOf = (index: number): SkyBody => {
	const star = starAt(index);
	return { type: "star", name: star.name, star };
};

/** Stereographic, from the middle of the chart: shapes near it keep their form. */
function placing(middle: Direction): (direction: Direction) => Place {
	const forward = toVector(middle);
	const up = toVector({ azimuth: middle.azimuth, altitude: middle.altitude + 90 });
	const right = cross(forward, up);
	return (direction) => {
		const vector = toVector(direction);
		const scale = (2 / (1 + dot(vector, forward))) * DEG;
		return [scale * dot(vector, right), scale * dot(vector, up)];
	};
}

/** Stars so near a body and so bright. */
function starsAround(body: SkyBody, spot: Spot, at: EpochMs): (radius: number, faintest: number) => readonly number[] {
	const frame: SkyFrame = frameNear(at);
	const middle: Vector = unit(vectorOfDate(body, spot, at, frame));
	const { magnitude, declination } = starColumns();
	const height = Math.asin(middle[2]) * DEG;
	return (radius, faintest) => {
		const found: number[] = [];
		const nearest = Math.cos(radius * RAD);
		magnitude.forEach((one, index) => {
			// A degree for what the sky has turned since J2000.
			if (one > faintest || Math.abs((declination[index] ?? 0) - height) > radius + 1) return;
			if (dot(starVector(index, frame), middle) >= nearest) found.push(index);
		});
		return found;
	};
}

/** Nobody is led to what is found at once. */
const isFoundAtOnce = (mark: SkyBody, at: EpochMs): boolean =>
	(mark.type === "star" ? mark.star.magnitude : (brightness(mark, at) ?? 0)) <= FOUND_AT_ONCE;

interface Leader {
	readonly index: number;
	readonly seen: Direction;
}

/** The star in view to begin with: a near one, or a bright one that makes up for a longer way. */
function leaderOf(inView: readonly Leader[], mark: Direction): Leader | undefined {
	const middle = toVector(mark);
	const cost = ({ index, seen }: Leader): number =>
		separation(toVector(seen), middle) + WAY_FOR_MAGNITUDE * magnitudeOf(index);
	return [...inView].sort((a, b) => cost(a) - cost(b))[0];
}

/** The first of those that are not near one that is there already, nor near the middle, which has its own. */
function spread(names: FinderView["names"]): FinderView["names"] {
	const kept: { readonly at: Place; readonly name: string }[] = [];
	for (const one of names) {
		const isFree =
			(Math.abs(one.at[0]) > 2 * NAME_ROOM || Math.abs(one.at[1]) > NAME_ROOM) &&
			kept.every(
				({ at: [right, up] }) => Math.abs(right - one.at[0]) > 2 * NAME_ROOM || Math.abs(up - one.at[1]) > 1.2,
			);
		if (isFree && Math.hypot(...one.at) < FINDER_RADIUS - 0.5) kept.push(one);
		if (kept.length === MOST_NAMES) break;
	}
	return kept;
}

/**
 * The way over the sky, as fists measure it: along the horizon at the height of where one begins, then straight up or
 * down. On a flat chart of one of the two it would be somewhere else: by some degrees, over more than a few fists.
 */
function wayOver(from: Direction, to: Direction): Phrase {
	const half = (halfTurn(to.azimuth - from.azimuth) / 2) * RAD;
	const across = 2 * Math.asin(Math.cos(from.altitude * RAD) * Math.sin(half)) * DEG;
	const up = to.altitude - from.altitude;
	const [first, then] = [
		wayPart(across, words.toRight(), words.toLeft()),
		wayPart(up, words.straightUp(), words.straightDown()),
	];
	return first && then ? words.wayThen({ across: first, along: then }) : (first ?? then ?? words.wayNone());
}

/** Nothing for what rounds to nothing. */
const wayPart = (value: number, plus: Phrase, minus: Phrase): Phrase | undefined =>
	Math.abs(value) < 0.05
		? undefined
		: words.wayPart({ angle: degrees(Math.abs(value), 1), side: value > 0 ? plus : minus });
