/**
 * A drawn line with fewer points: those whose loss would move it by no more than a tolerance go (D. H. Douglas and T. K.
 * Peucker, Cartographica 10, 112, 1973).
 */

/** A point of a plane, in any unit. */
export type PlanePoint = readonly [x: number, y: number];

/** The first and the last point are kept. */
export function fewerPoints<P extends PlanePoint>(points: readonly P[], tolerance: number): readonly P[] {
	const { length } = points;
	if (length < 3) return points;
	const kept = new Set([0, length - 1]);
	const open: (readonly [number, number])[] = [[0, length - 1]];
	for (let span = open.pop(); span; span = open.pop()) {
		const [from, until] = span;
		let [farthest, most] = [-1, tolerance];
		for (let i = from + 1; i < until; i++) {
			const off = fromSegment(points[i] as P, points[from] as P, points[until] as P);
			if (off > most) [farthest, most] = [i, off];
		}
		if (farthest < 0) continue;
		kept.add(farthest);
		open.push([from, farthest], [farthest, until]);
	}
	return points.filter((_, i) => kept.has(i));
}

/** How far a point is from a line between two others. */
function fromSegment([x, y]: PlanePoint, [x1, y1]: PlanePoint, [x2, y2]: PlanePoint): number {
	const [dx, dy] = [x2 - x1, y2 - y1];
	const square = dx * dx + dy * dy;
	const part = square === 0 ? 0 : Math.max(0, Math.min(1, ((x - x1) * dx + (y - y1) * dy) / square));
	return Math.hypot(x - x1 - part * dx, y - y1 - part * dy);
}
