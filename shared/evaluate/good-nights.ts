/** The next good nights of a plan, however little of it is written. */
import type { CalendarDate } from "../earth/calendar.ts";
import { addDays } from "../earth/zone.ts";
import type { Plan } from "../plan/plan.ts";
import { type NightChoice, nightsOf, ranked, USABLE_MINUTES, WORTH_GOING } from "./nights.ts";

/** How many days are looked at together: a new Moon is in them. The next ones follow where none is good. */
const SPAN = 30;
/** How far ahead is looked, days. */
const AHEAD = 360;
const MOST = 8;
/** A night is good that has this part of what the best one is worth. */
const GOOD = 0.8;

/** In the order of their dates; none where the site is not known. */
export function goodNights(plan: Plan, today: CalendarDate): readonly NightChoice[] {
	const written = writtenSoFar(plan);
	const nights: NightChoice[] = [];
	for (let from = 0; from < AHEAD; from += SPAN) {
		const outcome = nightsOf(written, addDays(today, from), addDays(today, from + SPAN - 1));
		const found = outcome.ok ? [...outcome.nights] : [];
		const good = goodOf(found, WORTH_GOING);
		if (good.length > 0) return good;
		nights.push(...found);
	}
	// Where none of a year is worth going, those that have most.
	return goodOf(nights, USABLE_MINUTES);
}

/** A plan without the cells that are begun and say nothing yet: they would rule every night out. */
const writtenSoFar = (plan: Plan): Plan => ({
	...plan,
	cells: plan.cells.filter(({ read }) => {
		if (read.kind === "method") return read.content?.kind !== undefined;
		return read.kind !== "targets" || (read.content ?? []).some(({ aim }) => aim !== undefined);
	}),
});

/** `least`: minutes of a night that is one of them. */
function goodOf(nights: readonly NightChoice[], least: number): readonly NightChoice[] {
	const [best] = ranked(nights.filter(({ minutes }) => minutes >= least));
	if (!best) return [];
	return nights.filter(({ minutes, worth }) => minutes >= least && worth >= best.worth * GOOD).slice(0, MOST);
}
