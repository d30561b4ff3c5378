/**
 * The drive's periodic error over an exposure: a sine of known amplitude and period whose phase nobody knows.
 *
 * From time x₁ to x₂ of an exposure the drive turns by A sin(2πx₂/P + φ) − A sin(2πx₁/P + φ) too far: over an exposure
 * shorter than half a period at most 2A sin(πt/P), by chance anything between that and nothing; from a whole period on
 * 2A always. The star goes back and forth while the other drifts go on, so that its trail reaches from one of the turning
 * points (or ends) to another.
 */

import { Kept } from "../memory/memory.ts";

/** From one moment of an exposure to a later one: which part of the exposure that is, and what the drive adds, degrees. */
export interface Swing {
	readonly part: number;
	readonly drive: number;
}

/** Phases that are looked at; those of the other half of the circle swing alike. */
const PHASES = 128;

/** Without periodic error: the drift of the whole exposure. */
export const NO_SWINGS: readonly (readonly Swing[])[] = [[{ part: 1, drive: 0 }]];

/** Sine of the drive: degrees and seconds. */
export interface PeriodicError {
	readonly amplitude: number;
	readonly period: number;
}

/** Moments looked at from one phase to the next. */
const BETWEEN = 4;

/**
 * What is not passed with a chance `share`, of something that is known for each of the phases: between two of them, the
 * last and the first among them, it is taken to change evenly. Of a few phases alone the middle one is up to 10 % off.
 */
export function overPhases(values: readonly number[], share: number): number {
	const all = values.flatMap((value, i) => {
		const next = values[(i + 1) % values.length] as number;
		return Array.from({ length: BETWEEN }, (_, j) => value + ((next - value) * (j + 0.5)) / BETWEEN);
	});
	all.sort((a, b) => a - b);
	const place = Math.min(Math.max(share * all.length - 0.5, 0), all.length - 1);
	const [below, above] = [all[Math.floor(place)] as number, all[Math.ceil(place)] as number];
	return below + (above - below) * (place % 1);
}

/** All frames of a plan have the same drive, and many the same exposure. */
const known = new Kept<string, readonly (readonly Swing[])[]>(64);

/** The swings that may make the longest trail, for each of some equally likely phases. */
export const swingsOf = (error: PeriodicError, exposure: number): readonly (readonly Swing[])[] =>
	known.of(`${error.amplitude} ${error.period} ${exposure}`, () => newSwings(error, exposure));

function newSwings({ amplitude, period }: PeriodicError, exposure: number): readonly (readonly Swing[])[] {
	const pace = (2 * Math.PI) / period;
	const half = (pace * exposure) / 2;
	const phases: (readonly Swing[])[] = [];
	for (let k = 0; k < PHASES; k++) {
		// Phase in the middle of the exposure: the opposite one is the same played backwards.
		const phase = ((k + 0.5) * Math.PI) / PHASES;
		// The ends and the first and last turning points, as times and as where the drive is.
		const times = [-exposure / 2];
		const first = Math.ceil((phase - half) / Math.PI - 0.5);
		const last = Math.floor((phase + half) / Math.PI - 0.5);
		for (let n = first; n <= last; n++) {
			if (n === first + 2 && last - 1 > n) n = last - 1;
			times.push(((n + 0.5) * Math.PI - phase) / pace);
		}
		times.push(exposure / 2);
		phases.push(longestOf(times, amplitude, pace, phase, exposure));
	}
	return phases;
}

/**
 * The swings between two moments that no other one passes both in time and in width: the whole exposure, and the widest
 * either way, over more of it and over less.
 */
function longestOf(
	times: readonly number[],
	amplitude: number,
	pace: number,
	phase: number,
	exposure: number,
): readonly Swing[] {
	const places = times.map((time) => amplitude * Math.sin(pace * time + phase));
	const whole = (places.at(-1) as number) - (places[0] as number);
	const kept: Swing[] = [{ part: 1, drive: whole }];
	for (const sign of [1, -1]) {
		let widest = 0;
		for (let i = 0; i < times.length; i++)
			for (let j = i + 1; j < times.length; j++)
				widest = Math.max(widest, sign * ((places[j] as number) - (places[i] as number)));
		if (widest === 0) continue;
		let [least, most] = [Number.POSITIVE_INFINITY, 0];
		for (let i = 0; i < times.length; i++)
			for (let j = i + 1; j < times.length; j++) {
				if (sign * ((places[j] as number) - (places[i] as number)) < widest * (1 - 1e-9)) continue;
				const part = ((times[j] as number) - (times[i] as number)) / exposure;
				least = Math.min(least, part);
				most = Math.max(most, part);
			}
		if (most < 1) kept.push({ part: most, drive: sign * widest });
		if (least < most) kept.push({ part: least, drive: sign * widest });
	}
	return kept;
}
