/** The log's entry for two frames whose stars were identified: as a text, and written into a plan. */
import type { Solved } from "../alignment/solved-frames.ts";
import { addDays, type EpochMs, wallClock } from "../earth/zone.ts";
import { clockText, dateText } from "../notation/clock.ts";
import { appendCell, appendItem, stillReads } from "../plan/cell-edits.ts";
import { cellsOf, type Plan } from "../plan/plan.ts";
import type { TextEdit } from "../text/edits.ts";
import { scalarText } from "../text/scalar.ts";

/** An entry of the log with two solved frames. */
export interface SolvedEntry {
	/** The evening's. */
	readonly date: { readonly year: number; readonly month: number; readonly day: number };
	readonly frames: readonly {
		/** Clock time of the frame's middle. */
		readonly at: string;
		/** Degrees, J2000. */
		readonly rightAscension: number;
		readonly declination: number;
		readonly positionAngle: number;
	}[];
}

/** Of two frames, in the order in which they were taken. */
export function logEntry(zone: string, frames: readonly [Solved, Solved]): SolvedEntry {
	return {
		date: eveningOf(zone, frames[0].at),
		frames: frames.map(({ at, rightAscension, declination, positionAngle }) => ({
			at: clockText(Math.round(wallClock(zone, at).secondsOfDay) % 86_400),
			rightAscension,
			declination,
			positionAngle,
		})),
	};
}

/** The evening of an instant: after midnight it is still that of the day before. */
function eveningOf(zone: string, at: EpochMs) {
	const { date, secondsOfDay } = wallClock(zone, at);
	return secondsOfDay < 43_200 ? addDays(date, -1) : date;
}

/** An entry of the list in lines, without what a list puts before them. */
function entryLines({ date, frames }: SolvedEntry): readonly string[] {
	return [
		`date: ${dateText(date)}`,
		"solved:",
		...frames.map(
			({ at, rightAscension, declination, positionAngle }) =>
				`  - { at: ${scalarText(at)}, right-ascension: ${degreesText(rightAscension)}, declination: ${degreesText(declination)}, position-angle: ${degreesText(positionAngle)} }`,
		),
	];
}

const degreesText = (value: number): string => `${value.toFixed(4)}°`;

/** As it stands in a list, two spaces in. */
export const logEntryText = (entry: SolvedEntry): string =>
	entryLines(entry)
		.map((line, i) => `  ${i === 0 ? "- " : "  "}${line}\n`)
		.join("");

/** Whether the plan's log has both frames of an entry already. */
export const isInLog = (plan: Plan, { frames }: SolvedEntry): boolean =>
	cellsOf(plan, "log").some(({ text }) =>
		frames.every(
			({ rightAscension, declination }) =>
				text.includes(degreesText(rightAscension)) && text.includes(degreesText(declination)),
		),
	);

/** Puts the entry behind the last one of the plan's log, or a log with it behind the last cell. None where the log is not written so that it can be. */
export function logEdits(plan: Plan, entry: SolvedEntry): readonly TextEdit[] {
	const [cell] = cellsOf(plan, "log");
	if (!cell) return [appendCell(plan, `log:\n${logEntryText(entry).trimEnd()}`)];
	const appended = appendItem(cell, "", "\0");
	const dash = appended && /^(\r?\n)([ ]*)- \0$/.exec(appended.text);
	if (!appended || !dash) return [];
	const [, newline = "\n", indent = ""] = dash;
	const text = entryLines(entry)
		.map((line, i) => `${newline}${indent}${i === 0 ? "- " : "  "}${line}`)
		.join("");
	const edits = [{ ...appended, text }];
	return stillReads(plan, edits) ? edits : [];
}
