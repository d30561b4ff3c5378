/**
 * A frame, or several through one lens, solved: found spots, stars named, the camera's attitude, its lens, and how the
 * stars were drawn out. Directions are (east, north, up) as they are seen over the spot at each frame's middle.
 */
import type { Attitude } from "../alignment/attitude.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Spot as Site } from "../sky/place.ts";
import type { Vector } from "../sky/vector.ts";
import { type FoundSpots, findSpots, type Picture, type Spot } from "./find-stars.ts";
import { type Fit, type Freedom, fitFrames, type Sighting } from "./fit.ts";
import {
	type Identification,
	identify,
	type Match,
	matchesOf,
	type Search,
	sightingsOf,
	starsShown,
} from "./identify.ts";
import { type LensMap, pixelOf, rayAt } from "./lens-map.ts";
import { type NamedSky, skyOver } from "./star-sky.ts";

/** What was found on a frame and which stars they are. */
export interface ReadFrame {
	readonly at: EpochMs;
	readonly width: number;
	readonly height: number;
	readonly found: FoundSpots;
	readonly sky: NamedSky;
	/** Undefined where the stars were not identified. */
	readonly known: Identification | undefined;
	/** Whether the plan's expectation was enough, or the whole sky was searched. */
	readonly blind: boolean;
}

/** A star of a solved frame. */
export interface SolvedStar {
	readonly name: string;
	readonly magnitude: number;
	readonly direction: Vector;
	readonly spot: Spot;
	/** Where the fit has it: pixels right and up of the middle. */
	readonly fitted: readonly [right: number, up: number];
}

export interface SolvedFrame extends ReadFrame {
	readonly known: Identification;
	readonly attitude: Attitude;
	readonly stars: readonly SolvedStar[];
	/** Covariance of turns about right, up and forward, radians squared. */
	readonly covariance: readonly Float64Array[];
}

export interface SolvedFrames {
	readonly frames: readonly SolvedFrame[];
	readonly map: LensMap;
	/** Whether the stars were enough to solve all of the lens, distortion and axis included. */
	readonly lensKnown: boolean;
	readonly rms: number;
}

/** Finds and names the stars of a picture. `around`: the lens as it is written on it. */
export function readFrame(picture: Picture, at: EpochMs, site: Site, around: LensMap, search: Search): ReadFrame {
	const found = findSpots(picture);
	const sky = skyOver(site, at);
	const { width, height } = picture;
	const near = search.near && identify(found.spots, sky, around, search);
	const known = near ?? identify(found.spots, sky, around);
	return { at, width, height, found, sky, known, blind: near === undefined };
}

/** Stars that a fit needs, so that the distortion's main term and the axis are solved too. */
const FOR_BENT = 10;
const FOR_LENS = 20;
/** Frames that solve the lens together at most. */
const MOST_TOGETHER = 6;

/**
 * Solves frames through one lens together: a lens that is solved a little wrong then turns all of them alike, and the
 * turn from one to another is as it was. Frames whose stars were not identified are left out.
 */
export function solveFrames(read: readonly ReadFrame[], around: LensMap): SolvedFrames | undefined {
	const known = read.filter((one): one is ReadFrame & { readonly known: Identification } => one.known !== undefined);
	const [first] = known;
	if (!first) return undefined;
	const best = [...known].sort((a, b) => b.known.matches.length - a.known.matches.length).slice(0, MOST_TOGETHER);
	let map = (best[0] as (typeof known)[number]).known.map;
	let rms = first.known.rms;
	let held = known.map(({ known: { attitude } }) => attitude);
	let matched = known.map(({ known: { matches } }) => matches);
	const freedom = (): Freedom => {
		const most = Math.max(...matched.map(({ length }) => length));
		return most < FOR_BENT ? "focal" : most < FOR_LENS ? "bent" : "lens";
	};
	let fits: readonly Fit[] = [];
	for (let round = 0; round < 3; round++) {
		const within = round === 0 ? Math.max(2.5, (5 * map.width) / 6000) : Math.max(1.2, 5 * rms);
		matched = known.map(({ found: { spots }, sky, known: { matches } }, i) => {
			const shown = starsShown(sky, held[i] as Attitude, map, 600);
			const used = spots.map((_, k) => k).slice(0, Math.max(40, 3 * shown.length));
			const next = matchesOf(spots, used, shown, map, within);
			return next.length >= Math.min(6, matches.length) ? next : matches;
		});
		const framesOf = (which: readonly number[]) =>
			which.map((i) => ({
				sightings: weighted(known[i] as ReadFrame, matched[i] as readonly Match[]),
				attitude: held[i] as Attitude,
			}));
		const together = best.map((one) => known.indexOf(one));
		const fit = fitFrames(framesOf(together), map, freedom(), within, around);
		const moved = farthest(map, fit.map);
		map = fit.map;
		rms = fit.rms;
		// The lens's axis and a frame's attitude stand for each other: what the fit moved of one, it moved of the other.
		held = held.map((own, i) => fit.attitudes[together.indexOf(i)] ?? own);
		// Those that solved the lens have come along with it already; the others are as far from their places as it moved.
		held = held.map((own, i) =>
			together.includes(i)
				? own
				: (fitFrames(framesOf([i]), map, "attitude", within + 2 * moved, around).attitudes[0] as Attitude),
		);
		fits = known.map((_, i) => fitFrames(framesOf([i]), map, "attitude", within, around));
		held = fits.map(({ attitudes: [attitude] }) => attitude as Attitude);
	}
	return {
		map,
		lensKnown: freedom() === "lens",
		rms,
		frames: known.map((one, i): SolvedFrame => {
			const matches = matched[i] as readonly Match[];
			const attitude = held[i] as Attitude;
			const places = new Map(starsShown(one.sky, attitude, map, 100_000).map((shown) => [shown.star, shown] as const));
			return {
				...one,
				attitude,
				covariance: (fits[i] as Fit).covariance,
				stars: matches.flatMap(({ found, star }): readonly SolvedStar[] => {
					const place = places.get(star);
					const spot = one.found.spots[found];
					if (!place || !spot) return [];
					const { vectors, magnitudes } = one.sky;
					const direction: Vector = [
						vectors[3 * star] as number,
						vectors[3 * star + 1] as number,
						vectors[3 * star + 2] as number,
					];
					return [
						{
							name: one.sky.nameOf(star),
							magnitude: magnitudes[star] as number,
							direction,
							spot,
							fitted: [place.right, place.up],
						},
					];
				}),
			};
		}),
	};
}

/** How far two lenses have a ray on the frame from each other at most, pixels: at its middle, its corners and its edges. */
function farthest(a: LensMap, b: LensMap): number {
	const places = [-0.5, 0, 0.5].flatMap((x) => [-0.5, 0, 0.5].map((y) => [x * a.width, y * a.height] as const));
	return Math.max(
		...places.map(([x, y]) => {
			const at = pixelOf(b, rayAt(a, x, y));
			return at ? Math.hypot(at[0] - x, at[1] - y) : 0;
		}),
	);
}

/** The fainter and the wider a spot, the less its place is known: about its width over its signal. */
function weighted({ found: { spots }, sky }: ReadFrame, matches: readonly Match[]): readonly Sighting[] {
	return sightingsOf(spots, sky, matches).map((sighting, i) => {
		const { signal, rightRight, upUp } = spots[(matches[i] as Match).found] as Spot;
		// In units of the usual star's 0.1 pixels.
		return { ...sighting, spread: Math.sqrt(rightRight + upUp) / signal / 0.1 };
	});
}
