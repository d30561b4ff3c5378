/** What of an evening is taken, and where there is room: one pair of hands. Milliseconds. */
import { type EpochMs, minuteDown, minuteUp } from "../../earth/zone.ts";
import type { Interval } from "../../sky/intervals.ts";

/** Times that are taken, in order. */
export class Timeline {
	/** By their beginning; what is fixed may overlap. */
	readonly #taken: Interval[];
	/** How long the longest of them is: none that begins earlier by more reaches a moment. */
	#longest = 0;

	constructor(taken: readonly Interval[] = []) {
		this.#taken = [...taken].sort((a, b) => a.from - b.from);
		for (const { from, until } of taken) this.#longest = Math.max(this.#longest, until - from);
	}

	take(interval: Interval): void {
		const { from, until } = interval;
		this.#taken.splice(this.#after(from), 0, interval);
		this.#longest = Math.max(this.#longest, until - from);
	}

	/** The same, to be taken of by itself. */
	copy(): Timeline {
		return new Timeline(this.#taken);
	}

	/** The same with one more time taken. */
	with(interval: Interval): Timeline {
		return new Timeline([...this.#taken, interval]);
	}

	isFree(interval: Interval): boolean {
		return this.#lastIn(interval) === undefined;
	}

	/**
	 * The first whole minute in some windows, from a moment on, at which something of a length can begin, the time of its
	 * lead before it being free too. The lead may lie outside the windows, yet not before the moment.
	 */
	first(length: number, windows: readonly Interval[], notBefore: EpochMs, lead = 0): EpochMs | undefined {
		for (const window of windows) {
			let at = minuteUp(Math.max(window.from, notBefore + lead));
			while (at + length <= window.until) {
				const inTheWay = this.#lastIn({ from: at - lead, until: at + length });
				if (!inTheWay) return at;
				at = minuteUp(inTheWay.until + lead);
			}
		}
		return undefined;
	}

	/** The last whole minute at which something of a length can begin to be done by a moment, the time being free. */
	last(length: number, by: EpochMs): EpochMs {
		let at = minuteDown(by - length);
		for (;;) {
			const inTheWay = this.#lastIn({ from: at, until: at + length });
			if (!inTheWay) return at;
			at = minuteDown(inTheWay.from - length);
		}
	}

	/** The free stretches of some windows, from a moment on, each less its lead. */
	free(windows: readonly Interval[], notBefore: EpochMs, lead = 0): readonly Interval[] {
		return windows.flatMap((window) => {
			const free: Interval[] = [];
			let from = minuteUp(Math.max(window.from, notBefore + lead));
			for (const one of this.#taken) {
				if (one.until <= from - lead) continue;
				if (one.from >= window.until) break;
				if (one.from > from) free.push({ from, until: one.from });
				from = Math.max(from, minuteUp(one.until + lead));
			}
			if (from < window.until) free.push({ from, until: window.until });
			return free;
		});
	}

	/** What lies in an interval and ends last. */
	#lastIn({ from, until }: Interval): Interval | undefined {
		let last: Interval | undefined;
		for (let i = this.#after(from - this.#longest); i < this.#taken.length; i++) {
			const one = this.#taken[i] as Interval;
			if (one.from >= until) break;
			if (one.until > from && (!last || one.until > last.until)) last = one;
		}
		return last;
	}

	/** Place of the first that begins after a moment. */
	#after(at: EpochMs): number {
		let [low, high] = [0, this.#taken.length];
		while (low < high) {
			const middle = (low + high) >> 1;
			if ((this.#taken[middle] as Interval).from <= at) low = middle + 1;
			else high = middle;
		}
		return low;
	}
}
