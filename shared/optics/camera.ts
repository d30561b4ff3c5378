/** A lens on a camera: field of view, pixel scale, and directions to places in the frame. Angles in degrees. */
import { DEG, RAD } from "../sky/vector.ts";

/** How a lens maps angles to the frame: r = f tan θ, 2 f sin(θ/2), f θ. */
export type Projection = "rectilinear" | "equisolid" | "equidistant";

export interface Camera {
	/** Millimetres. */
	readonly focalLength: number;
	readonly fNumber: number;
	/** Width and height of the sensor, millimetres. */
	readonly sensor: readonly [number, number];
	/** Micrometres. */
	readonly pixelPitch: number;
	readonly projection: Projection;
	readonly distortion?: Distortion | undefined;
}

/**
 * Radial distortion: with ρ the place of an ideal lens over half the frame's diagonal, the real one is at
 * r (1 + k₁ρ² + k₂ρ⁴), so that k₁ + k₂ is the distortion at the corner.
 */
export interface Distortion {
	readonly k1: number;
	readonly k2: number;
	/** Half the frame's diagonal, in the unit of the focal length. */
	readonly half: number;
}

/** What of a camera maps angles to lengths; both in any unit of length. */
export type Mapping = Pick<Camera, "focalLength" | "projection" | "distortion">;

/** From here on, in half diagonals, a lens is taken to stretch as it does here: the polynomial says nothing there. */
const STRETCH_UNTIL = 1.4;

/** How much farther from the middle a lens draws what an ideal one draws at `radius`. */
export function stretch({ k1, k2, half }: Distortion, radius: number): number {
	const rho = Math.min(STRETCH_UNTIL, radius / half);
	return 1 + rho * rho * (k1 + k2 * rho * rho);
}

/** Where an ideal lens draws what a real one draws at `radius`: Newton's method, to the last digits. */
export function unstretched(distortion: Distortion, radius: number): number {
	const { k1, k2, half } = distortion;
	const end = STRETCH_UNTIL * half;
	const least = stretch(distortion, end);
	if (radius >= end * least) return radius / least;
	let ideal = radius;
	for (let i = 0; i < 20; i++) {
		const square = (ideal / half) ** 2;
		const error = ideal * (1 + square * (k1 + k2 * square)) - radius;
		// Where the polynomial hardly grows, a careful step.
		ideal -= error / Math.max(0.1, 1 + square * (3 * k1 + 5 * k2 * square));
		if (Math.abs(error) <= 1e-14 * half) break;
	}
	return ideal;
}

/** Angle from the axis at which a point `real` millimetres from the middle of the frame sees, radians. */
export function fieldAngleRad({ focalLength, projection, distortion }: Mapping, real: number): number {
	const radius = distortion ? unstretched(distortion, real) : real;
	switch (projection) {
		case "rectilinear":
			return Math.atan(radius / focalLength);
		case "equisolid":
			return 2 * Math.asin(Math.min(1, radius / (2 * focalLength)));
		case "equidistant":
			return Math.min(Math.PI, radius / focalLength);
	}
}

/** How far from the middle of the frame a lens draws anything at all, in the unit of its focal length. */
export function largestRadius({ projection, focalLength }: Mapping): number {
	switch (projection) {
		case "rectilinear":
			return Number.POSITIVE_INFINITY;
		case "equisolid":
			return 2 * focalLength;
		case "equidistant":
			return Math.PI * focalLength;
	}
}

/** Full angle across a length on the sensor through its middle, degrees. */
export const fieldAcross = (camera: Mapping, millimetres: number): number =>
	2 * fieldAngleRad(camera, millimetres / 2) * DEG;

/** The focal length with which a length on the sensor through its middle shows a full angle of `field` degrees. */
export function focalLengthOf(projection: Projection, millimetres: number, field: number): number {
	const half = (field * RAD) / 2;
	switch (projection) {
		case "rectilinear":
			return millimetres / 2 / Math.tan(half);
		case "equisolid":
			return millimetres / 4 / Math.sin(half / 2);
		case "equidistant":
			return millimetres / 2 / half;
	}
}

/** Arcseconds of sky on one pixel at the middle of the frame: 206 265″ · atan(pitch / focal length). */
export const pixelScaleArcsec = (camera: Camera): number =>
	Math.atan(camera.pixelPitch / 1000 / camera.focalLength) * DEG * 3600;

/** Crop factor: 43.27 mm, the diagonal of 36 × 24 mm, over the sensor's. */
export const cropFactor = ({ sensor }: Camera): number => Math.hypot(36, 24) / Math.hypot(sensor[0], sensor[1]);

/** A place in the frame as a unit vector: x right, y up, z along the axis. Millimetres from the middle. */
export function rayOf(camera: Mapping, right: number, up: number): readonly [number, number, number] {
	const square = right * right + up * up;
	if (camera.projection === "rectilinear" && !camera.distortion) {
		const scale = 1 / Math.sqrt(square + camera.focalLength * camera.focalLength);
		return [right * scale, up * scale, camera.focalLength * scale];
	}
	const radius = Math.sqrt(square);
	if (radius === 0) return [0, 0, 1];
	const angle = fieldAngleRad(camera, radius);
	const s = Math.sin(angle) / radius;
	return [right * s, up * s, Math.cos(angle)];
}

/** Where a ray falls on the sensor, millimetres right and up of the middle; undefined when it does not. */
export function pointOf(
	camera: Mapping,
	[x, y, z]: readonly [number, number, number],
): readonly [number, number] | undefined {
	const scale = pointScale(camera, Math.sqrt(x * x + y * y), z);
	return Number.isNaN(scale) ? undefined : [x * scale, y * scale];
}

/** Farthest from the axis that a rectilinear lens is taken to see. */
const RECTILINEAR_COS = Math.cos(89.9 * RAD);

/**
 * Millimetres on the sensor for a ray's parts right and up, the ray being a unit vector that is `across` away from the
 * axis and `z` along it; NaN where it does not fall on the sensor.
 */
export function pointScale(camera: Mapping, across: number, z: number): number {
	const scale = idealScale(camera, across, z);
	return camera.distortion ? scale * stretch(camera.distortion, across * scale) : scale;
}

function idealScale({ projection, focalLength }: Mapping, across: number, z: number): number {
	if (projection === "rectilinear") return z > RECTILINEAR_COS ? focalLength / z : Number.NaN;
	if (across === 0) return z > 0 ? focalLength : Number.NaN;
	const angle = Math.atan2(across, z);
	return (projection === "equisolid" ? 2 * focalLength * Math.sin(angle / 2) : focalLength * angle) / across;
}
