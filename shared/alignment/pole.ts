/**
 * Where the pole is seen, and a star beside it.
 *
 * A pole star at polar distance D turns once about the pole in a sidereal day: at hour angle H it is D cos H above and
 * −s D sin H to the right of the pole as one faces it (s = ±1 north or south; in the north west of the pole is left),
 * upright. An inverting scope shows it half a turn on.
 */
import type { EpochMs } from "../earth/zone.ts";
import type { Direction } from "../sky/horizontal.ts";
import { apparentDirection, type SkyBody, type Spot } from "../sky/place.ts";
import { apparentAltitude } from "../sky/refraction.ts";
import { DEG } from "../sky/vector.ts";
import { poleBearing } from "./axis-error.ts";
import { missOf } from "./pointer.ts";

/** A pole star beside the pole. */
export interface PoleStarPlace {
	/** Degrees from the pole, refraction included. */
	readonly distance: number;
	/** Degrees up and right of the pole as one faces it. */
	readonly up: number;
	readonly right: number;
	/** Direction from the pole as the hour hand of a clock face, 0 … 12 h: seen upright and through an inverting scope. */
	readonly clockUpright: number;
	readonly clockInverted: number;
}

/** Where the pole is seen: its altitude with refraction, degrees. */
export const seenPole = ({ latitude, air }: Spot): Direction => ({
	azimuth: poleBearing(latitude),
	altitude: apparentAltitude(Math.abs(latitude), air),
});

/** A star beside the pole, as it is seen. */
export function poleStarPlace(body: SkyBody, spot: Spot, at: EpochMs): PoleStarPlace {
	const { up, right, total } = missOf(seenPole(spot), apparentDirection(body, spot, at));
	const hours = ((Math.atan2(right, up) * DEG + 360) % 360) / 30;
	return { distance: total, up, right, clockUpright: hours, clockInverted: (hours + 6) % 12 };
}
