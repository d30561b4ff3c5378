/** Whether a star or body can be seen and pointed at, and what keeps it from that. */
import type { EpochMs } from "../earth/zone.ts";
import { brightness } from "../sky/brightness.ts";
import { hiddenBy } from "../sky/cover.ts";
import { seenMagnitude } from "../sky/extinction.ts";
import type { Direction } from "../sky/horizontal.ts";
import { faintestToAim, faintestToAimAt, sunAltitude } from "../sky/night.ts";
import { type AltitudeBand, altitudeBand, apparentDirection, directionWithin, type SkyBody } from "../sky/place.ts";
import type { Mark, Obstacle } from "./method.ts";
import type { Tonight } from "./tonight.ts";

/**
 * The faintest star that can be found by eye at an instant, as its magnitude is seen (a star overhead that the catalogue
 * has at `faintestToAim` is seen at one air mass).
 */
export const faintestAt = ({ spot, night, extinction }: Tonight, at: EpochMs): number =>
	faintestToAimAt(spot, night, at) + extinction;

/**
 * What keeps a body of the sky from being seen and pointed at at an instant; nothing when it can be. `gain`: the
 * magnitudes that a scope adds to what the eye sees.
 */
export function sightObstacles(
	{ name, key }: Pick<Mark, "name" | "key">,
	body: SkyBody,
	direction: Direction,
	tonight: Tonight,
	at: EpochMs,
	gain = 0,
): readonly Obstacle[] {
	const { cover, extinction } = tonight;
	const { altitude, azimuth } = direction;
	if (altitude < 0) return [{ type: "below-horizon", name, key, at, altitude }];
	const by = hiddenBy(cover, direction);
	if (by) return [{ type: "hidden", name, key, at, by, altitude, skyline: cover.skylineAt(azimuth), azimuth }];
	const magnitude = brightness(body, at);
	if (magnitude === undefined) return [];
	const seen = seenMagnitude(magnitude, extinction, altitude);
	const limit = faintestAt(tonight, at) + gain;
	if (seen <= limit) return [];
	const sun = sunAltitude(tonight.spot, at);
	return sun > -12 && seen <= FAINTEST_IN_THE_DARK + extinction + gain
		? [{ type: "too-bright", name, key, at, sun }]
		: [{ type: "too-faint", name, key, at, magnitude, seen, limit, altitude, scope: gain > 0 }];
}

const FAINTEST_IN_THE_DARK = faintestToAim(-90, -90, 0);

/** Whether a body can be seen and pointed at at an instant. */
export const canSight = (body: SkyBody, tonight: Tonight, at: EpochMs, gain = 0): boolean =>
	canSightWithin(ABOVE_HORIZON, body, tonight, at, gain);

const ABOVE_HORIZON = altitudeBand(0, 90);

/** The same at some altitudes. What is told without its direction comes first: searches ask this often. */
export function canSightWithin(band: AltitudeBand, body: SkyBody, tonight: Tonight, at: EpochMs, gain = 0): boolean {
	const { cover, extinction, spot } = tonight;
	const magnitude = brightness(body, at);
	const limit = magnitude === undefined ? 0 : faintestAt(tonight, at) + gain;
	if (magnitude !== undefined && magnitude + extinction * LEAST_AIR > limit) return false;
	const direction = directionWithin(band, body, spot, at);
	if (!direction || hiddenBy(cover, direction)) return false;
	return magnitude === undefined || seenMagnitude(magnitude, extinction, direction.altitude) <= limit;
}

/** The air mass is nowhere less. */
const LEAST_AIR = 0.999;

/** A star or body as a mark: where it is seen at an instant, named by a key of the cell. */
export function markOf(body: SkyBody, key: string, tonight: Tonight, at: EpochMs): Mark & { readonly body: SkyBody } {
	const direction = apparentDirection(body, tonight.spot, at);
	if (body.type !== "star") return { name: body.name, key, body, direction };
	const { magnitude } = body.star;
	const seen =
		direction.altitude < 0 ? {} : { seenMagnitude: seenMagnitude(magnitude, tonight.extinction, direction.altitude) };
	return { name: body.name, key, body, direction, magnitude, ...seen };
}
