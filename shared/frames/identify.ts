/**
 * Which stars a frame shows, from the places of what was found on it and the lens, without knowing where it looked.
 *
 * Triangles of stars that are bright among their neighbours, on the sky and on the frame, are compared by the ratios of
 * their sides and their sense of turning. A pair that agrees gives an attitude; that one is checked with the stars
 * around it, and refined ring by ring with the lens, until it is accepted or not.
 *
 * It is accepted by chance: with n stars to be expected on the frame and p the chance that something was found within
 * the tolerance of a place by itself, k or more of them are met by chance with the tail of a binomial distribution.
 * What the fit may adapt is taken off k, and the tail is multiplied by the number of attitudes that were tried.
 */
import type { Attitude } from "../alignment/attitude.ts";
import { cross, dot, plus, RAD, times, unit, type Vector } from "../sky/vector.ts";
import { type Freedom, fitFrames, inCamera, type Sighting } from "./fit.ts";
import { halfDiagonal, isInFrame, type LensMap, pixelOf, rayAt } from "./lens-map.ts";

/** Something found on a frame: pixels right and up of the middle; the brightest first. */
export interface Found {
	readonly right: number;
	readonly up: number;
}

/** The stars of the sky, the brightest first. */
export interface StarSky {
	/** Directions, unit vectors one after the other. */
	readonly vectors: Float64Array;
	readonly magnitudes: Float64Array;
}

export interface Match {
	/** Place in the list of what was found, and in that of the stars. */
	readonly found: number;
	readonly star: number;
}

export interface Identification {
	readonly attitude: Attitude;
	readonly map: LensMap;
	readonly matches: readonly Match[];
	/** Root mean square distance, pixels in one coordinate. */
	readonly rms: number;
	/** Stars that were to be expected, among which the matches are counted. */
	readonly expected: number;
	/** Ten's logarithm of the chance that this is chance. */
	readonly logChance: number;
}

export interface Search {
	/** Where the middle of the frame is expected, and how far from it, degrees. */
	readonly near?: { readonly direction: Vector; readonly within: number };
	/**
	 * Whether it is one of many searches, most of them for nothing: it tries the focal length as it is given, within 8 %,
	 * and a tenth of the attitudes. What is right is met soon, what is not is tried to the end.
	 */
	readonly quick?: boolean;
}

/** A chance smaller than this is accepted, ten's logarithm. */
export const ACCEPTED = -7;
/** Focal lengths that are tried, as parts of the one expected. */
const FOCAL_LENGTHS = [1, 0.965, 1.035] as const;
/** Attitudes that are looked at, at most. */
const MOST_TRIED = 600_000;
/** Attitudes that are refined, at most. */
const MOST_REFINED = 1_500;

const dot3 = (v: Float64Array, i: number, j: number): number =>
	(v[3 * i] as number) * (v[3 * j] as number) +
	(v[3 * i + 1] as number) * (v[3 * j + 1] as number) +
	(v[3 * i + 2] as number) * (v[3 * j + 2] as number);

const vectorAt = (v: Float64Array, i: number): Vector => [
	v[3 * i] as number,
	v[3 * i + 1] as number,
	v[3 * i + 2] as number,
];

/** Those that have fewer than `most` brighter ones within an angle of that cosine, from a list that is sorted. */
function brightNearby(vectors: Float64Array, from: readonly number[], cos: number, most: number): number[] {
	const kept: number[] = [];
	for (let a = 0; a < from.length; a++) {
		const i = from[a] as number;
		let brighter = 0;
		for (let b = 0; b < a && brighter < most; b++) if (dot3(vectors, i, from[b] as number) > cos) brighter++;
		if (brighter < most) kept.push(i);
	}
	return kept;
}

interface Triangles {
	/** Corners: the first is across the longest side, the second across the next. */
	readonly corners: Int32Array;
	/** Longest side, and the ratios of the others to it. */
	readonly sides: Float64Array;
	readonly count: number;
}

const MOST_TRIANGLES = 400_000;

/** Triangles of neighbours: sides as angles, at least `least` and at most `most` of them, radians. */
function trianglesOf(
	vectors: Float64Array,
	from: readonly number[],
	least: number,
	most: number,
	limit: number,
): Triangles {
	const cos = Math.cos(most);
	const corners = new Int32Array(3 * limit);
	const sides = new Float64Array(3 * limit);
	let count = 0;
	for (let a = 0; a < from.length && count < limit; a++) {
		const i = from[a] as number;
		const near: number[] = [];
		// Fainter ones: the brightest triangles come first.
		for (let b = 0; b < a; b++) if (dot3(vectors, i, from[b] as number) > cos) near.push(from[b] as number);
		for (let b = 1; b < near.length && count < limit; b++)
			for (let c = 0; c < b && count < limit; c++) {
				const [j, k] = [near[b] as number, near[c] as number];
				const jk = dot3(vectors, j, k);
				if (jk < cos) continue;
				const across = [angle(jk), angle(dot3(vectors, i, k)), angle(dot3(vectors, i, j))];
				const order = [0, 1, 2].sort((x, y) => (across[y] as number) - (across[x] as number));
				const [long, middle, short] = order.map((x) => across[x] as number) as [number, number, number];
				if (long < least || short < 0.2 * long) continue;
				const names = [i, j, k];
				const [p, q, r] = order.map((x) => names[x] as number) as [number, number, number];
				// The sense of turning goes with the sign of the middle ratio.
				const sense = dot(vectorAt(vectors, p), cross(vectorAt(vectors, q), vectorAt(vectors, r))) > 0 ? 1 : -1;
				corners.set([p, q, r], 3 * count);
				sides.set([long, (sense * middle) / long, short / long], 3 * count);
				count++;
			}
	}
	return { corners, sides, count };
}

const angle = (cos: number): number => Math.acos(Math.min(1, cos));

const CELLS = 40;
const cellOf = (middle: number, short: number): number => {
	// |middle| is in 0.5 … 1, short in 0.2 … 1.
	const row = Math.min(CELLS - 1, Math.floor((Math.abs(middle) - 0.5) * 2 * CELLS));
	const column = Math.min(CELLS - 1, Math.floor(short * CELLS));
	return ((middle < 0 ? 1 : 0) * CELLS + Math.max(0, row)) * CELLS + column;
};

/** Triangles sorted by their shape. */
interface Shapes extends Triangles {
	readonly starts: Int32Array;
	readonly order: Int32Array;
}

function shapesOf(triangles: Triangles): Shapes {
	const { sides, count } = triangles;
	const starts = new Int32Array(2 * CELLS * CELLS + 1);
	const cells = new Int32Array(count);
	for (let i = 0; i < count; i++) {
		const cell = cellOf(sides[3 * i + 1] as number, sides[3 * i + 2] as number);
		cells[i] = cell;
		starts[cell + 1] = (starts[cell + 1] as number) + 1;
	}
	for (let i = 0; i < 2 * CELLS * CELLS; i++) starts[i + 1] = (starts[i + 1] as number) + (starts[i] as number);
	const next = starts.slice();
	const order = new Int32Array(count);
	for (let i = 0; i < count; i++) {
		const cell = cells[i] as number;
		order[next[cell] as number] = i;
		next[cell] = (next[cell] as number) + 1;
	}
	return { ...triangles, starts, order };
}

/** Two ratios are the same within this. */
const SAME_SHAPE = 0.012;
/** Focal lengths are the expected one within this. */
const SAME_SIZE = 0.08;
/** What is found that is used for triangles at most. */
const MOST_IN_TRIANGLES = 60;
/** What is found that is used for checking at most. */
const MOST_FOUND = 500;

/** The stars of a frame; undefined where nothing is accepted. */
export function identify(
	found: readonly Found[],
	sky: StarSky,
	lens: LensMap,
	search: Search = {},
): Identification | undefined {
	if (found.length < 6) return undefined;
	for (const factor of search.quick ? FOCAL_LENGTHS.slice(0, 1) : FOCAL_LENGTHS) {
		const answer = identifyWith(found.slice(0, MOST_FOUND), sky, { ...lens, focal: lens.focal * factor }, lens, search);
		if (answer) return answer;
	}
	return undefined;
}

function identifyWith(
	found: readonly Found[],
	sky: StarSky,
	map: LensMap,
	around: LensMap,
	{ near, quick }: Search,
): Identification | undefined {
	const { vectors, magnitudes } = sky;
	const total = magnitudes.length;
	// Neighbours are within a third of the frame's short side.
	const theta = Math.min(14 * RAD, 2 * Math.atan(Math.min(map.width, map.height) / 6 / map.focal));
	const corner = Math.acos(Math.max(-1, rayAt(map, map.width / 2, map.height / 2)[2]));
	const reach = near ? Math.cos(Math.min(Math.PI, near.within * RAD + corner)) : -2;
	const candidates: number[] = [];
	for (let i = 0; i < total; i++) if (!near || dot(near.direction, vectorAt(vectors, i)) > reach) candidates.push(i);
	const bright = brightNearby(vectors, candidates, Math.cos(theta), 4);
	const shapes = shapesOf(trianglesOf(vectors, bright, 0.5 * theta, 2 * theta, MOST_TRIANGLES));
	const rays = new Float64Array(3 * found.length);
	found.forEach(({ right, up }, i) => {
		rays.set(rayAt(map, right, up), 3 * i);
	});
	const all = found.map((_, i) => i);
	const kept = brightNearby(rays, all, Math.cos(theta), 5).slice(0, MOST_IN_TRIANGLES);
	const own = trianglesOf(rays, kept, 0.5 * theta, 2 * theta, 40_000);
	const neighbours = new Map<number, readonly number[]>();
	const around2 = Math.cos(2 * theta);
	const neighboursOf = (star: number): readonly number[] => {
		let list = neighbours.get(star);
		if (!list) {
			list = bright.filter((other) => other !== star && dot3(vectors, star, other) > around2).slice(0, 24);
			neighbours.set(star, list);
		}
		return list;
	};
	const checked = brightNearby(rays, all, Math.cos(theta), 9).slice(0, 150);
	const scale = Math.max(map.width, map.height) / 6000;
	const coarse = Math.max(50 * scale, 3);
	const grid = new Grid(found, checked, map, coarse);
	const byChance = Math.min(0.5, (checked.length * Math.PI * coarse * coarse) / (map.width * map.height));
	const effort = quick ? 0.1 : 1;
	let [tried, refined] = [0, 0];
	for (let t = 0; t < own.count; t++) {
		const long = own.sides[3 * t] as number;
		const middle = own.sides[3 * t + 1] as number;
		const short = own.sides[3 * t + 2] as number;
		// Seen from inside the sky the frame's right, up and forward turn the other way about.
		const wanted = -middle;
		const sign = wanted < 0 ? -1 : 1;
		const cells = new Set<number>();
		for (const a of [-1, 0, 1])
			for (const b of [-1, 0, 1])
				cells.add(
					cellOf(
						sign * Math.min(1, Math.max(0.5, Math.abs(wanted) + a * SAME_SHAPE)),
						Math.min(1, Math.max(0, short + b * SAME_SHAPE)),
					),
				);
		for (const cell of cells)
			for (let at = shapes.starts[cell] as number; at < (shapes.starts[cell + 1] as number); at++) {
				const s = shapes.order[at] as number;
				if (Math.abs((shapes.sides[3 * s + 1] as number) - wanted) > SAME_SHAPE) continue;
				if (Math.abs((shapes.sides[3 * s + 2] as number) - short) > SAME_SHAPE) continue;
				const size = long / (shapes.sides[3 * s] as number);
				if (Math.abs(size - 1) > SAME_SIZE) continue;
				if (++tried > effort * MOST_TRIED) return undefined;
				const scaled = { ...map, focal: map.focal * size };
				const three = [0, 1, 2].map((i) => ({
					found: own.corners[3 * t + i] as number,
					star: shapes.corners[3 * s + i] as number,
				}));
				const attitude = attitudeOf(found, vectors, scaled, three);
				if (!attitude) continue;
				let [seen, met] = [0, 0];
				const first = three[0]?.star as number;
				for (const star of neighboursOf(first)) {
					if (three.some((one) => one.star === star)) continue;
					const place = pixelOf(scaled, inCamera(attitude, vectorAt(vectors, star)));
					if (!place || !isInFrame(map, place[0], place[1])) continue;
					seen++;
					if (grid.nearest(place[0], place[1], coarse) !== undefined) met++;
				}
				if (met < 3 || logTail(seen, met, byChance) > -2.3) continue;
				if (++refined > effort * MOST_REFINED) return undefined;
				const answer = refine(found, sky, attitude, scaled, around, vectorAt(vectors, first), theta, tried);
				if (answer) return answer;
			}
	}
	return undefined;
}

/** Turns the camera so that three things found lie on three stars, the farthest two before all. */
function attitudeOf(
	found: readonly Found[],
	vectors: Float64Array,
	map: LensMap,
	three: readonly Match[],
): Attitude | undefined {
	// The longest side lies between the second and the third corner.
	const [, a, b] = three as [Match, Match, Match];
	const ray = (i: number): Vector => {
		const { right, up } = found[i] as Found;
		return rayAt(map, right, up);
	};
	const own = basis(ray(a.found), ray(b.found), -1);
	const theirs = basis(vectorAt(vectors, a.star), vectorAt(vectors, b.star), 1);
	if (!own || !theirs) return undefined;
	// Each of the camera's axes, in the directions of the sky.
	const axis = (i: 0 | 1 | 2): Vector =>
		plus(plus(times(theirs[0], own[0][i]), times(theirs[1], own[1][i])), times(theirs[2], own[2][i]));
	return { right: axis(0), up: axis(1), forward: axis(2) };
}

/** Axes in the middle of two directions, along and across them; the camera's own turn the other way about. */
function basis(a: Vector, b: Vector, sense: 1 | -1): readonly [Vector, Vector, Vector] | undefined {
	const middle = plus(a, b);
	const along = plus(b, times(a, -1));
	if (!(dot(middle, middle) > 1e-9 && dot(along, along) > 1e-12)) return undefined;
	const [m, l] = [unit(middle), unit(along)];
	return [m, l, times(cross(m, l), sense)];
}

/** Things found, by squares of the frame. */
export class Grid {
	readonly #cells = new Map<number, number[]>();
	readonly #size: number;
	readonly #columns: number;
	readonly #found: readonly Found[];
	readonly #map: Pick<LensMap, "width" | "height">;

	constructor(found: readonly Found[], which: readonly number[], map: Pick<LensMap, "width" | "height">, size: number) {
		this.#found = found;
		this.#map = map;
		this.#size = Math.max(size, 2);
		this.#columns = Math.ceil(map.width / this.#size) + 3;
		for (const i of which) {
			const { right, up } = found[i] as Found;
			const cell = this.#cell(right, up);
			const list = this.#cells.get(cell);
			if (list) list.push(i);
			else this.#cells.set(cell, [i]);
		}
	}

	#cell(right: number, up: number): number {
		return (
			(Math.floor((up + this.#map.height / 2) / this.#size) + 1) * this.#columns +
			Math.floor((right + this.#map.width / 2) / this.#size) +
			1
		);
	}

	/** The nearest thing found within a distance that is at most the size of the squares. */
	nearest(right: number, up: number, within: number): number | undefined {
		const middle = this.#cell(right, up);
		let best = within * within;
		let nearest: number | undefined;
		for (let row = -1; row <= 1; row++)
			for (let column = -1; column <= 1; column++)
				for (const i of this.#cells.get(middle + row * this.#columns + column) ?? []) {
					const one = this.#found[i] as Found;
					const distance = (one.right - right) ** 2 + (one.up - up) ** 2;
					if (distance >= best) continue;
					best = distance;
					nearest = i;
				}
		return nearest;
	}
}

/** Stars that are compared at most, the brightest of the frame. */
const MOST_STARS = 350;

/** The stars that an attitude shows, the brightest first, with their places. */
export function starsShown(
	{ vectors, magnitudes }: StarSky,
	attitude: Attitude,
	map: LensMap,
	most = MOST_STARS,
): readonly { readonly star: number; readonly right: number; readonly up: number }[] {
	const shown: { star: number; right: number; up: number }[] = [];
	for (let star = 0; star < magnitudes.length && shown.length < most; star++) {
		const place = pixelOf(map, inCamera(attitude, vectorAt(vectors, star)));
		if (place && isInFrame(map, place[0], place[1])) shown.push({ star, right: place[0], up: place[1] });
	}
	return shown;
}

/** Steps of refining: how far around the triangle (in units of its size), and how near a star has to be, 6000 pixels wide. */
const RINGS = [
	{ within: 2.5, pixels: 50, freedom: "focal" },
	{ within: 5, pixels: 35, freedom: "bent" },
	{ within: 99, pixels: 35, freedom: "bent" },
	{ within: 99, pixels: 18, freedom: "bent" },
	{ within: 99, pixels: 9, freedom: "lens" },
	{ within: 99, pixels: 5, freedom: "lens" },
] as const;

/** What of the matches the fit can adapt: three for the attitude, and the lens. */
const ADAPTED = 5;

function refine(
	found: readonly Found[],
	sky: StarSky,
	start: Attitude,
	startMap: LensMap,
	around: LensMap,
	middle: Vector,
	theta: number,
	tried: number,
): Identification | undefined {
	let attitude = start;
	let map = startMap;
	let matches: readonly Match[] = [];
	let rms = 0;
	let tolerance = 0;
	for (const { within, pixels, freedom } of RINGS) {
		tolerance = toleranceOf(pixels, startMap);
		const shown = starsShown(sky, attitude, map);
		const cos = within > 50 ? -2 : Math.cos(Math.min(Math.PI, within * theta));
		const near = shown.filter(({ star }) => dot(middle, vectorAt(sky.vectors, star)) > cos);
		matches = matchesOf(found, usedOf(found, shown), near, map, tolerance);
		if (matches.length < 5) return undefined;
		const fit = fitMatches(found, sky, { attitude, map, matches }, freedom, tolerance, around);
		[attitude, map, rms] = [fit.attitudes[0] as Attitude, fit.map, fit.rms];
	}
	const shown = starsShown(sky, attitude, map);
	const used = usedOf(found, shown);
	matches = matchesOf(found, used, shown, map, tolerance);
	const { logChance, expected } = chanceOf(found, used, shown, matches, map, tolerance);
	const logAll = logChance + Math.log10(tried + 1);
	return logAll < ACCEPTED ? { attitude, map, matches, rms, expected, logChance: logAll } : undefined;
}

/** How near a star has to be, pixels, in a step of refining that is said for 6000 pixels. */
export const toleranceOf = (pixels: number, { width, height }: LensMap): number =>
	Math.max(pixels * (Math.max(width, height) / 6000), 2.5);

/** What is matched: of what was found as much as there are stars to be found, and twice as much again that is none. */
export const usedOf = (found: readonly Found[], shown: readonly unknown[]): readonly number[] =>
	Array.from({ length: Math.min(found.length, Math.max(40, 3 * shown.length)) }, (_, i) => i);

/** One step of refining: a frame's attitude and the lens by the stars that were matched. */
export const fitMatches = (
	found: readonly Found[],
	sky: StarSky,
	{ attitude, map, matches }: Pick<Identification, "attitude" | "map" | "matches">,
	freedom: Freedom,
	tolerance: number,
	around: LensMap,
) => fitFrames([{ sightings: sightingsOf(found, sky, matches), attitude }], map, freedom, 1.5 * tolerance, around, 3);

/** Each star with the nearest thing found; a thing found goes to the brightest star that claims it. */
export function matchesOf(
	found: readonly Found[],
	used: readonly number[],
	shown: readonly { readonly star: number; readonly right: number; readonly up: number }[],
	map: LensMap,
	tolerance: number,
): readonly Match[] {
	const grid = new Grid(found, used, map, tolerance);
	const taken = new Set<number>();
	return shown.flatMap(({ star, right, up }): readonly Match[] => {
		const i = grid.nearest(right, up, tolerance);
		if (i === undefined || taken.has(i)) return [];
		taken.add(i);
		return [{ found: i, star }];
	});
}

/** Matches as what a fit is made of. */
export const sightingsOf = (
	found: readonly Found[],
	{ vectors }: StarSky,
	matches: readonly Match[],
): readonly Sighting[] =>
	matches.map(({ found: i, star }) => {
		const { right, up } = found[i] as Found;
		return { direction: vectorAt(vectors, star), right, up, spread: 0 };
	});

/** The chance that as many of the brightest stars are met by chance: the least over how many of them are counted. */
function chanceOf(
	found: readonly Found[],
	used: readonly number[],
	shown: readonly { readonly star: number; readonly right: number; readonly up: number }[],
	matches: readonly Match[],
	map: LensMap,
	tolerance: number,
): { readonly logChance: number; readonly expected: number } {
	const met = new Set(matches.map(({ star }) => star));
	const area = Math.PI * tolerance * tolerance;
	// Where much was found close together, chance meets more: the density about each star counts where it is greater.
	const wide = halfDiagonal(map) / 8;
	const grid = used.map((i) => found[i] as Found);
	let [hits, sum] = [0, 0];
	let best = { logChance: 0, expected: shown.length };
	for (let n = 1; n <= shown.length; n++) {
		const { star, right, up } = shown[n - 1] as (typeof shown)[number];
		if (met.has(star)) hits++;
		if (n <= 60) {
			const nearby = grid.filter((one) => (one.right - right) ** 2 + (one.up - up) ** 2 < wide * wide).length;
			const density = Math.max(used.length / (map.width * map.height), nearby / (Math.PI * wide * wide));
			sum += Math.min(0.5, density * area);
		}
		if (hits <= ADAPTED + 2) continue;
		const logChance = logTail(n - ADAPTED, hits - ADAPTED, sum / Math.min(n, 60)) + Math.log10(shown.length);
		if (logChance < best.logChance) best = { logChance, expected: n };
	}
	return best;
}

/** Ten's logarithm of the chance of k or more hits in n, each with the chance p. */
export function logTail(n: number, k: number, p: number): number {
	if (k <= 0) return 0;
	if (k > n) return Number.NEGATIVE_INFINITY;
	// The first term, and the others as parts of it.
	let log = 0;
	for (let i = 0; i < k; i++) log += Math.log10((n - i) / (k - i));
	log += k * Math.log10(p) + (n - k) * Math.log10(1 - p);
	let [sum, term] = [1, 1];
	for (let i = k; i < n && term > 1e-12 * sum; i++) {
		term *= ((n - i) / (i + 1)) * (p / (1 - p));
		sum += term;
	}
	return Math.min(0, log + Math.log10(sum));
}
