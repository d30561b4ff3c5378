/** The log's entry for two frames whose stars were identified, as it is written into a plan. */

import type { Solved } from "../alignment/solved-frames.ts";
import { type EpochMs, wallClock } from "../earth/zone.ts";
import { clockText, dateText } from "../notation/clock.ts";

/** An entry of the list, two spaces in. `date`: the evening's. */
export function logEntryText(
	zone: string,
	date: { readonly year: number; readonly month: number; readonly day: number },
	frames: readonly [Solved, Solved],
): string {
	const clock = (at: EpochMs): string => clockText(Math.round(wallClock(zone, at).secondsOfDay) % 86_400);
	const row = ({ at, rightAscension, declination, positionAngle }: Solved): string =>
		`      - { at: "${clock(at)}", right-ascension: ${rightAscension.toFixed(4)}°, declination: ${declination.toFixed(4)}°, position-angle: ${positionAngle.toFixed(4)}° }`;
	return `  - date: ${dateText(date)}\n    solved:\n${frames.map(row).join("\n")}\n`;
}
