/** What of an evening is taken, and where there is room: one pair of hands. Milliseconds. */
import { type EpochMs, minuteUp } from "../../earth/zone.ts";
import type { Interval } from "../../sky/intervals.ts";

/** Times that are taken, in order. */
export class Timeline {
	readonly #taken: Interval[];

	constructor(taken: readonly Interval[] = []) {
		this.#taken = [...taken].sort((a, b) => a.from - b.from);
	}

	take(interval: Interval): void {
		const place = this.#taken.findIndex(({ from }) => from > interval.from);
		this.#taken.splice(place < 0 ? this.#taken.length : place, 0, interval);
	}

	isFree({ from, until }: Interval): boolean {
		return !this.#taken.some((one) => one.from < until && from < one.until);
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
		for (const one of this.#taken) {
			if (one.from >= until) break;
			if (one.until > from && (!last || one.until > last.until)) last = one;
		}
		return last;
	}
}
