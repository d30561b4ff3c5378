/** Times at which a quantity of the sky passes a level, and stretches in which something holds. */
import type { EpochMs } from "../earth/zone.ts";
import type { Interval } from "./intervals.ts";

export interface Crossing {
	readonly at: EpochMs;
	readonly rising: boolean;
}

/** Times are found to this, milliseconds. */
const TOLERANCE_MS = 50;

/**
 * Every time between `from` and `until` at which `f` passes zero, in order. `f` is sampled every `step` milliseconds;
 * a pair of crossings inside one step is found when the samples' parabola shows it.
 */
export function crossings(
	f: (at: EpochMs) => number,
	from: EpochMs,
	until: EpochMs,
	step: number,
): readonly Crossing[] {
	const found: Crossing[] = [];
	const count = Math.max(1, Math.ceil((until - from) / step));
	const width = (until - from) / count;
	let before: number | undefined;
	let left = f(from);
	for (let i = 0; i < count; i++) {
		const a = from + i * width;
		const b = a + width;
		const right = f(b);
		if (left < 0 !== right < 0) found.push({ at: root(f, a, left, b, right), rising: right > left });
		else if (before !== undefined && before < 0 === left < 0) {
			// Three samples on one side: does their parabola reach over zero near the middle one?
			const turning = vertex(before, left, right);
			const extreme = turning === undefined ? undefined : a + turning * width;
			const value = extreme === undefined ? left : f(extreme);
			if (extreme !== undefined && value < 0 !== left < 0) {
				const [start, startValue] = extreme < a ? [a - width, before] : [a, left];
				const [end, endValue] = extreme < a ? [a, left] : [b, right];
				// The neighbours' parabola may have shown the same pair.
				const last = found[found.length - 1];
				if (last === undefined || last.at <= start || last.at >= end) {
					found.push({ at: root(f, start, startValue, extreme, value), rising: value > 0 });
					found.push({ at: root(f, extreme, value, end, endValue), rising: value < 0 });
				}
			}
		}
		before = left;
		left = right;
	}
	return found.sort((one, other) => one.at - other.at);
}

/** Where the parabola through three samples one step apart turns, in steps from the middle one, if within one. */
function vertex(before: number, middle: number, after: number): number | undefined {
	const bend = before - 2 * middle + after;
	// The turn must point towards zero: a valley above it, a hill below it.
	if (bend === 0 || bend > 0 !== middle > 0) return undefined;
	const offset = (before - after) / (2 * bend);
	return Math.abs(offset) <= 1 ? offset : undefined;
}

/** The root between two times whose values differ in sign: false position with the Illinois rule, guarded by halving. */
function root(f: (at: EpochMs) => number, a: EpochMs, fa: number, b: EpochMs, fb: number): EpochMs {
	let [low, lowValue, high, highValue] = [a, fa, b, fb];
	for (let i = 0; i < 60 && high - low > TOLERANCE_MS; i++) {
		const share = lowValue / (lowValue - highValue);
		const middle = i % 8 === 7 || !(share > 0 && share < 1) ? (low + high) / 2 : low + share * (high - low);
		const value = f(middle);
		if (Math.abs(value) < 1e-9) return middle;
		if (value < 0 === lowValue < 0) {
			if (middle - low < TOLERANCE_MS / 2 && i > 4) return middle;
			[low, lowValue] = [middle, value];
			highValue /= 2;
		} else {
			if (high - middle < TOLERANCE_MS / 2 && i > 4) return middle;
			[high, highValue] = [middle, value];
			lowValue /= 2;
		}
	}
	return (low + high) / 2;
}

/** The least value of `f` between two times between which it falls and then rises. The time is found to a second. */
export function least(f: (at: EpochMs) => number, from: EpochMs, until: EpochMs): number {
	let [low, high] = [from, until];
	while (high - low > 1000) {
		const third = (high - low) / 3;
		if (f(low + third) <= f(high - third)) high -= third;
		else low += third;
	}
	return Math.min(f((low + high) / 2), f(from), f(until));
}

/** The stretches of `within` in which `f` is not below zero. */
export function whereAtLeastZero(f: (at: EpochMs) => number, within: Interval, step: number): readonly Interval[] {
	const stretches: Interval[] = [];
	let since: EpochMs | undefined = f(within.from) >= 0 ? within.from : undefined;
	for (const { at, rising } of crossings(f, within.from, within.until, step)) {
		if (rising) since = at;
		else if (since !== undefined) {
			stretches.push({ from: since, until: at });
			since = undefined;
		}
	}
	if (since !== undefined) stretches.push({ from: since, until: within.until });
	return stretches;
}

/** The stretches of `within` in which `holds` is true, sampled every `step` milliseconds and halved down to half a second. */
export function whereTrue(holds: (at: EpochMs) => boolean, within: Interval, step: number): readonly Interval[] {
	const stretches: Interval[] = [];
	const count = Math.max(1, Math.ceil((within.until - within.from) / step));
	const width = (within.until - within.from) / count;
	const edge = (a: EpochMs, b: EpochMs, atA: boolean): EpochMs => {
		let [low, high] = [a, b];
		while (high - low > 500) {
			const middle = (low + high) / 2;
			if (holds(middle) === atA) low = middle;
			else high = middle;
		}
		return (low + high) / 2;
	};
	let was = holds(within.from);
	let since = within.from;
	for (let i = 0; i < count; i++) {
		const a = within.from + i * width;
		const is = holds(a + width);
		if (is === was) continue;
		const at = edge(a, a + width, was);
		if (was) stretches.push({ from: since, until: at });
		else since = at;
		was = is;
	}
	if (was) stretches.push({ from: since, until: within.until });
	return stretches;
}
