/** The error budget of a method: what each source adds to the axis error. */
import {
	type AxisVector,
	addSpread,
	type Covariance,
	type Ellipse,
	ellipseOf,
	NO_BIAS,
	NO_SPREAD,
	radiusHolding,
} from "./axis-error.ts";

/** One source with its spread and the axis error that one unit of it causes. */
export interface Source {
	readonly name: SourceName;
	/** One standard deviation, in `unit`. */
	readonly spread: number;
	readonly unit: "°" | "s" | "m";
	/** Where the spread comes from: the plan, the tracker's cell, a model, or common practice. */
	readonly origin: "plan" | "tracker" | "model" | "common practice";
	/** Degrees of axis error for one unit; several where the source enters in independent ways (left–right, up–down). */
	readonly effects: readonly AxisVector[];
}

export interface Share extends Source {
	/** Axis error of one standard deviation of this source: root of the sum of squares, degrees. */
	readonly along: number;
	readonly across: number;
	readonly total: number;
	/** Its part of the whole variance, 0 … 1. */
	readonly part: number;
}

/** What a method's result is made of: what its steps leave when nothing is wrong, and what may be wrong. */
export interface Result {
	readonly sources: readonly Source[];
	/** Where the axis lands when the steps are done without an error, off the pole; on it when left out. */
	readonly bias?: AxisVector;
}

/** The axis error as a normal distribution: about `bias`, with `covariance`. */
export interface Budget {
	/** The expected axis, off the pole, degrees. */
	readonly bias: AxisVector;
	readonly covariance: Covariance;
	/** One standard deviation along and across the meridian, degrees. */
	readonly along: number;
	readonly across: number;
	readonly ellipse: Ellipse;
	/** Radius about the pole that holds 95 %, bias and spread together, degrees. */
	readonly radius95: number;
	/** Largest first. */
	readonly shares: readonly Share[];
}

export function budgetOf({ sources, bias = NO_BIAS }: Result): Budget {
	const covariance = covarianceOf(sources);
	const sized = sources.map((source) => {
		let [along, across] = [0, 0];
		for (const effect of source.effects) {
			along = Math.hypot(along, effect.along * source.spread);
			across = Math.hypot(across, effect.across * source.spread);
		}
		return { ...source, along, across, total: Math.hypot(along, across) };
	});
	const variance = covariance.alongAlong + covariance.acrossAcross;
	const shares = sized
		.map((share): Share => ({ ...share, part: variance === 0 ? 0 : share.total ** 2 / variance }))
		.sort((a, b) => b.total - a.total);
	return {
		bias,
		covariance,
		along: Math.sqrt(covariance.alongAlong),
		across: Math.sqrt(covariance.acrossAcross),
		ellipse: ellipseOf(covariance),
		radius95: radiusHolding(0.95, covariance, bias),
		shares,
	};
}

/** The radius of a budget alone, for searches that rank by it. */
export const radius95Of = ({ sources, bias = NO_BIAS }: Result): number =>
	radiusHolding(0.95, covarianceOf(sources), bias);

function covarianceOf(sources: Result["sources"]): Covariance {
	let covariance = NO_SPREAD;
	for (const { effects, spread } of sources)
		for (const { along, across } of effects)
			covariance = addSpread(covariance, { along: along * spread, across: across * spread });
	return covariance;
}

/**
 * Spreads where neither the plan nor the tracker says: one standard deviation. Common practice, no source; degrees,
 * seconds for the clock, metres for a landmark.
 */
export const COMMON_SPREAD = {
	"tilt-scale": 1,
	level: 0.3,
	roll: 0.5,
	"pan-scale": 1,
	compass: 2,
	"magnetic-model": 0.4,
	clock: 5,
	aim: 0.25,
	squareness: 0.5,
	landmark: 10,
	body: 0.003,
} as const satisfies Readonly<Record<string, number>>;

/** Error sources by name. */
export type SourceName = keyof typeof COMMON_SPREAD;

/** The unit a source's spread is in. */
export const unitOfSource = (name: SourceName): Source["unit"] =>
	name === "clock" ? "s" : name === "landmark" ? "m" : "°";
