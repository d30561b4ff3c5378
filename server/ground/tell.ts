/** What elevation tiles tell of a spot: its skyline as a plan has it, and what should be known beside. */
import type { EvaluatedSite } from "../../shared/cells/site/site.ts";
import type { SightedLandmark } from "../../shared/methods/tonight.ts";
import { coordinateText } from "../../shared/notation/coordinate.ts";
import type { MeasuredList } from "../../shared/plan/measured.ts";
import { type Gap, gapsOf, missingTiles } from "../../shared/terrain/gaps.ts";
import { tileNameAt } from "../../shared/terrain/hgt.ts";
import type { GroundSurvey, NoGroundHere } from "../../shared/terrain/survey.ts";
import { type Phrase, sentences, told } from "../../shared/text/sentence.ts";
import { sources } from "../site-sources.ts";
import { strangeText } from "./tiles.ts";

const words = sentences("ground", {
	notCovered: `no tile covers {latitude}, {longitude}, where the ground is needed most. The .hgt file for that place
		is called {name}`,
	voidHere: `{tile} has no height at {latitude}, {longitude}, where the ground is needed most: there is a gap in it. Take
		a tile of that place from another survey`,
	emptyTile: `{tile}, on which {latitude}, {longitude} is, holds no heights, only gaps. Fetch it again, or take a
		tile of that place from another survey`,
	strange: `{count} height{s} of the tiles cannot be ground, such as {height} m at {latitude}, {longitude} in {tile}:
		treated as missing.`,
	byTiles: "the eye, from the tiles",
	byYou: "the eye, from the elevation given",
	elevation: `The elevation given, {plan} m, and that of the tiles, {tiles} m, differ by more than 50 m: check the
		coordinates, and whether the site is in a gorge or on a rock that the tiles smooth away.`,
	bridged: "Missing heights filled in from their neighbours: {count}.",
	voids: "Missing heights with too few neighbours to fill them in, whose ground is left out: {count}.",
	gap: `{where} the tiles cover the ground without a gap only as far as {known}: ground beyond that may be missing
		from the skyline.`,
	bearings: "At bearings {from}° to {until}°",
	bearing: "At bearing {from}°",
	allBearings: "At all bearings",
	fromTo: "{least} (at {bearing}°) to {most}",
	fetch: "Ground as far as {reach} is on these tiles too, where there is land: {names}.",
	fetchMore: "Ground as far as {reach} is on these tiles too, where there is land: {names} and {count} more.",
	sea: "Over {degrees}° of bearing the tiles have no ground: that was taken as sea.",
	hidden: "{name}, {away} away, is hidden by the ground at {at}.",
	hiddenThere: `{name}, {away} away, is hidden by the ground just in front of it: check its position and its elevation.`,
	unread: "Left out, as it cannot be used: {why}",
});

/** A spot whose skyline is asked for. */
export interface GroundSpot {
	readonly latitude: number;
	readonly longitude: number;
	/** Where the plan says it. */
	readonly elevation: number | undefined;
	readonly landmarks: readonly SightedLandmark[];
}

/** A plan's spot, with its landmarks whose places are known. */
export const groundSpot = ({ spot, content }: EvaluatedSite, landmarks: readonly SightedLandmark[]): GroundSpot => ({
	latitude: spot.latitude,
	longitude: spot.longitude,
	elevation: content.elevation,
	landmarks: landmarks.filter(({ located }) => located),
});

/** That a tile was left out, and why. */
export const withoutTile = (why: string): Phrase => words.unread({ why });

/** Why there is no skyline: the tiles that could not be read, if there are any; otherwise that none has the ground at the spot. */
export const noGround = (
	spot: { readonly latitude: number; readonly longitude: number },
	none: NoGroundHere,
	unread: ReadonlySet<string>,
): string => (unread.size > 0 && !none.on ? [...unread].join("\n") : told(notCovered(spot, none)));

/** That no tile has the ground at a spot, and whether one is there that should. */
function notCovered(
	{ latitude, longitude }: { readonly latitude: number; readonly longitude: number },
	{ on }: NoGroundHere,
): Phrase {
	const at = { latitude: coordinateText(latitude, "latitude"), longitude: coordinateText(longitude, "longitude") };
	if (on) return (on.isEmpty ? words.emptyTile : words.voidHere)({ ...at, tile: on.name });
	return words.notCovered({ ...at, name: `${tileNameAt(latitude, longitude)}.hgt` });
}

/** That some heights of the tiles are no ground, if any are. */
export const strangeHeights = ({ strange }: Pick<GroundSurvey, "strange">): readonly Phrase[] =>
	strange
		? [
				words.strange({
					count: strange.count.toLocaleString("en"),
					s: strange.count === 1 ? "" : "s",
					tile: strange.name,
					...strangeText(strange),
				}),
			]
		: [];

/** The key's value, with comments on where it is from. */
export function skylineOf(
	{ eye, near, points, tolerance }: GroundSurvey,
	{ elevation }: GroundSpot,
	reach: number,
): MeasuredList {
	return {
		items: points.map(([bearing, altitude]) => `[${Math.round(bearing * 10) / 10}, ${round(altitude)}]`),
		comments: [
			sources.ground({
				eye: Math.round(eye.elevation),
				of: elevation === undefined ? words.byTiles() : words.byYou(),
				reach: kilometres(reach),
				tolerance: round(tolerance),
			}),
			sources.groundOnly({ near: Math.ceil(near / 10) * 10 }),
		].map(told),
	};
}

const round = (value: number): number => Math.round(value * 100) / 100;

/** Missing tiles that are named, the nearest. */
const NAMED = 12;

function whereText({ from, until }: Gap): Phrase {
	if ((until + 1) % 360 === from) return words.allBearings();
	return from === until ? words.bearing({ from }) : words.bearings({ from, until });
}

const knownText = ({ least, bearing, most }: Gap): Phrase | string =>
	kilometres(least) === kilometres(most)
		? kilometres(least)
		: words.fromTo({ least: kilometres(least), bearing, most: kilometres(most) });

/** Metres by which a plan's elevation and the tiles' may differ before it is said. */
const FAR_OFF = 50;

/** That a site's elevation is not that of the tiles' ground: whichever is wrong, so is what is seen from there. */
export const elevationDoubt = (elevation: number | undefined, ground: number): Phrase | undefined =>
	elevation !== undefined && Math.abs(elevation - ground) > FAR_OFF
		? words.elevation({ plan: Math.round(elevation), tiles: Math.round(ground) })
		: undefined;

/** What the photographer should know beside: doubtful heights, what no tile knows, landmarks that are hidden. */
export function* notesOf(survey: GroundSurvey, { elevation, landmarks }: GroundSpot, reach: number): Generator<Phrase> {
	const { ground, horizon, bridged, voids, unknown } = survey;
	const doubt = elevationDoubt(elevation, ground);
	if (doubt) yield doubt;
	yield* strangeHeights(survey);
	if (bridged > 0) yield words.bridged({ count: bridged.toLocaleString("en") });
	if (voids > 0) yield words.voids({ count: voids.toLocaleString("en") });
	for (const gap of gapsOf(horizon.knownTo, reach)) yield words.gap({ where: whereText(gap), known: knownText(gap) });
	const missing = missingTiles(survey, reach);
	const named = { reach: kilometres(reach), names: missing.slice(0, NAMED).join(", ") };
	if (missing.length > NAMED) yield words.fetchMore({ ...named, count: missing.length - NAMED });
	else if (missing.length > 0) yield words.fetch(named);
	if (unknown > 0) yield words.sea({ degrees: Math.round(unknown * 10) / 10 });
	for (const [i, { name, distance }] of landmarks.entries()) {
		const at = horizon.hiddenAt[i];
		if (at === undefined) continue;
		const away = kilometres(distance);
		yield isJustBefore(at, distance)
			? words.hiddenThere({ name, away })
			: words.hidden({ name, at: kilometres(at), away });
	}
}

/** Whether ground stands so near before a thing that it is the thing's own hill, as a rule. */
export const isJustBefore = (at: number, distance: number): boolean => distance - at <= distance / 20;

/** A length on the ground. */
export const kilometres = (length: number): string =>
	length < 950
		? `${Math.round(length / 10) * 10} m`
		: `${length < 9950 ? (length / 1000).toFixed(1) : Math.round(length / 1000)} km`;
