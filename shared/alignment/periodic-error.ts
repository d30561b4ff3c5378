/**
 * The drive's periodic error over an exposure: a sine of known amplitude and period whose phase nobody knows.
 *
 * From time x₁ to x₂ of an exposure the drive turns by A sin(2πx₂/P + φ) − A sin(2πx₁/P + φ) too far: over an exposure
 * shorter than half a period at most 2A sin(πt/P), by chance anything between that and nothing; from a whole period on
 * 2A always. The star goes back and forth while the other drifts go on, so that its trail reaches from one of the turning
 * points (or ends) to another.
 */

/** From one moment of an exposure to a later one: which part of the exposure that is, and what the drive adds, degrees. */
export interface Swing {
	readonly part: number;
	readonly drive: number;
}

/** Phases that are looked at; those of the other half of the circle swing alike. */
const PHASES = 128;

/** Without periodic error: the drift of the whole exposure. */
export const NO_SWINGS: readonly (readonly Swing[])[] = [[{ part: 1, drive: 0 }]];

/** The swings that may make the longest trail, for each of some equally likely phases. */
export function swingsOf(
	{ amplitude, period }: { readonly amplitude: number; readonly period: number },
	exposure: number,
): readonly (readonly Swing[])[] {
	const pace = (2 * Math.PI) / period;
	return Array.from({ length: PHASES }, (_, k) => {
		// Phase in the middle of the exposure: the opposite one is the same played backwards.
		const phase = ((k + 0.5) * Math.PI) / PHASES;
		const turns: number[] = [];
		const first = Math.ceil((phase - (pace * exposure) / 2) / Math.PI - 0.5);
		const last = Math.floor((phase + (pace * exposure) / 2) / Math.PI - 0.5);
		for (let n = first; n <= last; n++)
			if (n < first + 2 || n > last - 2) turns.push(((n + 0.5) * Math.PI - phase) / pace);
		const moments = [-exposure / 2, ...turns, exposure / 2];
		const swings: Swing[] = [];
		for (const [i, from] of moments.entries())
			for (const until of moments.slice(i + 1))
				swings.push({
					part: (until - from) / exposure,
					drive: amplitude * (Math.sin(pace * until + phase) - Math.sin(pace * from + phase)),
				});
		return longestOf(swings);
	});
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

/** Those that no other one passes in both: the whole exposure, and the widest either way, over more of it and over less. */
function longestOf(swings: readonly Swing[]): readonly Swing[] {
	const kept = new Set<Swing>(swings.filter(({ part }) => part > 1 - 1e-9));
	for (const sign of [1, -1]) {
		const way = swings.filter(({ drive }) => drive * sign > 0);
		const widest = Math.max(...way.map(({ drive }) => drive * sign));
		const wide = way.filter(({ drive }) => drive * sign > widest * (1 - 1e-9)).sort((a, b) => a.part - b.part);
		for (const one of [wide[0], wide.at(-1)]) if (one) kept.add(one);
	}
	return [...kept];
}
