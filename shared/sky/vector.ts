/** Vectors of three numbers and the angles of the sky. Angles in degrees unless a name says `Rad`. */
export type Vector = readonly [x: number, y: number, z: number];
/** Rows of a 3 × 3 matrix. */
export type Matrix = readonly [Vector, Vector, Vector];

export const RAD = Math.PI / 180;
/** Degrees in a radian. */
export const DEG = 180 / Math.PI;

/** Scalar product. */
export const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** Vector product, right-handed. */
export const cross = (a: Vector, b: Vector): Vector => [
	a[1] * b[2] - a[2] * b[1],
	a[2] * b[0] - a[0] * b[2],
	a[0] * b[1] - a[1] * b[0],
];
/** Sum. */
export const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
/** A vector `k` times as long. */
export const times = (a: Vector, k: number): Vector => [a[0] * k, a[1] * k, a[2] * k];
/** Length. */
export const length = (a: Vector): number => Math.sqrt(dot(a, a));
/** The direction as a unit vector; of no length NaN. */
export const unit = (a: Vector): Vector => times(a, 1 / length(a));
/** A matrix (rows) times a vector. */
export const rotate = (m: Matrix, v: Vector): Vector => [dot(m[0], v), dot(m[1], v), dot(m[2], v)];

/** `v` turned by an angle about a unit axis, counter-clockwise as seen from the axis's tip (Rodrigues). */
export function turnAbout(axis: Vector, angleRad: number, v: Vector): Vector {
	const c = Math.cos(angleRad);
	const s = Math.sin(angleRad);
	return plus(plus(times(v, c), times(cross(axis, v), s)), times(axis, dot(axis, v) * (1 - c)));
}

/** Unit vector of a longitude-like and a latitude-like angle in radians. */
export function fromAngles(longitudeRad: number, latitudeRad: number): Vector {
	const c = Math.cos(latitudeRad);
	return [c * Math.cos(longitudeRad), c * Math.sin(longitudeRad), Math.sin(latitudeRad)];
}

/** Angle between two unit vectors, degrees; exact for small angles too. */
export const separation = (a: Vector, b: Vector): number => Math.atan2(length(cross(a, b)), dot(a, b)) * DEG;

/** `angle` brought to 0 ≤ a < 360. */
export const turn = (angle: number): number => ((angle % 360) + 360) % 360;

/** `angle` brought to −180 ≤ a < 180: the short way round. */
export const halfTurn = (angle: number): number => turn(angle + 180) - 180;
