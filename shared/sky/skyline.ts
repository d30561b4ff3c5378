/** What a stand hides: the height of its horizon by bearing, and the windows of an enclosed stand. */
import type { Direction } from "./horizontal.ts";
import { halfTurn, turn } from "./vector.ts";

/** A point of a skyline or an outline: true bearing and altitude, degrees. */
export type SkyPoint = readonly [bearing: number, altitude: number];

export interface Opening {
	readonly name: string;
	/** Corners: true bearing and altitude, degrees. */
	readonly outline: readonly SkyPoint[];
}

/** What can be seen from a stand. */
export interface Cover {
	/** Apparent altitude of the horizon at a bearing, degrees. */
	skylineAt(bearing: number): number;
	/** Undefined for an open stand. */
	readonly openings: readonly Opening[] | undefined;
}

/** The cover of a stand. A stand without a skyline has a flat one at 0°. */
export function coverOf(skyline: readonly SkyPoint[] | undefined, openings: readonly Opening[] | undefined): Cover {
	const points = [...(skyline ?? [])]
		.map(([bearing, altitude]): SkyPoint => [turn(bearing), altitude])
		.sort((a, b) => a[0] - b[0]);
	return {
		skylineAt: (bearing) => interpolate(points, turn(bearing)),
		openings: openings?.length ? openings : undefined,
	};
}

/** Linear between neighbouring points, wrapping past north. */
function interpolate(points: readonly SkyPoint[], bearing: number): number {
	const [first] = points;
	if (!first) return 0;
	let low = 0;
	let high = points.length;
	while (low < high) {
		const middle = (low + high) >> 1;
		if ((points[middle] as SkyPoint)[0] <= bearing) low = middle + 1;
		else high = middle;
	}
	const before = points[(low + points.length - 1) % points.length] as SkyPoint;
	const after = points[low % points.length] as SkyPoint;
	const width = turn(after[0] - before[0]);
	return width === 0 ? before[1] : before[1] + ((after[1] - before[1]) * turn(bearing - before[0])) / width;
}

/** Whether a direction lies in an opening's outline. Edges are straight in bearing and altitude. */
export function isInside({ outline }: Opening, { azimuth, altitude }: Direction): boolean {
	// Corners are unrolled from the first one, so that an outline over north is of one piece.
	const corners: SkyPoint[] = [];
	for (const [bearing, height] of outline) {
		const before = corners[corners.length - 1];
		corners.push([before ? before[0] + halfTurn(bearing - before[0]) : bearing, height]);
	}
	const middle = corners.reduce((sum, corner) => sum + corner[0], 0) / corners.length;
	const x = middle + halfTurn(azimuth - middle);
	let inside = false;
	corners.forEach(([x1, y1], i) => {
		const [x2, y2] = corners[(i + 1) % corners.length] as SkyPoint;
		if (y1 > altitude !== y2 > altitude && x < x1 + ((altitude - y1) / (y2 - y1)) * (x2 - x1)) inside = !inside;
	});
	return inside;
}

/** Why a direction cannot be seen, or undefined when it can. Altitudes are apparent. */
export function hiddenBy(cover: Cover, direction: Direction): "horizon" | "skyline" | "roof" | undefined {
	if (direction.altitude < 0 && cover.skylineAt(direction.azimuth) >= direction.altitude) return "horizon";
	if (direction.altitude < cover.skylineAt(direction.azimuth)) return "skyline";
	if (cover.openings && !cover.openings.some((opening) => isInside(opening, direction))) return "roof";
	return undefined;
}

/** The opening a direction lies in. */
export const openingAt = (cover: Cover, direction: Direction): Opening | undefined =>
	cover.openings?.find((opening) => isInside(opening, direction));
