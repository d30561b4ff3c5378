/** Whether a star or body can be seen and pointed at, and what keeps it from that. */
import type { EpochMs } from "../earth/zone.ts";
import { brightness } from "../sky/brightness.ts";
import { hiddenBy } from "../sky/cover.ts";
import type { Direction } from "../sky/horizontal.ts";
import { faintestToAim, moonAltitude, sunAltitude } from "../sky/night.ts";
import { apparentDirection, type SkyBody } from "../sky/place.ts";
import type { Mark, Obstacle } from "./method.ts";
import type { Tonight } from "./tonight.ts";

/** Whether a star of a magnitude can be found by eye at an instant: the faintest that can, and the Sun's altitude. */
export function faintestAt({ spot, night }: Tonight, at: EpochMs): { limit: number; sun: number } {
	const sun = sunAltitude(spot, at);
	return { limit: faintestToAim(sun, moonAltitude(spot, at), night.moonIllumination), sun };
}

/** What keeps a body of the sky from being seen and pointed at at an instant; nothing when it can be. */
export function sightObstacles(
	{ name, key }: Pick<Mark, "name" | "key">,
	body: SkyBody,
	direction: Direction,
	tonight: Tonight,
	at: EpochMs,
): readonly Obstacle[] {
	const { cover } = tonight;
	const { altitude, azimuth } = direction;
	if (altitude < 0) return [{ type: "below-horizon", name, key, at, altitude }];
	const by = hiddenBy(cover, direction);
	if (by) return [{ type: "hidden", name, key, at, by, altitude, skyline: cover.skylineAt(azimuth), azimuth }];
	const magnitude = brightness(body, at);
	if (magnitude === undefined) return [];
	const { limit, sun } = faintestAt(tonight, at);
	if (magnitude <= limit) return [];
	return sun > -12 && magnitude <= 4.5
		? [{ type: "too-bright", name, key, at, sun }]
		: [{ type: "too-faint", name, key, at, magnitude, limit }];
}

/** Whether a body can be seen and pointed at at an instant. */
export function canSight(body: SkyBody, tonight: Tonight, at: EpochMs): boolean {
	const direction = apparentDirection(body, tonight.spot, at);
	return sightObstacles({ name: body.name, key: "" }, body, direction, tonight, at).length === 0;
}

/** A star or body as a mark: where it is seen at an instant, named by a key of the cell. */
export function markOf(body: SkyBody, key: string, tonight: Tonight, at: EpochMs): Mark & { readonly body: SkyBody } {
	const direction = apparentDirection(body, tonight.spot, at);
	return { name: body.name, key, body, direction, ...(body.type === "star" ? { magnitude: body.star.magnitude } : {}) };
}
