/** The skyline of a spot: the altitude of its horizon by bearing. */
import type { SkyPoint } from "./outline.ts";
import { turn } from "./vector.ts";

export interface Skyline {
	/** Apparent altitude of the horizon at a bearing, degrees. */
	skylineAt(bearing: number): number;
	/** Its points by bearing, 0 … 360. */
	readonly skyline: readonly SkyPoint[];
}

/** A skyline through points, flat at 0° without any. */
export function skylineOf(points: readonly SkyPoint[] | undefined): Skyline {
	const skyline = [...(points ?? [])]
		.map(([bearing, altitude]): SkyPoint => [turn(bearing), altitude])
		.sort((a, b) => a[0] - b[0]);
	return { skyline, skylineAt: (bearing) => interpolate(skyline, turn(bearing)) };
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
