/** Edits that put a night of the search into a plan: its date, a mark and times that work. */

import { seriesSeconds } from "../cells/targets/target.ts";
import { clockOf, minuteUp } from "../earth/zone.ts";
import type { NightChoice } from "../evaluate/nights.ts";
import { methodOf } from "../methods/methods.ts";
import { dateText } from "../notation/clock.ts";
import { cellsOf, firstValue, type Plan } from "../plan/plan.ts";
import { longest } from "../sky/intervals.ts";
import { editsOnce } from "../text/edits.ts";
import { asYaml } from "../text/scalar.ts";
import { type Edit, setKey } from "./finding.ts";

export function nightEdits(plan: Plan, choice: NightChoice): readonly Edit[] {
	const { date, night, windows, method, marks } = choice;
	const edits: (Edit | undefined)[] = [];
	const nightCell = cellsOf(plan, "night")[0];
	if (nightCell) edits.push(setKey(nightCell, "", "date", asYaml(dateText(date))));
	const mark = marks[0];
	const methodCell = method && cellsOf(plan, "method").find(({ read }) => read.content?.kind === method.kind);
	if (methodCell && mark) {
		const written = methodCell.read.content;
		for (const [key, value] of Object.entries(mark.keys)) edits.push(setKey(methodCell, "", key, value));
		const moment = method.kind && methodOf(method.kind).search?.momentary;
		if (moment || written?.at !== undefined) edits.push(setKey(methodCell, "", "at", clockOf(night.zone, mark.at)));
	}
	const targetsCell = cellsOf(plan, "targets")[0];
	const start = longest(windows);
	if (targetsCell && start) {
		for (const [index, entry] of (firstValue(plan, "targets") ?? []).entries()) {
			// A frame of the ground stays at its time: it needs no sky.
			if (
				entry.aim === undefined ||
				(typeof entry.aim === "object" && ("azimuth" in entry.aim || "altitude" in entry.aim))
			)
				continue;
			const key = entry.from !== undefined ? "from" : entry.at !== undefined ? "at" : undefined;
			const clock = entry.from ?? entry.at;
			if (key === undefined || clock === undefined) continue;
			const from = night.instant(clock);
			if (windows.some((window) => window.from <= from && from + seriesSeconds(entry) * 1000 <= window.until)) continue;
			const next = Math.min(minuteUp(start.from), start.until);
			edits.push(setKey(targetsCell, String(index), key, clockOf(night.zone, next)));
		}
	}
	// Targets that are one node by an alias are edited once.
	return editsOnce(edits.filter((edit) => edit !== undefined));
}
