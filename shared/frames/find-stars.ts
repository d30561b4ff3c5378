/**
 * What on a frame may be stars: small spots brighter than the sky around, with their places to a tenth of a pixel, and
 * the way they were drawn out over the exposure.
 *
 * The sky's light and its noise are taken from tiles and smoothed between them, so that glow, gradients and the Milky Way
 * do not count. Tiles far darker than the sky that reach the frame's edge are ground. A spot of one or two pixels is a
 * hot pixel, one much longer than the others the track of a satellite or an aircraft.
 */

/** A frame's light, rows from the top; 16 bits, in any scale that grows with the light. */
export interface Picture {
	readonly width: number;
	readonly height: number;
	readonly light: Uint16Array;
	/** What two neighbouring values of the file are apart: 256 for 8 bits. */
	readonly step: number;
}

export interface Spot {
	/** Pixels right and up of the frame's middle. */
	readonly right: number;
	readonly up: number;
	/** Light above the sky's, in the picture's scale, and how far that is above the noise. */
	readonly light: number;
	readonly signal: number;
	/** Second moments about its place, pixels squared: right, up, and both. */
	readonly rightRight: number;
	readonly upUp: number;
	readonly rightUp: number;
	readonly pixels: number;
	/** Whether place and moments are those under a window of its own shape; else of its pixels alone. */
	readonly windowed: boolean;
}

export interface FoundSpots {
	/** The brightest first. */
	readonly spots: readonly Spot[];
	/** Tiles that count as ground, rows from the top. */
	readonly ground: Ground;
	readonly hotPixels: number;
	readonly tracks: number;
	/** Of the round spots and of the width of trails: standard deviation, pixels. */
	readonly blur: number;
}

export interface Ground {
	readonly columns: number;
	readonly rows: number;
	readonly tile: number;
	readonly isGround: Uint8Array;
}

const TILE = 64;
/** Pixels of a row that share a value of the sky. */
const BLOCK = 8;
/** A pixel belongs to a spot from so many times the noise above the sky on; a spot has one of so many. */
const EDGE = 2.5;
const PEAK = 5;
/** The noise is at least this much of the file's steps: a packed sky is flat, and jumps by a step. */
const LEAST_NOISE = 0.6;
/** Pixels of one spot at most, and spots at most. */
const MOST_PIXELS = 6000;
const MOST_SPOTS = 20_000;
/** How far a spot may go on from where it was met, pixels. */
const REACH = 150;
/** Darker than this part of the sky's light is ground. */
const GROUND_BELOW = 0.62;
/** Spots that are kept, of each of the squares of the frame and in all. */
const MOST_IN_SQUARE = 40;
const MOST_KEPT = 1200;

interface Tiles {
	readonly columns: number;
	readonly rows: number;
	readonly level: Float64Array;
	readonly noise: Float64Array;
	readonly isGround: Uint8Array;
}

export function findSpots(picture: Picture): FoundSpots {
	const tiles = tilesOf(picture);
	const { spots, hotPixels, tracks } = spotsOf(picture, tiles);
	const blur = median(
		spots.slice(0, 200).map(({ rightRight, upUp, rightUp }) => Math.sqrt(narrow(rightRight, upUp, rightUp))),
	);
	const { columns, rows, isGround } = tiles;
	return { spots, ground: { columns, rows, tile: TILE, isGround }, hotPixels, tracks, blur: blur || 1 };
}

/** The smaller principal moment. */
const narrow = (a: number, b: number, c: number): number => (a + b) / 2 - Math.hypot((a - b) / 2, c);
/** The larger. */
const wide = (a: number, b: number, c: number): number => (a + b) / 2 + Math.hypot((a - b) / 2, c);

/** The middle of a list of numbers; 0 of none. */
export function median(values: readonly number[]): number {
	if (values.length === 0) return 0;
	const sorted = [...values].sort((a, b) => a - b);
	return sorted[sorted.length >> 1] as number;
}

function tilesOf({ width, height, light, step }: Picture): Tiles {
	const columns = Math.max(1, Math.ceil(width / TILE));
	const rows = Math.max(1, Math.ceil(height / TILE));
	const level = new Float64Array(columns * rows);
	const noise = new Float64Array(columns * rows);
	const sample = new Uint16Array((TILE / 2) * (TILE / 2));
	for (let row = 0; row < rows; row++)
		for (let column = 0; column < columns; column++) {
			const [x0, y0] = [column * TILE, row * TILE];
			const [x1, y1] = [Math.min(width, x0 + TILE), Math.min(height, y0 + TILE)];
			let count = 0;
			for (let y = y0; y < y1; y += 2)
				for (let x = x0 + ((y >> 1) & 1); x < x1; x += 2) sample[count++] = light[y * width + x] as number;
			const sorted = sample.subarray(0, count).sort();
			const at = (part: number): number => sorted[Math.min(count - 1, Math.floor(part * count))] ?? 0;
			// A mean of the middle ones: finer than the file's steps.
			const [first, last] = [Math.floor(0.25 * count), Math.max(1, Math.ceil(0.65 * count))];
			let sum = 0;
			for (let i = first; i < last; i++) sum += sorted[i] as number;
			level[row * columns + column] = sum / (last - first);
			// Spots only lift the upper half.
			noise[row * columns + column] = Math.max(at(0.5) - at(0.16), LEAST_NOISE * step, 8);
		}
	const isGround = groundOf(level, columns, rows);
	return { columns, rows, level: smooth(level, isGround, columns), noise: smooth(noise, isGround, columns), isGround };
}

/** Medians over neighbouring tiles of sky. The ground's tiles get the sky's values beside them, so that the sky goes on behind it. */
function smooth(values: Float64Array, isGround: Uint8Array, columns: number): Float64Array {
	const rows = values.length / columns;
	const known = isGround.map((one) => (one ? 0 : 1));
	const result = new Float64Array(values.length);
	const nearby = (from: Float64Array, is: Uint8Array, i: number): readonly number[] => {
		const [row, column] = [Math.floor(i / columns), i % columns];
		const near: number[] = [];
		for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++)
			for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++)
				if (is[r * columns + c]) near.push(from[r * columns + c] as number);
		return near;
	};
	let open: number[] = [];
	for (let i = 0; i < values.length; i++)
		if (known[i]) result[i] = median(nearby(values, known, i));
		else open.push(i);
	// Only as far as a tile's neighbours need it, and a little on.
	for (let ring = 0; ring < 3 && open.length > 0; ring++) {
		const before = known.slice();
		open = open.filter((i) => {
			const near = nearby(result, before, i);
			if (near.length === 0) return true;
			result[i] = median(near);
			known[i] = 1;
			return false;
		});
	}
	for (const i of open) result[i] = values[i] as number;
	return result;
}

/** Dark tiles that hang together with the frame's edge, and those beside them. */
function groundOf(level: Float64Array, columns: number, rows: number): Uint8Array {
	// The sky's own light as the upper part of what there is: a frame has some sky, or nothing to find.
	const bright = [...level].sort((a, b) => a - b)[Math.floor(level.length * 0.75)] ?? 0;
	const isDark = (i: number): boolean => (level[i] as number) < GROUND_BELOW * bright;
	const ground = new Uint8Array(level.length);
	const open: number[] = [];
	const visit = (row: number, column: number): void => {
		if (row < 0 || column < 0 || row >= rows || column >= columns) return;
		const i = row * columns + column;
		if (ground[i] || !isDark(i)) return;
		ground[i] = 1;
		open.push(i);
	};
	for (let column = 0; column < columns; column++) {
		visit(0, column);
		visit(rows - 1, column);
	}
	for (let row = 0; row < rows; row++) {
		visit(row, 0);
		visit(row, columns - 1);
	}
	while (open.length > 0) {
		const i = open.pop() as number;
		const [row, column] = [Math.floor(i / columns), i % columns];
		visit(row - 1, column);
		visit(row + 1, column);
		visit(row, column - 1);
		visit(row, column + 1);
	}
	return ground;
}

function spotsOf(
	{ width, height, light }: Picture,
	tiles: Tiles,
): { readonly spots: readonly Spot[]; readonly hotPixels: number; readonly tracks: number } {
	const { columns, level, noise, isGround, rows } = tiles;
	// A bit a pixel.
	const seen = new Uint8Array((width * height + 7) >> 3);
	const isSeen = (at: number): boolean => ((seen[at >> 3] as number) & (1 << (at & 7))) !== 0;
	const markSeen = (at: number): void => {
		seen[at >> 3] = (seen[at >> 3] as number) | (1 << (at & 7));
	};
	const spots: Spot[] = [];
	let [hotPixels, tracks] = [0, 0];
	const stack = new Int32Array(MOST_PIXELS + 8);
	const members = new Int32Array(MOST_PIXELS);
	// The sky and its noise along a row, between the middles of tiles, for each block of eight pixels.
	const blocks = Math.ceil(width / BLOCK);
	const skyAlong = new Float64Array(blocks);
	const noiseAlong = new Float64Array(blocks);
	const along = (values: Float64Array, y: number, into: Float64Array): void => {
		const r = Math.min(rows - 1, Math.max(0, (y + 0.5) / TILE - 0.5));
		const r0 = Math.floor(r);
		const r1 = Math.min(rows - 1, r0 + 1);
		const v = r - r0;
		for (let k = 0; k < blocks; k++) {
			const c = Math.min(columns - 1, Math.max(0, (k * BLOCK + BLOCK / 2) / TILE - 0.5));
			const c0 = Math.floor(c);
			const c1 = Math.min(columns - 1, c0 + 1);
			const u = c - c0;
			const upper = (values[r0 * columns + c0] as number) * (1 - u) + u * (values[r0 * columns + c1] as number);
			const lower = (values[r1 * columns + c0] as number) * (1 - u) + u * (values[r1 * columns + c1] as number);
			into[k] = upper * (1 - v) + lower * v;
		}
	};
	for (let y = 1; y < height - 1; y++) {
		along(level, y, skyAlong);
		along(noise, y, noiseAlong);
		const tileRow = (y >> 6) * columns;
		for (let k = 0; k < blocks; k++) {
			const x0 = Math.max(1, k * BLOCK);
			if (isGround[tileRow + (x0 >> 6)]) continue;
			const x1 = Math.min(width - 1, (k + 1) * BLOCK);
			const sky = skyAlong[k] as number;
			const sigma = noiseAlong[k] as number;
			const limit = sky + PEAK * sigma;
			for (let x = x0, first = y * width + x0; x < x1; x++, first++)
				if ((light[first] as number) > limit && !isSeen(first) && spots.length < MOST_SPOTS)
					grow(first, x, y, sky, sigma);
		}
	}
	const kept = keep(spots, width, height);
	return { spots: kept, hotPixels, tracks };

	function grow(first: number, x: number, y: number, sky: number, sigma: number): void {
		const edge = sky + EDGE * sigma;
		let [depth, count, peak, peakAt] = [0, 0, 0, first];
		let atEdge = false;
		let isLong = false;
		stack[depth++] = first;
		markSeen(first);
		while (depth > 0) {
			const at = stack[--depth] as number;
			if (count < MOST_PIXELS) members[count] = at;
			count++;
			const value = light[at] as number;
			if (value > peak) [peak, peakAt] = [value, at];
			const column = at % width;
			const row = (at - column) / width;
			if (column < 1 || row < 1 || column >= width - 1 || row >= height - 1) {
				atEdge = true;
				continue;
			}
			// Farther on the sky may be another: what is so long goes on as a spot of its own.
			if (Math.abs(column - x) >= REACH || row - y >= REACH) {
				isLong = true;
				continue;
			}
			for (let dy = -width; dy <= width; dy += width)
				for (let dx = -1; dx <= 1; dx++) {
					const next = at + dy + dx;
					if ((light[next] as number) <= edge || isSeen(next) || depth >= MOST_PIXELS) continue;
					markSeen(next);
					stack[depth++] = next;
				}
		}
		if (count > MOST_PIXELS || isLong) {
			tracks++;
			return;
		}
		if (atEdge) return;
		// A star spreads over its neighbours; a hot pixel, also one that JPEG has blurred a little, hardly does.
		const near =
			(light[peakAt - 1] as number) +
			(light[peakAt + 1] as number) +
			(light[peakAt - width] as number) +
			(light[peakAt + width] as number) -
			4 * sky;
		if (count < 3 || near < 0.6 * (peak - sky)) {
			if (peak - sky > 8 * sigma) hotPixels++;
			return;
		}
		let [sum, sx, sy] = [0, 0, 0];
		for (let i = 0; i < count; i++) {
			const at = members[i] as number;
			const value = (light[at] as number) - sky;
			const column = at % width;
			sum += value;
			sx += value * (column - x);
			sy += value * ((at - column) / width - y);
		}
		let [mx, my] = [x + sx / sum, y + sy / sum];
		let [xx, yy, xy] = [0, 0, 0];
		for (let i = 0; i < count; i++) {
			const at = members[i] as number;
			const value = (light[at] as number) - sky;
			const column = at % width;
			const [dx, dy] = [column - mx, (at - column) / width - my];
			xx += value * dx * dx;
			yy += value * dy * dy;
			xy += value * dx * dy;
		}
		xx = xx / sum + 1 / 12;
		yy = yy / sum + 1 / 12;
		xy /= sum;
		const [long, short] = [Math.sqrt(wide(xx, yy, xy)), Math.sqrt(Math.max(0.05, narrow(xx, yy, xy)))];
		if (long > 40 && long > 12 * short) {
			tracks++;
			return;
		}
		// Weighted toward the middle, with what lies below the edge too: the pixels' borders do not pull.
		const refined = weighted(mx, my, sky, Math.max(0.5, xx), Math.max(0.5, yy), xy, long);
		if (refined) [mx, my, xx, yy, xy] = refined;
		spots.push({
			right: mx - (width - 1) / 2,
			up: (height - 1) / 2 - my,
			light: sum,
			signal: sum / (sigma * Math.sqrt(count)),
			rightRight: xx,
			upUp: yy,
			rightUp: -xy,
			pixels: count,
			windowed: refined !== undefined,
		});
	}

	/**
	 * Place and moments under a Gaussian window of the spot's own shape, found by steps. For a spot that is a Gaussian
	 * itself the window halves its moments, so that its own are twice what is seen; one drawn out is not far from that.
	 */
	function weighted(
		mx: number,
		my: number,
		sky: number,
		xx: number,
		yy: number,
		xy: number,
		long: number,
	): [number, number, number, number, number] | undefined {
		let [x, y, a, b, c] = [mx, my, xx, yy, xy];
		const reach = Math.min(60, Math.ceil(3.5 * long) + 1);
		for (let step = 0; step < 12; step++) {
			const det = a * b - c * c;
			if (!(det > 0.01)) return undefined;
			const [ia, ib, ic] = [b / det, a / det, -c / det];
			const [cx, cy] = [Math.round(x), Math.round(y)];
			let [s, sx, sy, sxx, syy, sxy] = [0, 0, 0, 0, 0, 0];
			for (let row = Math.max(0, cy - reach); row <= Math.min(height - 1, cy + reach); row++)
				for (let column = Math.max(0, cx - reach); column <= Math.min(width - 1, cx + reach); column++) {
					const [dx, dy] = [column - x, row - y];
					const q = ia * dx * dx + 2 * ic * dx * dy + ib * dy * dy;
					if (q > 12) continue;
					const w = Math.exp(-q / 2) * ((light[row * width + column] as number) - sky);
					s += w;
					sx += w * dx;
					sy += w * dy;
					sxx += w * dx * dx;
					syy += w * dy * dy;
					sxy += w * dx * dy;
				}
			if (!(s > 0)) return undefined;
			const [ox, oy] = [(2 * sx) / s, (2 * sy) / s];
			x += ox;
			y += oy;
			const [na, nb, nc] = [
				2 * (sxx / s - (sx / s) ** 2),
				2 * (syy / s - (sy / s) ** 2),
				2 * (sxy / s - (sx * sy) / s / s),
			];
			if (!(na > 0.1 && nb > 0.1 && na < 4 * xx + 4 && nb < 4 * yy + 4)) return undefined;
			a = Math.max(0.3, na);
			b = Math.max(0.3, nb);
			c = nc;
			if (Math.abs(ox) + Math.abs(oy) < 0.002) break;
		}
		if (Math.hypot(x - mx, y - my) > 0.5 * long + 0.5) return undefined;
		return [x, y, a, b, c];
	}
}

/** The brightest of each part of the frame, so that a lit wall or a town does not crowd out the sky. */
function keep(spots: readonly Spot[], width: number, height: number): readonly Spot[] {
	const sorted = [...spots].sort((a, b) => b.light - a.light);
	// Far longer than most is a track.
	const usual = median(sorted.slice(0, 150).map(({ rightRight, upUp, rightUp }) => wide(rightRight, upUp, rightUp)));
	const counts = new Map<number, number>();
	const kept: Spot[] = [];
	for (const spot of sorted) {
		if (wide(spot.rightRight, spot.upUp, spot.rightUp) > 25 * usual + 25) continue;
		const square =
			Math.floor(((spot.right + width / 2) / width) * 8) * 16 + Math.floor(((spot.up + height / 2) / height) * 6);
		const count = (counts.get(square) ?? 0) + 1;
		counts.set(square, count);
		if (count > MOST_IN_SQUARE) continue;
		kept.push(spot);
		if (kept.length >= MOST_KEPT) break;
	}
	return kept;
}
