/**
 * A constant from evenings that scatter: each was measured with a spread of its own, and the head was set anew on each.
 *
 * Least squares with weights 1 / (σᵢ² + τ²), τ² being the variance of the setting from evening to evening, estimated by
 * the method of moments (DerSimonian and Laird, Controlled Clinical Trials 7 (1986) 177): with wᵢ = 1 / σᵢ²,
 * τ² = max(0, (Q − (n − 1)) / (Σw − Σw² / Σw)), Q = Σ wᵢ (xᵢ − x̄)². A poor evening counts little, and the spread of the
 * mean is never less than the measurements allow, however well two evenings happen to agree.
 */
export interface Measured {
	readonly value: number;
	/** One standard deviation. */
	readonly spread: number;
}

export interface ConstantError extends Measured {
	/** From evening to evening, beyond what the measurements explain: one standard deviation. */
	readonly scatter: number;
	readonly evenings: number;
	/**
	 * How far the evenings are apart, degrees, where setting a scale anew does not explain it: something was moved in
	 * between, and their mean is of nothing.
	 */
	readonly apart: number | undefined;
}

/** Fewer evenings than this tell nothing of a constant. */
const FEWEST = 2;
/** No spread is less than this, degrees: nothing is known better than a few arcseconds. */
const LEAST_SPREAD = 0.001;
/** How well a scale is set to the same place on another evening, degrees: one standard deviation. Common practice, no source. */
const SET_AGAIN = 0.5;
/** Evenings of one constant look further apart than what is said of them once in a hundred times. */
const ONE_IN_A_HUNDRED = 2.326;

/**
 * Whether evenings of one constant would hardly ever lie so far apart: their misfit, each with its own spread and that of
 * setting, against χ² of n − 1 degrees by Wilson and Hilferty's cube (Proc. Natl. Acad. Sci. 17 (1931) 684).
 */
function disagree(evenings: readonly Measured[]): boolean {
	const known = evenings.map(({ value, spread }) => ({ value, weight: 1 / (spread ** 2 + SET_AGAIN ** 2) }));
	const weight = known.reduce((sum, one) => sum + one.weight, 0);
	const mean = known.reduce((sum, one) => sum + one.value * one.weight, 0) / weight;
	const misfit = known.reduce((sum, one) => sum + one.weight * (one.value - mean) ** 2, 0);
	const degrees = known.length - 1;
	const part = 2 / (9 * degrees);
	return misfit > degrees * (1 - part + ONE_IN_A_HUNDRED * Math.sqrt(part)) ** 3;
}

/** Undefined for fewer than two evenings. */
export function constantError(evenings: readonly Measured[]): ConstantError | undefined {
	if (evenings.length < FEWEST) return undefined;
	const known = evenings.map(({ value, spread }) => ({ value, variance: Math.max(spread, LEAST_SPREAD) ** 2 }));
	const meanWith = (between: number): { readonly mean: number; readonly weight: number } => {
		const weight = known.reduce((sum, { variance }) => sum + 1 / (variance + between), 0);
		const mean = known.reduce((sum, { value, variance }) => sum + value / (variance + between), 0) / weight;
		return { mean, weight };
	};
	const fixed = meanWith(0);
	const misfit = known.reduce((sum, { value, variance }) => sum + (value - fixed.mean) ** 2 / variance, 0);
	const squares = known.reduce((sum, { variance }) => sum + 1 / variance ** 2, 0);
	const between = Math.max(0, (misfit - (known.length - 1)) / (fixed.weight - squares / fixed.weight));
	const { mean, weight } = meanWith(between);
	const values = evenings.map(({ value }) => value);
	return {
		value: mean,
		spread: 1 / Math.sqrt(weight),
		scatter: Math.sqrt(between),
		evenings: known.length,
		apart: disagree(evenings) ? Math.max(...values) - Math.min(...values) : undefined,
	};
}
