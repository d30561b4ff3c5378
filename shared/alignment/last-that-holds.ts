/**
 * The last value that still holds of one that may grow: an exposure, or a limit turned round. What is asked of it answers
 * with its slack: the logarithm of how many times longer it might be if all grew in proportion, negative where it does
 * not hold. Trails do nearly, so that two or three questions suffice.
 */

/** To this part of itself. */
export const WITHIN = 1e-3;
/** A slack says no more than this of where to look next. */
const FAR = Math.log(8);
/** How fast the slack falls with the logarithm of the value, as far as it is trusted: 1 where all grows in proportion. */
const [GENTLE, STEEP] = [0.3, 3];

/** The last that holds between `least` and `most`, near a guess, to 0.1 %; 0 where not even `least` does. */
export function lastThatHolds(slackAt: (value: number) => number, guess: number, least: number, most: number): number {
	// Below and above what is sought, as logarithms with their slack.
	let [low, lowSlack]: [number | undefined, number] = [undefined, 0];
	let [high, highSlack]: [number | undefined, number] = [undefined, 0];
	const [first, last] = [Math.log(least), Math.log(most)];
	let at = Math.min(Math.max(guess > 0 ? Math.log(guess) : first, first), last);
	let fall = 1;
	let between = 0;
	let [atBefore, slackBefore] = [Number.NaN, Number.NaN];
	for (let i = 0; i < 80; i++) {
		const slack = slackAt(Math.exp(at));
		if (slack >= 0) {
			if (at >= last) return most;
			if (slack < WITHIN) return Math.exp(at);
			[low, lowSlack] = [at, slack];
		} else {
			if (at <= first) return 0;
			[high, highSlack] = [at, slack];
		}
		if (low !== undefined && high !== undefined) {
			if (high - low < WITHIN) return Math.exp(low);
			// On the line through both, on the side that holds; where a step hides between them, in the middle.
			const part = lowSlack / (lowSlack - highSlack);
			const isLine = ++between % 3 !== 0 && part > 0.01 && part < 0.99;
			at = low + (high - low) * (isLine ? part : 0.5) - (isLine ? WITHIN / 3 : 0);
			if (!(at > low && at < high)) at = (low + high) / 2;
			continue;
		}
		const seen = (slackBefore - slack) / (at - atBefore);
		if (Number.isFinite(seen)) fall = Math.min(STEEP, Math.max(GENTLE, seen));
		[atBefore, slackBefore] = [at, slack];
		const step = Math.min(FAR, Math.max(-FAR, slack / fall));
		// A step of its own size at least, lest it creep.
		at += step > 0 ? Math.max(step - WITHIN / 3, WITHIN / 2) : Math.min(step - WITHIN / 3, -WITHIN / 2);
		at = Math.min(Math.max(at, first), last);
	}
	return low === undefined ? 0 : Math.exp(low);
}

/** Slack of a length within a limit. */
export const slackOfLength = (length: number, limit: number): number =>
	length > 0 ? Math.log(limit / length) : Number.POSITIVE_INFINITY;

/**
 * Slack of a chance over the one wanted. A normally distributed error of two components is within ρ standard deviations
 * with a chance of 1 − exp(−ρ²/2), and ρ is in proportion to the limit.
 */
export function slackOfChance(chance: number, wanted: number): number {
	if (chance >= 1) return Number.POSITIVE_INFINITY;
	if (chance <= 0) return Number.NEGATIVE_INFINITY;
	return chance === wanted ? 0 : Math.log(Math.log1p(-chance) / Math.log1p(-wanted)) / 2;
}
