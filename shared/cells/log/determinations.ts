/**
 * An evening's measurements in the order of the clock, gathered into determinations of the axis: two drifts far enough
 * apart in hour angle, or two solved frames. Between one determination and the next the axis may have been corrected, so
 * they are never averaged. Drifts left over count with the last determination when they agree with it; where they do
 * not, the axis was moved since, and what they tell alone is all that is known of it.
 */
import type { Covariance } from "../../alignment/axis-error.ts";
import { agrees, axisFromDrifts, type FoundAxis, type MeasuredDrift, partFromDrift } from "../../alignment/drift.ts";
import { isTooClose } from "../../alignment/pairs.ts";
import type { SolvedAxis } from "../../alignment/solved-frames.ts";
import type { EpochMs } from "../../earth/zone.ts";
import type { MethodKind } from "../../methods/methods.ts";
import { halfTurn } from "../../sky/vector.ts";

/** A measurement of an entry of the log. */
export interface Measurement {
	/** Index of the entry. */
	readonly entry: number;
	readonly at: EpochMs;
	/** By which the axis had been set. */
	readonly method: MethodKind | undefined;
	readonly drift: MeasuredDrift | undefined;
	readonly solved: SolvedAxis | undefined;
}

/** The axis as measurements tell it, and the method by which it had been set. */
export interface Determination extends FoundAxis {
	readonly method: MethodKind | undefined;
}

/** What one drift tells, and its entry. */
export type Part = ReturnType<typeof partFromDrift> & { readonly entry: number };

export interface Determined {
	/** In the order in which they were measured. */
	readonly all: readonly Determination[];
	/** The axis in the end; undefined where only a part of it is known. */
	readonly last: Determination | undefined;
	/** What the last drift tells, where that is all. */
	readonly part: Part | undefined;
}

interface Group {
	readonly method: MethodKind | undefined;
	readonly drifts: (MeasuredDrift & { readonly entry: number })[];
}

export function determine(latitude: number, measurements: readonly Measurement[]): Determined {
	const all: Determination[] = [];
	let group: Group | undefined;
	/** The drifts of the last determination, when it is of drifts. */
	let before: Group | undefined;
	const found = ({ drifts, method }: Group): Determination | undefined => {
		const axis = axisFromDrifts(latitude, drifts);
		return axis && { ...axis, method };
	};
	const close = (done: Group): void => {
		const axis = found(done);
		if (axis) all.push(axis);
		before = axis ? done : before;
		group = undefined;
	};
	for (const { entry, method, drift, solved } of [...measurements].sort((one, other) => one.at - other.at)) {
		if (group && (solved || group.method !== method)) close(group);
		if (solved) {
			all.push({ error: solved.error, covariance: roundSpread(solved.spread), method });
			before = undefined;
		} else if (drift) {
			group ??= { method, drifts: [] };
			group.drifts.push({ ...drift, entry });
			if (spansEnough(group.drifts)) close(group);
		}
	}
	const left = group;
	const last = all.at(-1);
	if (!left) return { all, last, part: undefined };
	if (last && last.method === left.method && left.drifts.every((drift) => agrees(latitude, last, drift))) {
		const joined = before && found({ method: left.method, drifts: [...before.drifts, ...left.drifts] });
		return { all: joined ? [...all.slice(0, -1), joined] : all, last: joined ?? last, part: undefined };
	}
	const axis = found(left);
	if (axis) return { all: [...all, axis], last: axis, part: undefined };
	const single = left.drifts.at(-1);
	return { all, last: undefined, part: single && { ...partFromDrift(latitude, single), entry: single.entry } };
}

const roundSpread = (spread: number): Covariance => ({
	alongAlong: spread ** 2,
	alongAcross: 0,
	acrossAcross: spread ** 2,
});

/** Whether two of the drifts are far enough apart in hour angle to tell both parts of the axis error. */
const spansEnough = (drifts: readonly MeasuredDrift[]): boolean =>
	drifts.some((one, i) =>
		drifts.slice(i + 1).some((other) => !isTooClose(Math.abs(halfTurn(other.hourAngle - one.hourAngle)))),
	);
