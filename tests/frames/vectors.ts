/** The vectors of the reference simulation, and its direction of the pole. */
export { angle, dir, pole, spin, type V } from "../reference/simulation.ts";

import type { V } from "../reference/simulation.ts";

export const R = Math.PI / 180;
export const dot = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: V, b: V): V => [
	a[1] * b[2] - a[2] * b[1],
	a[2] * b[0] - a[0] * b[2],
	a[0] * b[1] - a[1] * b[0],
];
export const scale = (a: V, k: number): V => [a[0] * k, a[1] * k, a[2] * k];
export const add = (...vs: V[]): V => vs.reduce((s, v) => [s[0] + v[0], s[1] + v[1], s[2] + v[2]], [0, 0, 0] as V);
export const norm = (a: V): V => scale(a, 1 / Math.hypot(...a));
