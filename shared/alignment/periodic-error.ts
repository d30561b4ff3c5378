/**
 * The drive's periodic error over an exposure: a sine of known amplitude and period whose phase nobody knows.
 *
 * From time x₁ to x₂ of an exposure the drive turns by A sin(2πx₂/P + φ) − A sin(2πx₁/P + φ) too far: over an exposure
 * shorter than half a period at most 2A sin(πt/P), by chance anything between that and nothing; from a whole period on
 * 2A always. The star goes back and forth while the other drifts go on, so that its trail reaches from one of the turning
 * points (or ends) to another.
 */

import { Kept, KeptBy } from "../memory/memory.ts";

/**
 * The swings of each phase in turn that may make the longest trail: from one moment of an exposure to a later one. Those
 * of phase k are at `starts[k]` up to `starts[k + 1]`.
 */
export interface Swings {
	readonly phases: number;
	readonly starts: Uint16Array;
	/** Which part of the exposure it is. */
	readonly part: Float64Array;
	/** What the drive adds, degrees. */
	readonly drive: Float64Array;
}

/** Phases that are looked at; those of the other half of the circle swing alike. */
const PHASES = 128;

/** Enough to find an exposure to 0.3 %; all are for what is told of one. */
export const HALF_OF_THE_PHASES = PHASES / 2;

/** Without periodic error: the drift of the whole exposure. */
export const NO_SWINGS: Swings = {
	phases: 1,
	starts: Uint16Array.of(0, 1),
	part: Float64Array.of(1),
	drive: Float64Array.of(0),
};

/** Sine of the drive: degrees and seconds. */
export interface PeriodicError {
	readonly amplitude: number;
	readonly period: number;
}

/**
 * The shortest time, seconds, in which the drive swings by `far` degrees: t = P/π · asin(far / 2A), half-way between two
 * turning points. Undefined where it never swings that far.
 */
export function swingTime({ amplitude, period }: PeriodicError, far: number): number | undefined {
	const share = far / (2 * amplitude);
	return share <= 1 ? (period / Math.PI) * Math.asin(share) : undefined;
}

/** Moments looked at from one phase to the next. */
const BETWEEN = 4;

/**
 * What is not passed with a chance `share`, of something that is known for each of the phases: between two of them, the
 * last and the first among them, it is taken to change evenly. Of a few phases alone the middle one is up to 10 % off.
 */
export function overPhases(values: ArrayLike<number>, share: number): number {
	const all = new Float64Array(values.length * BETWEEN);
	for (let i = 0; i < values.length; i++) {
		const value = values[i] as number;
		const next = values[(i + 1) % values.length] as number;
		for (let j = 0; j < BETWEEN; j++) all[i * BETWEEN + j] = value + ((next - value) * (j + 0.5)) / BETWEEN;
	}
	all.sort();
	const place = Math.min(Math.max(share * all.length - 0.5, 0), all.length - 1);
	const [below, above] = [all[Math.floor(place)] as number, all[Math.ceil(place)] as number];
	return below + (above - below) * (place % 1);
}

/** All frames of a plan have the same drive, and many the same exposure. */
const known = new Kept<string, Swings>(64);

/** The swings that may make the longest trail, for each of some equally likely phases. */
export const swingsOf = (error: PeriodicError, exposure: number, phases: number = PHASES): Swings =>
	phases < PHASES
		? newSwings(error, exposure, phases)
		: known.of(`${error.amplitude} ${error.period} ${exposure}`, () => newSwings(error, exposure, phases));

/** The same for a quarter of the phases: enough to tell about how far they go. */
export const fewSwingsOf = (error: PeriodicError, exposure: number): Swings => newSwings(error, exposure, PHASES / 4);

/** How far the drive swings at most in each of its phases, either way, degrees. */
export const widestSwings = (swings: Swings): Float64Array => widest.of(swings, newWidest);

const widest = new KeptBy<Swings, Float64Array>();

function newWidest({ phases, starts, drive }: Swings): Float64Array {
	const most = new Float64Array(phases);
	for (let k = 0; k < phases; k++)
		for (let i = starts[k] as number; i < (starts[k + 1] as number); i++)
			most[k] = Math.max(most[k] as number, Math.abs(drive[i] as number));
	return most;
}

/** What is not passed by that with a chance `share`, degrees. */
export const widestSwing = (swings: Swings, share: number): number =>
	shares.of(swings, () => new Kept(8)).of(share, () => overPhases(widestSwings(swings), share));

const shares = new KeptBy<Swings, Kept<number, number>>();

/** Swings of one phase at most: the whole exposure, and the widest either way, over more of it and over less. */
const MOST_SWINGS = 5;
/** Moments of one phase: its ends, and the first two and the last two turning points. */
const MOST_TURNS = 6;

// Filled anew by each search: the swings found, when the turns of a phase are, and where the drive is then.
const part = new Float64Array(PHASES * MOST_SWINGS);
const drive = new Float64Array(PHASES * MOST_SWINGS);
const times = new Float64Array(MOST_TURNS);
const places = new Float64Array(MOST_TURNS);

function newSwings({ amplitude, period }: PeriodicError, exposure: number, phases: number): Swings {
	const pace = (2 * Math.PI) / period;
	const half = (pace * exposure) / 2;
	const starts = new Uint16Array(phases + 1);
	let count = 0;
	let turns = 0;
	let phase = 0;
	const turnAt = (time: number): void => {
		times[turns] = time;
		places[turns++] = amplitude * Math.sin(pace * time + phase);
	};
	for (let k = 0; k < phases; k++) {
		// Phase in the middle of the exposure: the opposite one is the same played backwards.
		phase = ((k + 0.5) * Math.PI) / phases;
		turns = 0;
		turnAt(-exposure / 2);
		const first = Math.ceil((phase - half) / Math.PI - 0.5);
		const last = Math.floor((phase + half) / Math.PI - 0.5);
		for (let n = first; n <= last; n++) {
			if (n === first + 2 && last - 1 > n) n = last - 1;
			turnAt(((n + 0.5) * Math.PI - phase) / pace);
		}
		turnAt(exposure / 2);
		count = addLongest(turns - 1, count);
		starts[k + 1] = count;
	}
	return { phases, starts, part: part.slice(0, count), drive: drive.slice(0, count) };

	/**
	 * Adds the swings between two turns, up to the `last` one, that no other one passes both in time and in width: the whole
	 * exposure, and the widest either way, over more of it and over less. Gives the number of swings there are then.
	 */
	function addLongest(last: number, before: number): number {
		let next = before;
		part[next] = 1;
		drive[next++] = (places[last] as number) - (places[0] as number);
		if (last === 1) return next;
		let [forth, back] = [0, 0];
		for (let i = 0; i < last; i++)
			for (let j = i + 1; j <= last; j++) {
				const swing = (places[j] as number) - (places[i] as number);
				if (swing > forth) forth = swing;
				if (swing < back) back = swing;
			}
		for (let way = 0; way < 2; way++) {
			const widest = way === 0 ? forth : back;
			if (widest === 0) continue;
			let least = Number.POSITIVE_INFINITY;
			let most = 0;
			for (let i = 0; i < last; i++)
				for (let j = i + 1; j <= last; j++) {
					// Others on the same side that are as wide: all turning points are alike.
					if (((places[j] as number) - (places[i] as number)) / widest < 1 - 1e-9) continue;
					const of = ((times[j] as number) - (times[i] as number)) / exposure;
					if (of < least) least = of;
					if (of > most) most = of;
				}
			if (most < 1) {
				part[next] = most;
				drive[next++] = widest;
			}
			if (least < most) {
				part[next] = least;
				drive[next++] = widest;
			}
		}
		return next;
	}
}
