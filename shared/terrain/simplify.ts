/** A horizon as the fewest points whose straight lines keep within a tolerance of it. */

/** A point of a skyline: true bearing and altitude, degrees. */
export type HorizonPoint = readonly [bearing: number, altitude: number];

/**
 * The fewest points of a closed line of altitudes, evenly spaced in bearing from 0° on, between which straight lines stay
 * within `tolerance` degrees of every altitude. The highest point is always among them. (The shortest way through the
 * graph of all lines that hold: Imai and Iri, "Computational-geometric methods for polygonal approximations of a curve",
 * 1986.)
 */
export function fewestPoints(altitudes: ArrayLike<number>, tolerance: number): readonly HorizonPoint[] {
	const count = altitudes.length;
	let highest = 0;
	for (let i = 1; i < count; i++) if ((altitudes[i] as number) > (altitudes[highest] as number)) highest = i;
	const at = (i: number): number => altitudes[(highest + i) % count] as number;
	// Breadth first from the highest point around to itself: the first way that arrives has the fewest points.
	const from = new Int32Array(count + 1).fill(-1);
	from[0] = 0;
	let front = [0];
	while (from[count] === -1) {
		const next: number[] = [];
		for (const i of front)
			for (const j of linesFrom(at, i, count, tolerance))
				if (from[j] === -1) {
					from[j] = i;
					next.push(j);
				}
		front = next;
	}
	const points: HorizonPoint[] = [];
	for (let i = from[count] as number; ; i = from[i] as number) {
		const bearing = ((((highest + i) % count) * 360) / count) % 360;
		points.push([Math.round(bearing * 1e6) / 1e6, at(i)]);
		if (i === 0) break;
	}
	return points.sort((a, b) => a[0] - b[0]);
}

/** Where lines may end that begin at a point: all altitudes between lie within the tolerance of them. */
function* linesFrom(
	at: (i: number) => number,
	start: number,
	last: number,
	tolerance: number,
): Generator<number, void, undefined> {
	const origin = at(start);
	let [flattest, steepest] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
	for (let j = start + 1; j <= last; j++) {
		const slope = (at(j) - origin) / (j - start);
		if (slope >= flattest && slope <= steepest) yield j;
		flattest = Math.max(flattest, (at(j) - tolerance - origin) / (j - start));
		steepest = Math.min(steepest, (at(j) + tolerance - origin) / (j - start));
		if (flattest > steepest) return;
	}
}
