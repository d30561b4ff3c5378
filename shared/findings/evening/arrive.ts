/** To be ready earlier one arrives earlier, and begins the walk earlier. */
import type { EvaluatedNight } from "../../cells/night/night.ts";
import { clockOf, type EpochMs, minuteDown } from "../../earth/zone.ts";
import { walksOf } from "../../evaluate/evening/of-plan.ts";
import { nightClock } from "../../notation/night-clock.ts";
import type { Cell } from "../../plan/plan.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { type Fix, fix, setKey } from "../finding.ts";

const words = sentences("evening.arrive", {
	by: "Arrive by {arrive}{walk}",
	walk: ", starting the walk in at {begin}",
	arrive: "Arrive at {arrive}",
});

/** Whether the plan itself says when one arrives. */
export const saysArrival = ({ content: { arrive }, instant, onSite }: EvaluatedNight): boolean =>
	arrive !== undefined && onSite.from === instant(arrive);

/** Arriving so much earlier that all is done so many milliseconds earlier: what to say, and the fix. */
export function arriveEarlier(
	night: EvaluatedNight,
	cell: Cell,
	earlier: number,
): { readonly from: EpochMs; readonly say: Phrase; readonly fixes: readonly Fix[] } {
	const from = minuteDown(night.onSite.from - earlier);
	const walkIn = walksOf(night).in;
	const clock = (at: EpochMs): string => nightClock(night, at);
	const arrive = clock(from);
	return {
		from,
		say: words.by({ arrive, walk: walkIn > 0 ? words.walk({ begin: clock(from - walkIn) }) : "" }),
		fixes:
			from < night.sky.span.from
				? []
				: fix(words.arrive({ arrive }), false, setKey(cell, "", "arrive", clockOf(night.zone, from))),
	};
}
