/**
 * The drive's periodic error over an exposure: a sine of known amplitude and period whose phase nobody knows.
 *
 * From time x₁ to x₂ of an exposure the drive turns by A sin(2πx₂/P + φ) − A sin(2πx₁/P + φ) too far: over an exposure
 * shorter than half a period at most 2A sin(πt/P), by chance anything between that and nothing; from a whole period on
 * 2A always. The star goes back and forth while the other drifts go on, so that its trail reaches from one of the turning
 * points (or ends) to another.
 */

import { Kept, KeptBy } from "../memory/memory.ts";

/** From one moment of an exposure to a later one: which part of the exposure that is, and what the drive adds, degrees. */
export interface Swing {
	readonly part: number;
	readonly drive: number;
}

/** Phases that are looked at; those of the other half of the circle swing alike. */
const PHASES = 128;

/** The swings of each phase in turn. */
export type Swings = readonly (readonly Swing[])[];

/** Without periodic error: the drift of the whole exposure. */
export const NO_SWINGS: Swings = [[{ part: 1, drive: 0 }]];

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
const known = new Kept<string, Swings>(64);

/** The swings that may make the longest trail, for each of some equally likely phases. */
export const swingsOf = (error: PeriodicError, exposure: number): Swings =>
	known.of(`${error.amplitude} ${error.period} ${exposure}`, () => newSwings(error, exposure));

/** How far the drive swings at most in each of its phases, either way, degrees. */
export const widestSwings = (swings: Swings): readonly number[] =>
	widest.of(swings, (all) => all.map((phase) => Math.max(...phase.map(({ drive }) => Math.abs(drive)))));

const widest = new KeptBy<Swings, readonly number[]>();

/** What is not passed by that with a chance `share`, degrees. */
export const widestSwing = (swings: Swings, share: number): number =>
	shares.of(swings, () => new Kept(8)).of(share, () => overPhases(widestSwings(swings), share));

const shares = new KeptBy<Swings, Kept<number, number>>();

function newSwings({ amplitude, period }: PeriodicError, exposure: number): Swings {
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
	const last = times.length - 1;
	const kept: Swing[] = [{ part: 1, drive: (places[last] as number) - (places[0] as number) }];
	if (last === 1) return kept;
	let [forth, back] = [0, 0];
	for (let i = 0; i < last; i++)
		for (let j = i + 1; j <= last; j++) {
			const drive = (places[j] as number) - (places[i] as number);
			if (drive > forth) forth = drive;
			if (drive < back) back = drive;
		}
	for (const widest of [forth, back]) {
		if (widest === 0) continue;
		let least = Number.POSITIVE_INFINITY;
		let most = 0;
		for (let i = 0; i < last; i++)
			for (let j = i + 1; j <= last; j++) {
				// Others on the same side that are as wide: all turning points are alike.
				if (((places[j] as number) - (places[i] as number)) / widest < 1 - 1e-9) continue;
				const part = ((times[j] as number) - (times[i] as number)) / exposure;
				if (part < least) least = part;
				if (part > most) most = part;
			}
		if (most < 1) kept.push({ part: most, drive: widest });
		if (least < most) kept.push({ part: least, drive: widest });
	}
	return kept;
}
