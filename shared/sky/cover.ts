/**
 * What can be seen from a spot: the skyline, the openings of an enclosed site, and the things in the sky that hide, an
 * arch or a branch, with their windows. Stars, bodies, landmarks, targets, trails and pictures all ask `hiddenBy`.
 */
import type { Direction } from "./horizontal.ts";
import { isWithin, type Outline, type SkyPoint } from "./outline.ts";
import { type Skyline, skylineOf } from "./skyline.ts";

/** A window of visible sky. */
export interface Opening {
	readonly name: string;
	readonly outline: Outline;
}

/** A thing that hides what is within its outline, less its window, under an otherwise open sky. */
export interface Obstruction {
	readonly name: string;
	readonly outline: Outline;
	readonly window: Outline | undefined;
}

/** What can be seen from a spot. */
export interface Cover extends Skyline {
	/** Undefined at an open site; at an enclosed one, nothing outside all of them is seen. */
	readonly openings: readonly Opening[] | undefined;
	readonly obstructions: readonly Obstruction[];
}

/** What hides a direction. */
export type Hider = "horizon" | "skyline" | "roof" | Obstruction;

/** The cover of a spot. One without a skyline has a flat one at 0°. */
export function coverOf(
	skyline: readonly SkyPoint[] | undefined,
	openings: readonly Opening[] | undefined,
	obstructions: readonly Obstruction[] = [],
): Cover {
	return { ...skylineOf(skyline), openings: openings?.length ? openings : undefined, obstructions };
}

/** Why a direction cannot be seen, or undefined when it can. Altitudes are apparent. */
export function hiddenBy(cover: Cover, direction: Direction): Hider | undefined {
	const skyline = cover.skylineAt(direction.azimuth);
	if (direction.altitude < 0 && skyline >= direction.altitude) return "horizon";
	if (direction.altitude < skyline) return "skyline";
	return coveredBy(cover, direction);
}

/** The same for a thing that stands before the skyline, a landmark: only a roof and what is in the way can hide it. */
export function coveredBy(cover: Cover, direction: Direction): "roof" | Obstruction | undefined {
	if (cover.openings && !cover.openings.some(({ outline }) => isWithin(outline, direction))) return "roof";
	return cover.obstructions.find(
		({ outline, window }) => isWithin(outline, direction) && !(window && isWithin(window, direction)),
	);
}

/** Windows of visible sky that have a name: openings, and obstructions with one. */
export const windowsOf = ({ openings = [], obstructions }: Cover): readonly Opening[] => [
	...openings,
	...obstructions.flatMap(({ name, window }): readonly Opening[] => (window ? [{ name, outline: window }] : [])),
];
