/**
 * What a series of frames says of the tracker's drive: its rate, and its periodic error where the series covers a turn of
 * the worm. The camera's turns about the axis are followed from frame to frame and compared with the sky's.
 */
import type { Attitude } from "../alignment/attitude.ts";
import type { EpochMs } from "../earth/zone.ts";
import { invert } from "../frames/fit.ts";
import { SKY_RATE_RAD } from "../sky/frame.ts";
import { cross, DEG, dot, type Vector } from "../sky/vector.ts";

/** A frame of a series. */
export interface SeriesFrame {
	readonly at: EpochMs;
	/** Seconds; the drive is seen through it, and so a little less than it swings. */
	readonly exposure: number;
	/** How the camera was held, over the ground. */
	readonly attitude: Attitude;
}

export interface MeasuredDrive {
	/** Frames, and seconds from the first to the last. */
	readonly frames: number;
	readonly span: number;
	/** How much faster than it should the drive ran on the whole, degrees a degree, with its spread. */
	readonly fast: number;
	readonly fastSpread: number;
	/** What is left about the rate and the periodic error, degrees: root mean square. */
	readonly left: number;
	/** Half of peak to peak, degrees, and seconds, each with its spread; undefined where none is seen. */
	readonly periodic:
		| {
				readonly amplitude: number;
				readonly amplitudeSpread: number;
				readonly period: number;
				readonly periodSpread: number;
		  }
		| undefined;
}

/** Frames that tell a rate, and those that tell a swing with its period. */
const LEAST_FRAMES = 4;
export const LEAST_FOR_PERIOD = 8;
/** From one frame to the next the camera turned with the sky but for this much, degrees; else it was turned by hand. */
const SAME_RUN = 0.3;
/** A swing is taken for one where chance gives as good a one in fewer than one series of a thousand. */
const BY_CHANCE = 1e-3;

/**
 * Undefined where too few frames are of one run. `axis`: a unit vector (east, north, up) about which the sky turns
 * clockwise as one looks along it, so toward the north pole in either hemisphere. `rate`: the tracker's, of the sky's.
 */
export function measuredDrive(all: readonly SeriesFrame[], axis: Vector, rate: number): MeasuredDrive | undefined {
	const frames = longestRun(
		[...all].sort((a, b) => a.at - b.at),
		axis,
		rate,
	);
	const [first] = frames;
	if (!first || frames.length < LEAST_FRAMES) return undefined;
	const times = frames.map(({ at }) => (at - first.at) / 1000);
	const span = times.at(-1) as number;
	// Ahead of the sky, degrees.
	const ahead = frames.map(
		({ attitude }, i) =>
			(turnBetween(first.attitude, attitude, axis) - rate * SKY_RATE_RAD * (times[i] as number)) * DEG,
	);
	const straight = fitted(times, ahead, (t) => [1, t]);
	if (!straight) return undefined;
	const best = frames.length < LEAST_FOR_PERIOD ? undefined : bestPeriod(times, ahead, span);
	const swings = best && isNoChance(best, straight, frames.length);
	const used = swings ? best.fit : straight;
	const perSecond = rate * SKY_RATE_RAD * DEG;
	const exposure = frames.reduce((sum, one) => sum + one.exposure, 0) / frames.length;
	return {
		frames: frames.length,
		span,
		fast: (used.parameters[1] as number) / perSecond,
		fastSpread: (used.spreads[1] as number) / perSecond,
		left: used.left,
		periodic: swings ? swingOf(best, times, ahead, exposure) : undefined,
	};
}

/** Frames one after the other of which each was turned with the sky from the one before, the most there are. */
function longestRun(sorted: readonly SeriesFrame[], axis: Vector, rate: number): readonly SeriesFrame[] {
	let best: readonly SeriesFrame[] = [];
	let run: SeriesFrame[] = [];
	for (const frame of sorted) {
		const before = run.at(-1);
		const expected = before && (rate * SKY_RATE_RAD * (frame.at - before.at)) / 1000;
		const turned = before && turnBetween(before.attitude, frame.attitude, axis);
		if (expected !== undefined && turned !== undefined && Math.abs(turned - expected) * DEG > SAME_RUN) run = [];
		run.push(frame);
		if (run.length > best.length) best = [...run];
	}
	return best;
}

/** The turn about an axis that brings one attitude nearest to another, radians: positive as the sky turns. */
function turnBetween(from: Attitude, to: Attitude, axis: Vector): number {
	let [sine, cosine] = [0, 0];
	for (const key of ["right", "up", "forward"] as const) {
		const [a, b] = [from[key], to[key]];
		sine -= dot(axis, cross(a, b));
		cosine += dot(a, b) - dot(axis, a) * dot(axis, b);
	}
	return Math.atan2(sine, cosine);
}

interface Fitted {
	readonly parameters: readonly number[];
	readonly spreads: readonly number[];
	readonly squares: number;
	/** Root mean square of what is left, for each degree of freedom. */
	readonly left: number;
}

/** Least squares for what is linear in its parameters. */
function fitted(
	times: readonly number[],
	values: readonly number[],
	slopesAt: (time: number) => readonly number[],
): Fitted | undefined {
	const rows = times.map(slopesAt);
	const count = rows[0]?.length ?? 0;
	const normal = Array.from({ length: count }, () => new Float64Array(count));
	const target = new Array<number>(count).fill(0);
	for (const [i, row] of rows.entries())
		for (let j = 0; j < count; j++) {
			target[j] = (target[j] as number) + (row[j] as number) * (values[i] as number);
			const line = normal[j] as Float64Array;
			for (let k = 0; k < count; k++) line[k] = (line[k] as number) + (row[j] as number) * (row[k] as number);
		}
	const inverse = invert(normal);
	if (!inverse) return undefined;
	const parameters = inverse.map((line) => line.reduce((sum, one, k) => sum + one * (target[k] as number), 0));
	const squares = rows.reduce(
		(sum, row, i) =>
			sum + ((values[i] as number) - row.reduce((value, one, k) => value + one * (parameters[k] as number), 0)) ** 2,
		0,
	);
	const variance = squares / Math.max(1, times.length - count);
	return {
		parameters,
		spreads: inverse.map((line, j) => Math.sqrt(Math.max(0, variance * (line[j] as number)))),
		squares,
		left: Math.sqrt(variance),
	};
}

interface Swing {
	readonly period: number;
	readonly fit: Fitted;
	/** Periods that could not be told apart, looked through. */
	readonly tries: number;
}

const swingAt = (period: number) => {
	const pace = (2 * Math.PI) / period;
	return (t: number): readonly number[] => [1, t, Math.sin(pace * t), Math.cos(pace * t)];
};

/** The period that leaves least: of those that the frames are close enough for, and that the series covers. */
function bestPeriod(times: readonly number[], ahead: readonly number[], span: number): Swing | undefined {
	const gaps = times.slice(1).map((time, i) => time - (times[i] as number));
	const usual = [...gaps].sort((a, b) => a - b)[gaps.length >> 1] as number;
	const [most, least] = [1 / (2.2 * usual), 1 / span];
	const step = 0.05 / span;
	let best: Swing | undefined;
	const tries = Math.max(1, Math.round((most - least) * span));
	const attempt = (frequency: number): void => {
		const fit = fitted(times, ahead, swingAt(1 / frequency));
		if (fit && (!best || fit.squares < best.fit.squares)) best = { period: 1 / frequency, fit, tries };
	};
	for (let frequency = least; frequency <= most; frequency += step) attempt(frequency);
	// Closer about the best one.
	for (let width = step; width > 1e-4 * step; width /= 3)
		for (const side of [-1, 1]) {
			const frequency = (best ? 1 / best.period : least) + (side * width) / 2;
			if (frequency >= least && frequency <= most) attempt(frequency);
		}
	return best;
}

/** By the F test for two parameters, for as many periods as were looked through: its tail has a closed form. */
function isNoChance({ fit, tries }: Swing, straight: Fitted, count: number): boolean {
	const free = count - 5;
	if (free < 1 || straight.squares <= 0) return false;
	return tries * (fit.squares / straight.squares) ** (free / 2) < BY_CHANCE;
}

/** Its size as the drive swings, which an exposure blurs; its period's spread by the slope there. */
function swingOf(
	{ period, fit }: Swing,
	times: readonly number[],
	ahead: readonly number[],
	exposure: number,
): MeasuredDrive["periodic"] {
	const [, , sine = 0, cosine = 0] = fit.parameters;
	const seen = Math.hypot(sine, cosine);
	const blur = (Math.PI * exposure) / period;
	const kept = blur < 1e-6 ? 1 : Math.sin(blur) / blur;
	if (kept < 0.3) return undefined;
	// The period as a fifth parameter, by its slope at the best one.
	const pace = (2 * Math.PI) / period;
	const whole = fitted(times, ahead, (t) => [
		...swingAt(period)(t),
		(-pace / period) * t * (sine * Math.cos(pace * t) - cosine * Math.sin(pace * t)),
	]);
	const spread = Math.hypot(fit.spreads[2] as number, fit.spreads[3] as number) / Math.SQRT2;
	return {
		amplitude: seen / kept,
		amplitudeSpread: spread / kept,
		period,
		periodSpread: whole?.spreads[4] ?? period / 2,
	};
}
