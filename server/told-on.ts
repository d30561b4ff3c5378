/** Values as they are told where a night is known: clock times behind midnight say so. */
import type { EvaluatedNight } from "../shared/cells/night/night.ts";
import type { Value } from "../shared/notation/value.ts";
import { exactNightClock, nightClock } from "../shared/outputs/clock.ts";

/** A moment as values have it: ISO 8601 with its offset. */
const MOMENT = /^\d{4}-\d{2}-\d{2}T/;

/** The text of a value, with how many midnights after the evening's date a clock time is. */
export function toldOn(night: EvaluatedNight | undefined, { value, text }: Value): string {
	if (!night || typeof value !== "string" || !MOMENT.test(value)) return text;
	// Numbers were computed for the second that is told.
	const clock = /^\d+:\d+:\d+/.test(text) ? exactNightClock : nightClock;
	return clock(night, Date.parse(value));
}
