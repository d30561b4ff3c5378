/**
 * The horizon that the ground makes around an eye: for every tenth of a degree of bearing the highest ground that is seen.
 *
 * Two passes over each tile. Every height of the grid counts for the bearing it stands at, so that no peak between two
 * lines of sight is missed. Near the eye, where heights stand farther apart than lines of sight do, the ground between
 * them is followed along each line.
 *
 * Places are on the WGS 84 ellipsoid; a height is taken along the vertical of its place. With the eye at height e, a point
 * of the ground at height h whose foot is d away and z below the eye's level plane stands at
 *
 *     tan a = (h − e − z + k d² / 2R) / d (1 + h / R)
 *
 * where k is the coefficient of terrestrial refraction. For a sphere z = d² / 2R, and this is the handbook's
 * (Δ − (1 − k) d² / 2R) / d.
 */
import { EARTH_RADIUS, TERRESTRIAL_REFRACTION } from "../earth/sightline.ts";
import { halfTurn, RAD } from "../sky/vector.ts";
import { groundBetween, type Tile, VOID } from "./tile.ts";

/** Where one looks from: degrees, and metres above the geoid. */
export interface Eye {
	readonly latitude: number;
	readonly longitude: number;
	readonly elevation: number;
}

/** A thing whose line of sight is asked for: true bearing in degrees, distance in metres, tangent of its altitude. */
export interface Sight {
	readonly bearing: number;
	readonly distance: number;
	readonly altitude: number;
}

/** Bearings of a turn. */
export const BEARINGS = 3600;
const STEP_RAD = (2 * Math.PI) / BEARINGS;

/** The highest ground by bearing. */
export interface Horizon {
	/** Apparent altitude at each tenth of a degree of bearing, from north through east, degrees; NaN where nothing is known. */
	readonly altitudes: Float64Array;
	/** How far away that ground is, metres. */
	readonly distances: Float64Array;
	/** How far the ground is known without a gap at each whole degree of bearing, metres. */
	readonly knownTo: Float64Array;
	/** For each thing asked for: how far away the ground is that hides it, metres; undefined where none does. */
	readonly hiddenAt: readonly (number | undefined)[];
}

// WGS 84.
const A = 6_378_137;
const E2 = 0.006_694_379_990_141_3;

/** Steps in which it is noted how far the ground is known, metres. */
const NOTED = 250;

/**
 * Looks over one tile after the other, of which it keeps nothing, and gives the horizon. `reach` is how far it looks,
 * `near` how close it begins, metres: what is nearer than the grid's own spacing no tile knows.
 */
export class HorizonFinder {
	readonly #eye: Eye;
	readonly #reach: number;
	readonly #near: number;
	readonly #sights: readonly Sight[];
	readonly #best = new Float64Array(BEARINGS).fill(Number.NEGATIVE_INFINITY);
	readonly #distances = new Float64Array(BEARINGS);
	readonly #known: Uint8Array;
	readonly #notes: number;
	readonly #hidden: { tan: number; distance: number }[];
	/** The eye's meridian and prime vertical: sine and cosine of its latitude, radii of curvature, place on the ellipsoid. */
	readonly #sin: number;
	readonly #cos: number;
	readonly #meridian: number;
	readonly #vertical: number;

	constructor(eye: Eye, { reach, near, sights = [] }: { reach: number; near: number; sights?: readonly Sight[] }) {
		this.#eye = eye;
		this.#reach = reach;
		this.#near = near;
		this.#sights = sights;
		this.#hidden = sights.map(() => ({ tan: Number.NEGATIVE_INFINITY, distance: 0 }));
		this.#sin = Math.sin(eye.latitude * RAD);
		this.#cos = Math.cos(eye.latitude * RAD);
		const w = Math.sqrt(1 - E2 * this.#sin ** 2);
		this.#vertical = A / w;
		this.#meridian = (A * (1 - E2)) / w ** 3;
		this.#notes = Math.ceil(reach / NOTED);
		this.#known = new Uint8Array(360 * this.#notes);
	}

	/** Looks over a tile. */
	add(tile: Tile): void {
		// Beyond that, heights stand closer than the lines of sight.
		const until = Math.min(this.#reach, this.#spacing(tile) / STEP_RAD);
		for (let i = 0; i < BEARINGS; i++)
			this.#line(tile, i * STEP_RAD).cross(this.#near, until, (tan, distance) => this.#see(i, tan, distance));
		for (const [i, sight] of this.#sights.entries()) this.#followSight(tile, sight, i);
		this.#addHeights(tile);
		this.#noteKnown(tile);
	}

	/** What was found. */
	horizon(): Horizon {
		const altitudes = this.#best.map((tan) => (tan === Number.NEGATIVE_INFINITY ? Number.NaN : Math.atan(tan) / RAD));
		const knownTo = new Float64Array(360).map((_, bearing) => {
			const from = bearing * this.#notes;
			const gap = this.#known.subarray(from, from + this.#notes).indexOf(0);
			return gap === -1 ? this.#reach : gap * NOTED;
		});
		const hiddenAt = this.#sights.map(({ altitude }, i) => {
			const { tan, distance } = this.#hidden[i] as { tan: number; distance: number };
			return tan > Math.tan(altitude * RAD) ? distance : undefined;
		});
		return { altitudes, distances: this.#distances, knownTo, hiddenAt };
	}

	/** The smaller distance from one height to the next, metres. */
	#spacing({ latitudeStep, longitudeStep }: Tile): number {
		return Math.min(latitudeStep * RAD * this.#meridian, longitudeStep * RAD * this.#vertical * this.#cos);
	}

	/** Each height of the grid at its own bearing. */
	#addHeights({ north, west, latitudeStep, longitudeStep, rows, columns, heights }: Tile): void {
		const { latitude, longitude, elevation } = this.#eye;
		const [sin0, cos0, reach2, near2] = [this.#sin, this.#cos, this.#reach ** 2, this.#near ** 2];
		const x0 = this.#vertical * cos0;
		const z0 = this.#vertical * (1 - E2) * sin0;
		const [sines, cosines] = [new Float64Array(columns), new Float64Array(columns)];
		for (let j = 0; j < columns; j++) {
			const east = (west + j * longitudeStep - longitude) * RAD;
			sines[j] = Math.sin(east);
			cosines[j] = Math.cos(east);
		}
		const lift = TERRESTRIAL_REFRACTION / (2 * EARTH_RADIUS);
		for (let i = 0; i < rows; i++) {
			const phi = north - i * latitudeStep;
			// No point of the row is nearer than this.
			if (Math.abs(phi - latitude) * RAD * this.#meridian * 0.99 > this.#reach) continue;
			const sin = Math.sin(phi * RAD);
			const radius = A / Math.sqrt(1 - E2 * sin * sin);
			const across = radius * Math.cos(phi * RAD);
			const dz = radius * (1 - E2) * sin - z0;
			const lowest = this.#best.reduce((least, one) => Math.min(least, one), Number.POSITIVE_INFINITY);
			for (let j = 0; j < columns; j++) {
				const height = heights[i * columns + j] as number;
				if (height === VOID) continue;
				const dx = across * (cosines[j] as number) - x0;
				const east = across * (sines[j] as number);
				const toNorth = cos0 * dz - sin0 * dx;
				const square = east * east + toNorth * toNorth;
				if (square > reach2 || square < near2) continue;
				const rise = height - elevation + cos0 * dx + sin0 * dz + lift * square;
				const distance = Math.sqrt(square);
				const tan = rise / (distance * (1 + height / EARTH_RADIUS));
				if (tan <= lowest) continue;
				const turned = Math.round(Math.atan2(east, toNorth) / STEP_RAD);
				this.#see(turned < 0 ? turned + BEARINGS : turned === BEARINGS ? 0 : turned, tan, distance);
			}
		}
	}

	#see(bearing: number, tan: number, distance: number): void {
		if (!(tan > (this.#best[bearing] as number))) return;
		this.#best[bearing] = tan;
		this.#distances[bearing] = distance;
	}

	/** Stops short of the thing itself, which stands on the ground. */
	#followSight(tile: Tile, { bearing, distance }: Sight, index: number): void {
		const hidden = this.#hidden[index] as { tan: number; distance: number };
		const until = Math.min(this.#reach, distance - 2 * this.#spacing(tile));
		this.#line(tile, bearing * RAD).cross(this.#near, until, (tan, at) => {
			if (!(tan > hidden.tan)) return;
			hidden.tan = tan;
			hidden.distance = at;
		});
	}

	#noteKnown(tile: Tile): void {
		for (let bearing = 0; bearing < 360; bearing++) {
			const line = this.#line(tile, bearing * RAD);
			const [from, to] = line.within(0, this.#reach);
			for (let k = Math.ceil(from / NOTED); k < this.#notes && k * NOTED <= to; k++)
				if (!Number.isNaN(line.heightAt(k * NOTED))) this.#known[bearing * this.#notes + k] = 1;
		}
	}

	/**
	 * A line of sight over a tile. Places along it to second order in the distance over Earth's radius, a metre at 36 km:
	 * that moves the ground a little, and the altitude not.
	 */
	#line(tile: Tile, bearingRad: number) {
		const { latitude, longitude, elevation } = this.#eye;
		const { north, west, latitudeStep, longitudeStep, rows, columns, heights } = tile;
		const [sin, cos] = [Math.sin(bearingRad), Math.cos(bearingRad)];
		const [meridian, vertical, cos0] = [this.#meridian, this.#vertical, this.#cos];
		const tangent = this.#sin / cos0;
		// Euler: curvature in the direction of the bearing.
		const drop = ((cos * cos) / meridian + (sin * sin) / vertical - TERRESTRIAL_REFRACTION / EARTH_RADIUS) / 2;
		const row0 = (north - latitude) / latitudeStep;
		// The short way round, at 180° too.
		const column0 = halfTurn(longitude - west) / longitudeStep;
		const perRow = cos / meridian / RAD / latitudeStep;
		const bend = (sin * sin * tangent) / (2 * meridian * vertical) / RAD / latitudeStep;
		const perColumn = sin / (vertical * cos0) / RAD / longitudeStep;
		const widen = (cos * tangent) / vertical;
		const columnAt = (d: number): number => column0 + perColumn * (1 + widen * d) * d;
		const rowAt = (d: number): number => row0 - (perRow - bend * d) * d;
		const heightAt = (d: number): number => groundBetween(tile, rowAt(d), columnAt(d));
		const tanAt = (height: number, d: number): number =>
			(height - elevation - drop * d * d) / (d * (1 + height / EARTH_RADIUS));
		/** On the straight line between two neighbouring heights. */
		const between = (place: number, stride: number, part: number): number => {
			const one = heights[place] as number;
			if (part === 0) return one === VOID ? Number.NaN : one;
			const other = heights[place + stride] as number;
			return one === VOID || other === VOID ? Number.NaN : one + (other - one) * part;
		};
		const line = {
			heightAt,
			/** Gives the ground wherever the line crosses a row or a column: between two of these it has no summit. */
			cross: (least: number, most: number, see: (tan: number, distance: number) => void): void => {
				const [from, to] = line.within(least, most);
				if (!(from < to)) return;
				const [r1, r2] = [rowAt(from), rowAt(to)];
				for (let r = Math.max(0, Math.ceil(Math.min(r1, r2))); r <= Math.min(rows - 1, Math.max(r1, r2)); r++) {
					const straight = (row0 - r) / perRow;
					const d = (row0 - r + bend * straight * straight) / perRow;
					const column = columnAt(d);
					if (!(d >= from && d <= to && column >= 0 && column <= columns - 1)) continue;
					const x = Math.floor(column);
					see(tanAt(between(r * columns + x, 1, column - x), d), d);
				}
				const [c1, c2] = [columnAt(from), columnAt(to)];
				for (let c = Math.max(0, Math.ceil(Math.min(c1, c2))); c <= Math.min(columns - 1, Math.max(c1, c2)); c++) {
					const straight = (c - column0) / perColumn;
					const d = straight / (1 + widen * straight);
					const row = rowAt(d);
					if (!(d >= from && d <= to && row >= 0 && row <= rows - 1)) continue;
					const y = Math.floor(row);
					see(tanAt(between(y * columns + c, columns, row - y), d), d);
				}
			},
			/** Where between two distances the line may be over the tile: a little more than it is. */
			within: (least: number, most: number): readonly [number, number] => {
				let [from, to] = [least, most];
				const clip = (start: number, slope: number, size: number): void => {
					const slack = 2 + 0.02 * size;
					if (Math.abs(slope) < 1e-12) {
						if (start < -slack || start > size + slack) to = -1;
						return;
					}
					const [one, other] = [(-slack - start) / slope, (size + slack - start) / slope];
					from = Math.max(from, Math.min(one, other));
					to = Math.min(to, Math.max(one, other));
				};
				clip(row0, -perRow, rows);
				clip(column0, perColumn, columns);
				return [from, to];
			},
		};
		return line;
	}
}
