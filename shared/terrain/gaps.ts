/** What tiles do not know of the ground around a spot: at which bearings, how far out, and on which tiles it is. */
import { EARTH_RADIUS } from "../earth/sightline.ts";
import { halfTurn, RAD } from "../sky/vector.ts";
import { tileNameAt } from "./hgt.ts";
import type { Extent, GroundSurvey } from "./survey.ts";

/** Bearings, whole degrees, at which the ground is not known without a gap as far as asked for: through north where `until` is less. */
export interface Gap {
	readonly from: number;
	readonly until: number;
	/** How far it is known at the bearing where that is least, and where it is most, metres. */
	readonly least: number;
	readonly bearing: number;
	readonly most: number;
}

/** What is missing at the far end that is not worth a word, metres. */
const WORTH_SAYING = 1000;

/** Stretches of bearings in which the ground is not known as far as asked for. */
export function gapsOf(knownTo: ArrayLike<number>, reach: number): readonly Gap[] {
	const gaps: Gap[] = [];
	for (let bearing = 0; bearing < knownTo.length; bearing++) {
		const known = knownTo[bearing] as number;
		if (known >= reach - WORTH_SAYING) continue;
		const one = { from: bearing, until: bearing, least: known, bearing, most: known };
		const last = gaps.at(-1);
		if (last?.until === bearing - 1) gaps[gaps.length - 1] = joined(last, one);
		else gaps.push(one);
	}
	const [first, last] = [gaps[0], gaps.at(-1)];
	// One that goes through north.
	if (first && last && first !== last && first.from === 0 && last.until === knownTo.length - 1)
		return [...gaps.slice(1, -1), joined(last, first)];
	return gaps;
}

const joined = (one: Gap, next: Gap): Gap => ({
	from: one.from,
	until: next.until,
	least: Math.min(one.least, next.least),
	bearing: next.least < one.least ? next.bearing : one.bearing,
	most: Math.max(one.most, next.most),
});

/** Steps in which what is missing is looked for along a bearing, metres: a tile's corner that is cut shorter is no loss. */
const STEP = 2000;

/** Names of tiles of a degree each way on which the ground is that none of those there knows, the nearest first. */
export function missingTiles(
	{ eye, horizon, extents }: Pick<GroundSurvey, "eye" | "horizon" | "extents">,
	reach: number,
): readonly string[] {
	const found = new Map<string, number>();
	for (const [bearing, known] of horizon.knownTo.entries()) {
		if (known >= reach - WORTH_SAYING) continue;
		for (let distance = known + STEP; distance <= reach; distance += STEP) {
			const { latitude, longitude } = placeAt(eye, bearing, distance);
			if (extents.some((one) => isInside(one, latitude, longitude))) continue;
			const name = tileNameAt(latitude, longitude);
			found.set(name, Math.min(found.get(name) ?? Number.POSITIVE_INFINITY, distance));
		}
	}
	return [...found].sort(([a, one], [b, other]) => one - other || (a < b ? -1 : 1)).map(([name]) => name);
}

/** A few seconds of arc, degrees: tiles whose heights are areas end half a height short of the degree. */
const SLACK = 0.001;

function isInside({ north, south, west, east }: Extent, latitude: number, longitude: number): boolean {
	const middle = (west + east) / 2;
	return (
		latitude <= north + SLACK &&
		latitude >= south - SLACK &&
		Math.abs(halfTurn(longitude - middle)) <= (east - west) / 2 + SLACK
	);
}

/** Where one comes to along a great circle, on a sphere: which tile that is on is not a matter of metres. */
function placeAt(eye: { latitude: number; longitude: number }, bearing: number, distance: number) {
	const [phi, turned, arc] = [eye.latitude * RAD, bearing * RAD, distance / EARTH_RADIUS];
	const sine = Math.sin(phi) * Math.cos(arc) + Math.cos(phi) * Math.sin(arc) * Math.cos(turned);
	const east = Math.atan2(Math.sin(turned) * Math.sin(arc) * Math.cos(phi), Math.cos(arc) - Math.sin(phi) * sine);
	return { latitude: Math.asin(sine) / RAD, longitude: halfTurn(eye.longitude + east / RAD) };
}
