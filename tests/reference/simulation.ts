/**
 * An independent model of a head, a tracker and the sky, with plain vectors and root finding. It shares no code with
 * `shared/`: it is what the closed forms there are checked against.
 *
 * Vectors are (east, north, up). Angles in degrees. The elevated pole lies due north in the north, due south in the
 * south, at the latitude's height.
 */
export type V = [number, number, number];
const R = Math.PI / 180;

export const dir = (azimuth: number, altitude: number): V => [
	Math.sin(azimuth * R) * Math.cos(altitude * R),
	Math.cos(azimuth * R) * Math.cos(altitude * R),
	Math.sin(altitude * R),
];
const dot = (a: V, b: V) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const scale = (a: V, k: number): V => [a[0] * k, a[1] * k, a[2] * k];
const add = (...vs: V[]): V => vs.reduce((s, v) => [s[0] + v[0], s[1] + v[1], s[2] + v[2]], [0, 0, 0]);
const norm = (a: V): V => scale(a, 1 / Math.hypot(...a));
export const angle = (a: V, b: V) => Math.atan2(Math.hypot(...cross(a, b)), dot(a, b)) / R;

/** Turn by degrees about a unit axis, right-handed, by a rotation matrix built from its columns. */
export function spin(axis: V, degrees: number, v: V): V {
	const [c, s] = [Math.cos(degrees * R), Math.sin(degrees * R)];
	const k = 1 - c;
	const [x, y, z] = axis;
	return [
		(c + x * x * k) * v[0] + (x * y * k - z * s) * v[1] + (x * z * k + y * s) * v[2],
		(y * x * k + z * s) * v[0] + (c + y * y * k) * v[1] + (y * z * k - x * s) * v[2],
		(z * x * k - y * s) * v[0] + (z * y * k + x * s) * v[1] + (c + z * z * k) * v[2],
	];
}

export const poleAzimuth = (latitude: number) => (latitude >= 0 ? 0 : 180);
export const pole = (latitude: number): V => dir(poleAzimuth(latitude), Math.abs(latitude));
const northPole = (latitude: number): V => dir(0, latitude);

/** A star's direction some seconds later: the sky turns westward about the north pole. */
export const later = (latitude: number, star: V, seconds: number): V =>
	spin(northPole(latitude), -(15.041067 / 3600) * seconds, star);

/** Axis error of an axis: along the meridian (+ too high), across it (+ clockwise from above), degrees on the sphere. */
export function axisError(latitude: number, axis: V): [along: number, across: number] {
	const p = pole(latitude);
	const size = angle(p, axis);
	if (size === 0) return [0, 0];
	const off = norm(add(axis, scale(p, -dot(axis, p))));
	const up = norm(add([0, 0, 1], scale(p, -p[2])));
	const clockwise = dir(poleAzimuth(latitude) + 90, 0);
	return [size * dot(off, up), size * dot(off, clockwise)];
}

/** Moves a direction on the sky: right and up as one faces it. */
export function nudge(v: V, right: number, up: number): V {
	const r = norm(cross(v, [0, 0, 1]));
	const u = cross(r, v);
	return norm(add(v, scale(r, Math.tan(right * R)), scale(u, Math.tan(up * R))));
}

/** The head, tilted sideways by `level` about the horizontal line toward the pole's bearing: head frame → world. */
const headToWorld = (latitude: number, level: number, v: V): V => spin(dir(poleAzimuth(latitude), 0), level, v);
/** The head, tilted sideways and leaning fore and aft toward the pole's bearing. */
const leaning = (latitude: number, level: number, lean: number, v: V): V =>
	headToWorld(latitude, level, spin(dir(poleAzimuth(latitude) + 90, 0), lean, v));
export const azimuthOf = (v: V) => Math.atan2(v[0], v[1]) / R;

/** Draws: one number for every way an error enters. */
export interface Draw {
	tilt?: number;
	level?: number;
	lean?: number;
	pan?: number;
	bearing?: number;
	aimRight?: number;
	aimUp?: number;
	/** How far the axis is from the plane of a shadow that it is laid along, clockwise from above. */
	shadow?: number;
	roll?: number;
	square?: number;
	squareAcross?: number;
	clock?: number;
	metres?: number;
	aimSecond?: number;
	bodyRight?: number;
	bodyUp?: number;
	bodySecond?: number;
}

/** Tilt by scale, bearing by a compass. */
export function byCompass(latitude: number, { tilt = 0, level = 0, bearing = 0 }: Draw): V {
	return headToWorld(latitude, level, dir(poleAzimuth(latitude) + bearing, Math.abs(latitude) + tilt));
}

/**
 * Tilt by scale, bearing by a turn of the pan from a mark: a plumb line puts the axis into the mark's vertical plane, then
 * the pan turns by the difference of bearings. What a lean fore and aft does to the tilt is the tilt scale's.
 */
export function byMark(
	latitude: number,
	mark: V,
	distance: number,
	{ tilt = 0, level = 0, lean = 0, pan = 0, aimRight = 0, clock = 0, metres = 0, bodyRight = 0, shadow = 0 }: Draw,
	moves: boolean,
): V {
	const nominalTurn = poleAzimuth(latitude) - azimuthOf(mark);
	const seen = moves ? later(latitude, mark, clock) : spin([0, 0, 1], -Math.atan2(metres, distance) / R, mark);
	const sighted = nudge(seen, aimRight + bodyRight, 0);
	const plane = azimuthOf(sighted);
	const axis = (headAzimuth: number): V =>
		leaning(latitude, level, lean, dir(headAzimuth, Math.abs(latitude) + tilt - lean));
	let headAzimuth = plane;
	for (let i = 0; i < 30; i++) {
		const off = plane - azimuthOf(axis(headAzimuth));
		headAzimuth += ((off + 540) % 360) - 180;
	}
	// Laid along a shadow: turned until its angle to the shadow's plane is what the hand leaves.
	for (let i = 0; i < (shadow === 0 ? 0 : 30); i++)
		headAzimuth += shadow - Math.asin(dot(axis(headAzimuth), dir(plane + 90, 0))) / R;
	return axis(headAzimuth + nominalTurn + pan);
}

/** A laser at an angle to the axis, put on a star by tilt and pan: solved for the head's tilt and pan by Newton's method. */
export function byLaser(
	latitude: number,
	offset: number,
	{ aimRight = 0, aimUp = 0, clock = 0, bodyRight = 0, bodyUp = 0, ...rig }: Draw,
): V {
	// The aim point of a perfect rig, and where the beam ends up pointing.
	const perfect = spin(norm(cross(dir(poleAzimuth(latitude), 0), [0, 0, 1])), offset, pole(latitude));
	const beam = nudge(later(latitude, perfect, clock), aimRight + bodyRight, aimUp + bodyUp);
	return byBeam(latitude, offset, beam, rig);
}

/** The axis of a rig whose laser, by tilt and pan only, has been brought to point in a direction. */
export function byBeam(latitude: number, offset: number, wanted: V, { level = 0, roll = 0, square = 0 }: Draw = {}): V {
	const phi = Math.abs(latitude);
	const side = poleAzimuth(latitude);
	const rig = (tilt: number, pan: number): { axis: V; laser: V } => {
		const axis = dir(side + pan, tilt);
		const right = dir(side + pan + 90, 0);
		const laser = spin(axis, roll, spin(right, offset + square, axis));
		return { axis: headToWorld(latitude, level, axis), laser: headToWorld(latitude, level, laser) };
	};
	// Right-handed about `right`, the laser must go up over the zenith: take the sense that does.
	let [tilt, pan] = [phi, 0];
	const miss = (t: number, p: number): [number, number] => {
		const { laser } = rig(t, p);
		const r = norm(cross(wanted, [0, 0, 1]));
		const u = cross(r, wanted);
		return [dot(laser, r), dot(laser, u)];
	};
	for (let i = 0; i < 40; i++) {
		const [a, b] = miss(tilt, pan);
		const h = 1e-6;
		const [a1, b1] = miss(tilt + h, pan);
		const [a2, b2] = miss(tilt, pan + h);
		const [j11, j21, j12, j22] = [(a1 - a) / h, (b1 - b) / h, (a2 - a) / h, (b2 - b) / h];
		const det = j11 * j22 - j12 * j21;
		tilt -= (j22 * a - j12 * b) / det;
		pan -= (j11 * b - j21 * a) / det;
	}
	return rig(tilt, pan).axis;
}

/** A pointer at an angle to the axis that meets two stars on one turn of the plate. */
export function bySweep(
	latitude: number,
	offset: number,
	stars: [V, V],
	{ aimUp = 0, aimSecond = 0, square = 0, bodyUp = 0, bodySecond = 0 }: Draw,
): V {
	const p = pole(latitude);
	const distances = [angle(p, stars[0]) + aimUp + bodyUp, angle(p, stars[1]) + aimSecond + bodySecond];
	// The plan lets the pointer pass each star by its own distance; errors add to it.
	const wanted = distances.map((d, i) => d + square - (angle(p, stars[i as 0]) - angle(p, stars[i as 0])));
	const u = norm(add([0, 0, 1], scale(p, -p[2])));
	const r = cross(u, p);
	let [x, y] = [0, 0];
	const at = (a: number, b: number): V => norm(add(p, scale(u, a), scale(r, b)));
	const f = (a: number, b: number) =>
		stars.map((star, i) => angle(at(a, b), star) - (wanted[i] as number)) as [number, number];
	void offset;
	for (let i = 0; i < 30; i++) {
		const [a, b] = f(x, y);
		const h = 1e-7;
		const [a1, b1] = f(x + h, y);
		const [a2, b2] = f(x, y + h);
		const [j11, j21, j12, j22] = [(a1 - a) / h, (b1 - b) / h, (a2 - a) / h, (b2 - b) / h];
		const det = j11 * j22 - j12 * j21;
		x -= (j22 * a - j12 * b) / det;
		y -= (j11 * b - j21 * a) / det;
	}
	return at(x, y);
}

/** A phone laid along the axis. */
export function byPhone(latitude: number, { tilt = 0, bearing = 0, aimRight = 0, aimUp = 0 }: Draw): V {
	return nudge(dir(poleAzimuth(latitude) + bearing, Math.abs(latitude) + tilt), aimRight, aimUp);
}

/** The pole star put where it should stand beside the pole. `star` is its offset from the pole, degrees right and up. */
export function byScope(
	latitude: number,
	star: [number, number],
	{ aimRight = 0, aimUp = 0, square = 0, squareAcross = 0, level = 0, clock = 0, bodyRight = 0, bodyUp = 0 }: Draw,
): V {
	const turned = (level - clock * (15.041067 / 3600) * (latitude >= 0 ? 1 : -1)) * R;
	const [x, y] = star;
	const moved: [number, number] = [
		x * Math.cos(turned) + y * Math.sin(turned) - x,
		y * Math.cos(turned) - x * Math.sin(turned) - y,
	];
	return nudge(pole(latitude), aimRight + squareAcross + moved[0] + bodyRight, aimUp + square + moved[1] + bodyUp);
}

/** Drift of a star seen by a camera that turns about an axis: direction in the camera's starting frame after some seconds. */
export function driftOf(latitude: number, axis: V, star: V, seconds: number): V {
	const turn = (15.041067 / 3600) * seconds;
	const northEnd = latitude >= 0 ? axis : scale(axis, -1);
	return spin(northEnd, turn, spin(northPole(latitude), -turn, star));
}

/**
 * A direction as it is seen through air of 1010 hPa and 10 °C, scaled by pressure and temperature: Bennett's formula
 * (Journal of Navigation 35 (1982) 255), which goes from the seen altitude to the true one, turned round by bisection.
 */
export function throughAir(v: V, pressure: number, temperature: number): V {
	const altitude = Math.asin(v[2]) / R;
	const lift = (h: number) =>
		(1 / Math.tan((h + 7.31 / (h + 4.4)) * R) / 60) * (pressure / 1010) * (283 / (273 + temperature));
	let [low, high] = [altitude, altitude + 2];
	for (let i = 0; i < 60; i++) {
		const middle = (low + high) / 2;
		if (middle - lift(middle) < altitude) low = middle;
		else high = middle;
	}
	return dir(azimuthOf(v), low);
}

/**
 * How far a star moves on a tracked frame, degrees to the right and up, the camera level at the frame's middle. `star`:
 * where it is at the middle without air; `own`: its own motion over the frame, degrees westward; `rate`: turns of the
 * tracker for one of the sky.
 */
export function frameDrift(
	latitude: number,
	axis: V,
	star: V,
	seconds: number,
	{ seen = (v: V) => v, rate = 1, own = 0 }: { seen?: (v: V) => V; rate?: number; own?: number } = {},
): [right: number, up: number] {
	const sky = northPole(latitude);
	const northEnd = latitude >= 0 ? axis : scale(axis, -1);
	const turn = (15.041067 / 3600) * seconds;
	const at = (part: number): V => spin(northEnd, rate * turn * part, seen(spin(sky, -(turn + own) * part, star)));
	const moved = add(at(0.5), scale(at(-0.5), -1));
	const middle = seen(star);
	const right = norm(cross(middle, [0, 0, 1]));
	return [dot(moved, right) / R, dot(moved, cross(right, middle)) / R];
}

/** A seeded generator (mulberry32) of normal numbers (Box–Muller). */
export function normals(seed: number): () => number {
	let state = seed;
	const uniform = () => {
		state = (state + 0x6d2b79f5) | 0;
		let t = Math.imul(state ^ (state >>> 15), 1 | state);
		t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
		return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
	};
	return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
