/**
 * Which stars of a frame are followed for its trails.
 *
 * A trail is the difference of two nearly linear maps of the frame, so that its length is greatest on the border of the
 * sky that the frame shows: at its edge, or where a skyline, an opening or an obstruction cuts it. Stars are taken on
 * that border, found on the lines of a grid, and where the border bends; and in the middle, for its own sake.
 */
import { type Camera, pointOf, rayOf } from "../optics/camera.ts";
import { type Direction, toVector } from "../sky/horizontal.ts";
import type { Spot } from "../sky/place.ts";
import { trueAltitude } from "../sky/refraction.ts";
import { DEG, dot, turn, type Vector } from "../sky/vector.ts";
import type { Attitude } from "./attitude.ts";

/** The sky that a frame can show. Directions are apparent. */
export interface VisibleSky {
	isSky(direction: Direction): boolean;
	/** Where its border bends outward: notches of the skyline, corners of openings. */
	readonly bends: readonly Direction[];
}

/** A frame that is taken. */
export interface Shot {
	readonly camera: Camera;
	/** Long side along the camera's `up`. */
	readonly vertical: boolean;
	/** When the shutter opens. */
	readonly attitude: Attitude;
	readonly spot: Spot;
	readonly sky: VisibleSky;
	/** Stars lower than this need not be sharp, degrees; see `weightAt`. */
	readonly sharpAbove: number;
	/** Turns of the tracker for one of the sky: 1 sidereal, 0.5 half rate, 0 untracked. */
	readonly rate: number;
	/** Degrees and seconds. */
	readonly periodicError?: { readonly amplitude: number; readonly period: number } | undefined;
}

/** A star of the frame. */
export interface FrameStar {
	/** Its place in half widths right and half heights up of the middle, −1 … 1. */
	readonly place: readonly [right: number, up: number];
	/** The same in millimetres. */
	readonly point: readonly [number, number];
	/** Where it is seen. */
	readonly seen: Direction;
	/** Where it is, without air. */
	readonly sky: Vector;
	/** How much its trail counts, 0 … 1. */
	readonly weight: number;
}

/** A shot with its stars. */
export interface Frame {
	readonly shot: Shot;
	/** The middle first, whether or not it counts. */
	readonly stars: readonly FrameStar[];
	/** Whether any sky is in the frame. Where none is, the middle counts. */
	readonly showsSky: boolean;
	/** Part of the frame in which no sky is seen, 0 … 1. */
	readonly hidden: number;
}

/** Stars need not be sharp below this, where the air dims and colours them: degrees. Common practice, no source. */
export const SHARP_ABOVE = 5;
/** Degrees over which a star's trail comes to count. */
const FADE = 2;

/**
 * How much a star's trail counts at an apparent altitude: whole from `sharpAbove` on, less in proportion below it,
 * nothing from 2° lower on. Refraction makes trails longer toward the horizon by less than this makes them count less,
 * so that the lowest stars that are to be sharp decide, and a star that comes into the frame changes nothing at once.
 */
export const weightAt = (altitude: number, sharpAbove: number): number =>
	Math.min(1, Math.max(0, (altitude - sharpAbove + FADE) / FADE));

/** Lines of the grid along the frame's long and its short side. */
const LONG = 8;
const SHORT = 6;
/** Halvings of a step of the grid in which the border is found: to 1/2000 of the frame. */
const HALVINGS = 8;

/** How much is seen at a place of the frame: nothing that counts (0), stars that are low (1), or that are to be sharp (2). */
type Level = 0 | 1 | 2;

/** A look through the camera at a place of the frame. The next look overwrites it, since each frame takes hundreds. */
class Look implements Direction {
	/** Place in half widths and half heights, and in millimetres. */
	x = 0;
	y = 0;
	right = 0;
	up = 0;
	azimuth = 0;
	altitude = 0;
	isSky = false;
	weight = 0;
	level: Level = 0;
	readonly #shot: Shot;
	readonly #half: readonly [width: number, height: number];

	constructor(shot: Shot, [width, height]: readonly [number, number]) {
		this.#shot = shot;
		this.#half = [width / 2, height / 2];
	}

	/** Looks at a place, and gives what is seen there. */
	at(x: number, y: number): Level {
		const { camera, attitude, sky, sharpAbove } = this.#shot;
		const { right, up, forward } = attitude;
		this.x = x;
		this.y = y;
		this.right = x * this.#half[0];
		this.up = y * this.#half[1];
		const [a, b, c] = rayOf(camera, this.right, this.up);
		const east = right[0] * a + up[0] * b + forward[0] * c;
		const north = right[1] * a + up[1] * b + forward[1] * c;
		const height = right[2] * a + up[2] * b + forward[2] * c;
		this.azimuth = turn(Math.atan2(east, north) * DEG);
		this.altitude = Math.atan2(height, Math.sqrt(east * east + north * north)) * DEG;
		this.isSky = sky.isSky(this);
		this.weight = this.isSky ? weightAt(this.altitude, sharpAbove) : 0;
		this.level = this.weight === 1 ? 2 : this.weight > 0 ? 1 : 0;
		return this.level;
	}

	/** The star at the place that was looked at. */
	star(): FrameStar {
		const { azimuth, altitude, weight } = this;
		const seen: Direction = { azimuth, altitude };
		const sky = toVector({ azimuth, altitude: trueAltitude(altitude, this.#shot.spot.air) });
		return { place: [this.x, this.y], point: [this.right, this.up], seen, sky, weight };
	}
}

/** The stars of a shot. */
export function frameOf(shot: Shot): Frame {
	const { camera, vertical, attitude, sky } = shot;
	const [width, height] = vertical ? [camera.sensor[1], camera.sensor[0]] : camera.sensor;
	const [columns, rows] = width >= height ? [LONG, SHORT] : [SHORT, LONG];
	const look = new Look(shot, [width, height]);
	look.at(0, 0);
	const middle = look.star();
	const stars: FrameStar[] = [middle];
	const levels = new Uint8Array((columns + 1) * (rows + 1));
	const xOf = (column: number): number => (2 * column) / columns - 1;
	const yOf = (row: number): number => (2 * row) / rows - 1;
	let hidden = 0;
	for (let i = 0; i <= columns; i++)
		for (let j = 0; j <= rows; j++) {
			const x = xOf(i);
			const y = yOf(j);
			const place = i * (rows + 1) + j;
			const level = look.at(x, y);
			levels[place] = level;
			const atSide = i === 0 || i === columns;
			const atEnd = j === 0 || j === rows;
			// A place at the edge stands for half of what one inside does.
			if (!look.isSky) hidden += (atSide ? 0.5 : 1) * (atEnd ? 0.5 : 1);
			if (level > 0 && (atSide || atEnd)) stars.push(look.star());
			if (j > 0) addBorder(x, yOf(j - 1), levels[place - 1] as Level, x, y, level);
			if (i > 0) addBorder(xOf(i - 1), y, levels[place - rows - 1] as Level, x, y, level);
		}
	for (const bend of sky.bends) {
		const v = toVector(bend);
		const point = pointOf(camera, [dot(attitude.right, v), dot(attitude.up, v), dot(attitude.forward, v)]);
		if (!point) continue;
		const [x, y] = [(2 * point[0]) / width, (2 * point[1]) / height];
		if (Math.abs(x) <= 1 && Math.abs(y) <= 1 && look.at(x, y) > 0) stars.push(look.star());
	}
	const showsSky = stars.length > 1;
	if (!showsSky) stars[0] = { ...middle, weight: 1 };
	return { shot, stars, showsSky, hidden: hidden / (columns * rows) };

	/** Where what counts more ends between two places of the grid, on that side. */
	function addBorder(x1: number, y1: number, level1: Level, x2: number, y2: number, level2: Level): void {
		if (level1 === level2) return;
		const level = Math.max(level1, level2);
		// Parts of the way from the first place to the second.
		let more = level1 > level2 ? 0 : 1;
		let less = 1 - more;
		const lookAt = (part: number): Level => look.at(x1 + part * (x2 - x1), y1 + part * (y2 - y1));
		for (let i = 0; i < HALVINGS; i++) {
			const between = (more + less) / 2;
			if (lookAt(between) >= level) more = between;
			else less = between;
		}
		lookAt(more);
		stars.push(look.star());
	}
}
