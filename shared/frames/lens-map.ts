/**
 * How a lens and its sensor map directions to pixels: the projection, a focal length and an optical axis of their own,
 * and radial distortion. Places are pixels right and up of the frame's middle.
 *
 * With r the place of an ideal lens and ρ = r over half the frame's diagonal, the real one is at r (1 + k₁ρ² + k₂ρ⁴)
 * from the optical axis: k₁ + k₂ is the distortion at the corner.
 */
import { fieldAngleRad, type Mapping, type Projection, pointScale } from "../optics/camera.ts";
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

/** A lens as it is written on it: no distortion, its axis in the middle. */
export const plainMap = (projection: Projection, width: number, height: number, focal: number): LensMap => ({
	projection,
	width,
	height,
	focal,
	axisRight: 0,
	axisUp: 0,
	k1: 0,
	k2: 0,
});

/** Half the diagonal of a frame, pixels. */
export const halfDiagonal = ({ width, height }: Pick<LensMap, "width" | "height">): number =>
	Math.sqrt(width * width + height * height) / 2;

const mappingOf = ({ projection, focal }: LensMap): Mapping => ({ projection, focalLength: focal });

/** Where a ray of the camera (right, up, along its axis) falls; undefined when it does not. */
export function pixelOf(map: LensMap, [x, y, z]: Vector): readonly [right: number, up: number] | undefined {
	const across = Math.sqrt(x * x + y * y);
	const scale = pointScale(mappingOf(map), across, z);
	if (Number.isNaN(scale)) return undefined;
	const rho = (across * scale) / halfDiagonal(map);
	// Far outside the frame the polynomial says nothing: a ray there falls nowhere.
	if (rho > 1.6) return undefined;
	const real = scale * (1 + rho * rho * (map.k1 + map.k2 * rho * rho));
	return [map.axisRight + x * real, map.axisUp + y * real];
}

/** The ray of a place in the frame: a unit vector. */
export function rayAt(map: LensMap, right: number, up: number): Vector {
	const dx = right - map.axisRight;
	const dy = up - map.axisUp;
	const real = Math.sqrt(dx * dx + dy * dy);
	if (real === 0) return [0, 0, 1];
	const half = halfDiagonal(map);
	let ideal = real;
	for (let i = 0; i < 8; i++) {
		const rho = ideal / half;
		const square = rho * rho;
		const error = ideal * (1 + square * (map.k1 + map.k2 * square)) - real;
		const slope = 1 + square * (3 * map.k1 + 5 * map.k2 * square);
		if (!(slope > 0.2)) break;
		ideal -= error / slope;
		if (Math.abs(error) < 1e-7) break;
	}
	const angle = fieldAngleRad(mappingOf(map), ideal);
	const s = Math.sin(angle) / real;
	return [dx * s, dy * s, Math.cos(angle)];
}

/** Whether a place is in the frame. */
export const isInFrame = ({ width, height }: LensMap, right: number, up: number, margin = 0): boolean =>
	Math.abs(right) <= width / 2 - margin && Math.abs(up) <= height / 2 - margin;
