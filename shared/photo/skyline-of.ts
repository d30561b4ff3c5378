/**
 * A skyline of what was traced: at each bearing the highest of the lines, since that hides the sky; an overhang is a step.
 * Where nothing was traced the skyline that was there before stays.
 */
import type { SkyPoint } from "../sky/outline.ts";
import { skylineOf } from "../sky/skyline.ts";
import { halfTurn, turn } from "../sky/vector.ts";
import { fewerPoints } from "./fewer-points.ts";

/** Degrees of bearing beside a step at which its two sides are written. */
const BESIDE = 0.02;
/** Degrees by which two altitudes at one bearing are a step. */
const STEP = 0.05;
/** Degrees by which a point less may move the skyline. */
const TOLERANCE = 0.02;

/** A line with bearings that run on over north, from the lowest bearing up. */
type Run = readonly SkyPoint[];

/**
 * The skyline's points by bearing. `before`: what was known of it, all round.
 */
export function skylineOfLines(
	lines: readonly (readonly SkyPoint[])[],
	before: readonly SkyPoint[] | undefined,
): readonly SkyPoint[] {
	const runs = lines.flatMap((line) => (line.length > 0 ? [runningOn(line)] : []));
	const traced = stretches(runs).flatMap((stretch) => envelope(stretch, runs));
	const covered = (bearing: number): boolean => heightAt(runs, bearing, 0) !== undefined;
	const kept = (before ?? []).filter(([bearing]) => !covered(bearing));
	const was = before && skylineOf(before);
	const ends =
		was === undefined
			? []
			: stretches(runs).flatMap(({ from, until }) =>
					until - from > 360 - 2 * BESIDE
						? []
						: [from - BESIDE, until + BESIDE]
								.filter((bearing) => !covered(bearing))
								.map((bearing): SkyPoint => [bearing, was.skylineAt(turn(bearing))]),
				);
	const byBearing = new Map<number, number>();
	for (const [bearing, altitude] of [...kept, ...ends, ...traced]) {
		const key = Math.round(turn(bearing) * 100) / 100;
		byBearing.set(key >= 360 ? 0 : key, Math.max(altitude, byBearing.get(key) ?? Number.NEGATIVE_INFINITY));
	}
	return [...byBearing].sort(([a], [b]) => a - b);
}

function runningOn(line: readonly SkyPoint[]): Run {
	const run: SkyPoint[] = [];
	for (const [bearing, altitude] of line) {
		const last = run.at(-1);
		run.push([last ? last[0] + halfTurn(bearing - last[0]) : bearing, altitude]);
	}
	return run;
}

/** Bearings from one to another, and the lines over them. */
interface Stretch {
	readonly from: number;
	until: number;
	readonly of: Run[];
}

/** Bearings that lines span, those that overlap joined. */
function stretches(runs: readonly Run[]): readonly Stretch[] {
	const found: Stretch[] = [];
	const spans = runs
		.map((run) => {
			const bearings = run.map(([bearing]) => bearing);
			const from = Math.min(...bearings);
			// Brought into one turn, so that lines on both sides of north meet.
			const by = turn(from) - from;
			return { from: turn(from), until: Math.max(...bearings) + by, run: run.map(([b, a]): SkyPoint => [b + by, a]) };
		})
		.sort((a, b) => a.from - b.from);
	for (const { from, until, run } of spans) {
		const last = found.at(-1);
		if (last && from <= last.until) {
			last.until = Math.max(last.until, until);
			last.of.push(run);
		} else found.push({ from, until, of: [run] });
	}
	return found;
}

/** The highest of all lines over a stretch of bearings, with both sides of a step. */
function envelope({ of }: Stretch, runs: readonly Run[]): readonly SkyPoint[] {
	const bearings = [...new Set(of.flat().map(([bearing]) => bearing))].sort((a, b) => a - b);
	const points = bearings.flatMap((bearing): readonly SkyPoint[] => {
		const at = heightAt(runs, bearing, 0);
		if (at === undefined) return [];
		const left = heightAt(runs, bearing, -BESIDE) ?? at;
		const right = heightAt(runs, bearing, BESIDE) ?? at;
		if (Math.abs(left - right) <= STEP + 2 * BESIDE * STEEP) return [[bearing, at]];
		return [
			[bearing - BESIDE, left],
			[bearing, at],
			[bearing + BESIDE, right],
		];
	});
	return fewerPoints(points, TOLERANCE);
}

/** Degrees up for one of bearing: what is steeper is a wall's edge. */
const STEEP = 10;

/** The highest of the lines at a bearing, looked at from a side of it; undefined where none is. */
function heightAt(runs: readonly Run[], bearing: number, beside: number): number | undefined {
	let highest: number | undefined;
	const rise = (altitude: number): void => {
		if (highest === undefined || altitude > highest) highest = altitude;
	};
	for (const run of runs) {
		if (run.length === 1 && halfTurn((run[0] as SkyPoint)[0] - bearing - beside) === 0) rise((run[0] as SkyPoint)[1]);
		for (let i = 1; i < run.length; i++) {
			const [[x1, y1], [x2, y2]] = [run[i - 1] as SkyPoint, run[i] as SkyPoint];
			const at = x1 + halfTurn(bearing + beside - x1);
			if (at < Math.min(x1, x2) || at > Math.max(x1, x2)) continue;
			rise(x1 === x2 ? Math.max(y1, y2) : y1 + ((at - x1) / (x2 - x1)) * (y2 - y1));
		}
	}
	return highest;
}
