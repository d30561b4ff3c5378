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
}

/** What of a camera maps angles to lengths; both in any unit of length. */
export type Mapping = Pick<Camera, "focalLength" | "projection">;

/** Angle from the axis at which a point `radius` millimetres from the middle of the frame sees, radians. */
export function fieldAngleRad({ focalLength, projection }: Mapping, radius: number): number {
	switch (projection) {
		case "rectilinear":
			return Math.atan(radius / focalLength);
		case "equisolid":
			return 2 * Math.asin(Math.min(1, radius / (2 * focalLength)));
		case "equidistant":
			return Math.min(Math.PI, radius / focalLength);
	}
}

/** Full angle across a length on the sensor through its middle, degrees. */
export const fieldAcross = (camera: Camera, millimetres: number): number =>
	2 * fieldAngleRad(camera, millimetres / 2) * DEG;

/** Arcseconds of sky on one pixel at the middle of the frame: 206 265″ · atan(pitch / focal length). */
export const pixelScaleArcsec = (camera: Camera): number =>
	Math.atan(camera.pixelPitch / 1000 / camera.focalLength) * DEG * 3600;

/** Crop factor: 43.27 mm, the diagonal of 36 × 24 mm, over the sensor's. */
export const cropFactor = ({ sensor }: Camera): number => Math.hypot(36, 24) / Math.hypot(sensor[0], sensor[1]);

/** A place in the frame as a unit vector: x right, y up, z along the axis. Millimetres from the middle. */
export function rayOf(camera: Camera, right: number, up: number): readonly [number, number, number] {
	const square = right * right + up * up;
	if (camera.projection === "rectilinear") {
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
	camera: Camera,
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
export function pointScale({ projection, focalLength }: Mapping, across: number, z: number): number {
	if (projection === "rectilinear") return z > RECTILINEAR_COS ? focalLength / z : Number.NaN;
	if (across === 0) return z > 0 ? focalLength : Number.NaN;
	const angle = Math.atan2(across, z);
	return (projection === "equisolid" ? 2 * focalLength * Math.sin(angle / 2) : focalLength * angle) / across;
}
