/**
 * Constant errors of a tracker's scales, by the evening from which the steps correct for them. The plain keys hold from
 * the beginning on; a row holds from its evening on until a later one says otherwise, and what it leaves out stays.
 */
import type { CalendarDate } from "../../earth/calendar.ts";
import { dateText } from "../../notation/date.ts";
import type { TrackerContent } from "./keys.ts";

/** Degrees: what the tilt scale shows less the true tilt; how far clockwise the pan ends of where it was turned to. */
export interface Zeros {
	readonly tilt: number;
	readonly pan: number;
}

/** A number that grows with the date. */
const ordinal = ({ year, month, day }: CalendarDate): number => (year * 12 + month) * 31 + day;

/** Whether one date comes after another. */
export const isAfter = (one: CalendarDate, other: CalendarDate): boolean => ordinal(one) > ordinal(other);

/** The constants in force on an evening; of two rows of one date the lower counts. */
export function zerosOn(tracker: TrackerContent | undefined, date: CalendarDate): Zeros {
	const rows = (tracker?.zeros ?? []).flatMap(({ since, tilt, pan }) => (since ? [{ since, tilt, pan }] : []));
	const inForce = rows
		.filter(({ since }) => !isAfter(since, date))
		.sort((one, other) => ordinal(one.since) - ordinal(other.since));
	return {
		tilt: inForce.findLast(({ tilt }) => tilt !== undefined)?.tilt ?? tracker?.["tilt-zero"] ?? 0,
		pan: inForce.findLast(({ pan }) => pan !== undefined)?.pan ?? tracker?.["pan-zero"] ?? 0,
	};
}

/** A row as it is written into a plan; a part that is undefined is left out. */
export function zerosRow(since: CalendarDate, parts: { readonly [P in keyof Zeros]?: Zeros[P] | undefined }): string {
	const { tilt, pan } = parts;
	const written = [
		`since: ${dateText(since)}`,
		...(tilt === undefined ? [] : [`tilt: ${angle(tilt)}`]),
		...(pan === undefined ? [] : [`pan: ${angle(pan)}`]),
	];
	return `{ ${written.join(", ")} }`;
}

/** As it is known, without the noise of binary fractions. */
const angle = (degrees: number): string => `${Number(degrees.toFixed(6)) || 0}°`;

/** To a hundredth of a degree: finer no scale is set, and no log tells. */
export const hundredths = (degrees: number): number => Math.round(degrees * 100) / 100 || 0;
