/**
 * How a lens and its sensor map directions to pixels: the projection, a focal length and an optical axis of their own,
 * and radial distortion about that axis. Places are pixels right and up of the frame's middle.
 */
import { type Mapping, type Projection, pointScale, rayOf } from "../optics/camera.ts";
import type { Vector } from "../sky/vector.ts";

export interface LensMap {
	readonly projection: Projection;
	/** Pixels. */
	readonly width: number;
	readonly height: number;
	readonly focal: number;
	/** The optical axis, pixels right and up of the middle. */
	readonly axisRight: number;
	readonly axisUp: number;
	readonly k1: number;
	readonly k2: number;
}

/** A lens as the plan has it, its axis in the middle of the frame. */
export const plainMap = (
	projection: Projection,
	width: number,
	height: number,
	focal: number,
	{ k1, k2 }: Pick<LensMap, "k1" | "k2"> = { k1: 0, k2: 0 },
): LensMap => ({ projection, width, height, focal, axisRight: 0, axisUp: 0, k1, k2 });

/** Half the diagonal of a frame, pixels. */
export const halfDiagonal = ({ width, height }: Pick<LensMap, "width" | "height">): number =>
	Math.sqrt(width * width + height * height) / 2;

const mappingOf = (map: LensMap): Mapping => ({
	projection: map.projection,
	focalLength: map.focal,
	distortion: { k1: map.k1, k2: map.k2, half: halfDiagonal(map) },
});

/** Where a ray of the camera (right, up, along its axis) falls; undefined when it does not. */
export function pixelOf(map: LensMap, [x, y, z]: Vector): readonly [right: number, up: number] | undefined {
	const scale = pointScale(mappingOf(map), Math.sqrt(x * x + y * y), z);
	return Number.isNaN(scale) ? undefined : [map.axisRight + x * scale, map.axisUp + y * scale];
}

/** The ray of a place in the frame: a unit vector. */
export const rayAt = (map: LensMap, right: number, up: number): Vector =>
	rayOf(mappingOf(map), right - map.axisRight, up - map.axisUp);

/** Whether a place is in the frame. */
export const isInFrame = ({ width, height }: LensMap, right: number, up: number, margin = 0): boolean =>
	Math.abs(right) <= width / 2 - margin && Math.abs(up) <= height / 2 - margin;

/** No lens has its axis so far from the middle, half diagonals: 0.65 mm on 36 × 24 mm. No source. */
const OFF_CENTRE = 0.03;

/** Whether a picture cannot have been whole, by where the lens's axis is on it. */
export const isOffCentre = (map: LensMap): boolean =>
	Math.hypot(map.axisRight, map.axisUp) > OFF_CENTRE * halfDiagonal(map);
