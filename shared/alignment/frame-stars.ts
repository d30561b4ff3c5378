/**
 * Which stars of a frame are followed for its trails.
 *
 * A trail is the difference of two nearly linear maps of the frame, so that its length is greatest on the border of the
 * sky that the frame shows: at its edge, or where a skyline, an opening or an obstruction cuts it. Stars are taken on
 * that border, found on the lines of a grid, and where the border bends; and in the middle, for its own sake.
 */
import { type Camera, pointOf, rayOf } from "../optics/camera.ts";
import { type Direction, toDirection, toVector } from "../sky/horizontal.ts";
import type { Spot } from "../sky/place.ts";
import { trueAltitude } from "../sky/refraction.ts";
import { dot, type Vector } from "../sky/vector.ts";
import { type Attitude, outward } from "./attitude.ts";

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
/** Halvings of a step of the grid in which the border is found: to 1/8000 of the frame. */
const HALVINGS = 10;

/** A place of the grid: its star, and whether it is hidden (0), low (1), or to be sharp (2). */
interface Looked {
	readonly star: Omit<FrameStar, "sky">;
	readonly level: 0 | 1 | 2;
	readonly isSky: boolean;
}

/** The stars of a shot. */
export function frameOf(shot: Shot): Frame {
	const { camera, vertical, attitude, spot, sky, sharpAbove } = shot;
	const [width, height] = vertical ? [camera.sensor[1], camera.sensor[0]] : camera.sensor;
	const [columns, rows] = width >= height ? [LONG, SHORT] : [SHORT, LONG];
	const lookAt = (x: number, y: number): Looked => {
		const point = [(x * width) / 2, (y * height) / 2] as const;
		const seen = toDirection(outward(attitude, rayOf(camera, ...point)));
		const isSky = sky.isSky(seen);
		const weight = isSky ? weightAt(seen.altitude, sharpAbove) : 0;
		return { star: { place: [x, y], point, seen, weight }, level: weight === 1 ? 2 : weight > 0 ? 1 : 0, isSky };
	};
	const found: Looked["star"][] = [];
	const grid: Looked[][] = [];
	let hidden = 0;
	for (let i = 0; i <= columns; i++) {
		const column: Looked[] = [];
		for (let j = 0; j <= rows; j++) {
			const looked = lookAt((2 * i) / columns - 1, (2 * j) / rows - 1);
			column.push(looked);
			if (!looked.isSky) hidden++;
			if (looked.level > 0 && (i === 0 || j === 0 || i === columns || j === rows)) found.push(looked.star);
			const below = column[j - 1];
			const left = grid[i - 1]?.[j];
			if (below) addBorder(below, looked);
			if (left) addBorder(left, looked);
		}
		grid.push(column);
	}
	for (const bend of sky.bends) {
		const v = toVector(bend);
		const ray: Vector = [dot(attitude.right, v), dot(attitude.up, v), dot(attitude.forward, v)];
		const point = pointOf(camera, ray);
		if (!point) continue;
		const [x, y] = [(2 * point[0]) / width, (2 * point[1]) / height];
		if (Math.abs(x) > 1 || Math.abs(y) > 1) continue;
		const looked = lookAt(x, y);
		if (looked.level > 0) found.push(looked.star);
	}
	const showsSky = found.length > 0;
	const middle = lookAt(0, 0).star;
	const stars = [showsSky ? middle : { ...middle, weight: 1 }, ...found].map(
		(star): FrameStar => ({
			...star,
			sky: toVector({ ...star.seen, altitude: trueAltitude(star.seen.altitude, spot.air) }),
		}),
	);
	return { shot, stars, showsSky, hidden: hidden / ((columns + 1) * (rows + 1)) };

	/** Where what counts more ends between two places of the grid, on that side. */
	function addBorder(a: Looked, b: Looked): void {
		if (a.level === b.level) return;
		let [more, less] = a.level > b.level ? [a, b] : [b, a];
		const { level } = more;
		for (let i = 0; i < HALVINGS; i++) {
			const [x1, y1] = more.star.place;
			const [x2, y2] = less.star.place;
			const between = lookAt((x1 + x2) / 2, (y1 + y2) / 2);
			if (between.level >= level) more = between;
			else less = between;
		}
		found.push(more.star);
	}
}
