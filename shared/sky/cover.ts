/**
 * What can be seen from a spot: the skyline, the openings of an enclosed site, and the things in the sky that hide, an
 * arch or a branch, with their windows. Stars, bodies, landmarks, targets, trails and pictures all ask `hiddenBy`.
 */
import type { Direction } from "./horizontal.ts";
import { isWithin, type Outline, type SkyPoint } from "./outline.ts";
import { type Skyline, skylineOf } from "./skyline.ts";
import { turn } from "./vector.ts";

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

/** Notches of a skyline that are named at most: the lowest. */
const MOST_NOTCHES = 24;

/**
 * Where the border of the visible sky bends outward: notches of the skyline; corners of openings and windows, and where
 * their edges come down to the skyline or to an altitude. Of one window alone, where a frame is to keep to it.
 */
export function bendsOf(cover: Cover, window: Outline | undefined, altitude: number): readonly Direction[] {
	const { skyline } = cover;
	const notches = skyline
		.filter(([, height], i) => {
			const before = skyline.at(i - 1)?.[1] ?? height;
			const after = skyline[(i + 1) % skyline.length]?.[1] ?? height;
			return height <= before && height <= after;
		})
		.sort((a, b) => a[1] - b[1])
		.slice(0, MOST_NOTCHES);
	const windows = window ? [window] : windowsOf(cover).map(({ outline }) => outline);
	return [
		...notches.map(([azimuth, height]) => ({ azimuth, altitude: height + INWARD })),
		...windows.flatMap((outline) => cornersOf(cover, outline, altitude)),
	];
}

/** How far inside its border a bend is looked at, degrees. */
const INWARD = 0.002;

function cornersOf({ skylineAt }: Cover, { corners }: Outline, altitude: number): readonly Direction[] {
	const mean = (k: 0 | 1): number => corners.reduce((sum, corner) => sum + corner[k], 0) / corners.length;
	const middle: SkyPoint = [mean(0), mean(1)];
	const found: SkyPoint[] = [];
	for (const [i, [x1, y1]] of corners.entries()) {
		const [x2, y2] = corners[(i + 1) % corners.length] as SkyPoint;
		const at = (part: number): SkyPoint => [x1 + part * (x2 - x1), y1 + part * (y2 - y1)];
		found.push([x1, y1]);
		// How far the edge is above what cuts it, at a part of it.
		for (const above of [
			(part: number) => at(part)[1] - skylineAt(at(part)[0]),
			(part: number) => at(part)[1] - altitude,
		]) {
			if (above(0) >= 0 === above(1) >= 0) continue;
			let [high, low] = above(0) >= 0 ? [0, 1] : [1, 0];
			for (let step = 0; step < 20; step++) {
				const half = (high + low) / 2;
				if (above(half) >= 0) high = half;
				else low = half;
			}
			found.push(at(high));
		}
	}
	return found
		.filter(([, height]) => height <= 90)
		.map((corner) => {
			const [dx, dy] = [middle[0] - corner[0], middle[1] - corner[1]];
			const part = INWARD / Math.max(INWARD, Math.hypot(dx, dy));
			return { azimuth: turn(corner[0] + part * dx), altitude: corner[1] + part * dy };
		});
}
