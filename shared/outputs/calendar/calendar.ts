/** The plan's night as iCalendar events (RFC 5545): arrive, align, frames, leave. Times in UTC; no coordinates. */
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import ical, { ICalAlarmType } from "ical-generator";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingWithPoint } from "../../notation/bearing.ts";
import { dateText } from "../../notation/date.ts";
import { cellsOf, firstValue } from "../../plan/plan.ts";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import { cautionsFor, cautionsOf, notClearedText } from "../cautions.ts";
import type { Output } from "../output.ts";
import { numberedSteps, toldSteps } from "../steps.ts";
import { words } from "./words.ts";

export const calendar: Output = {
	name: "calendar",
	title: words.exported(),
	option: "--calendar",
	mediaType: "text/calendar",
	extension: "ics",
	of: {
		plan: {
			help: words.help(),
			make: ({ evaluation }, { now }) => calendarText(evaluation, now) ?? { why: words.unknown() },
		},
	},
};

interface CalendarEvent {
	readonly id: string;
	readonly from: number;
	readonly until: number;
	readonly summary: string;
	readonly description?: string;
	/** Minutes before it at which a bell rings. */
	readonly alarm?: number;
}

/** Minutes before the guide star's moment: time to have the laser in hand. */
const GUIDE_STAR_ALARM = 10;
const MINUTE_MS = 60_000;

/** Undefined while the night is not known. `stamp`: when the calendar is made. */
export function calendarText(evaluation: Evaluation, stamp: number): string | undefined {
	const { plan, night, site } = evaluation;
	if (!night) return undefined;
	const title = shown(firstValue(plan, "plan")?.title ?? told(words.untitled()));
	const name = firstValue(plan, "site")?.name;
	const place = name === undefined ? undefined : shown(name);
	const made = ical({ name: title, prodId: { company: "Lodebook", product: "lodebook", language: "EN" } });
	for (const { id, from, until, summary, description, alarm } of eventsOf(evaluation)) {
		const event = made.createEvent({
			id: `${dateText(night.date)}-${id}-${fingerprint(`${title}\n${place ?? ""}`)}@lodebook`,
			stamp: new Date(stamp),
			start: new Date(from),
			end: new Date(until),
			summary: shown(summary),
			...(description === undefined ? {} : { description: description.split("\n").map(shown).join("\n") }),
			...(place === undefined || !site ? {} : { location: place }),
		});
		if (alarm !== undefined)
			event.createAlarm({ type: ICalAlarmType.display, triggerBefore: alarm * 60, description: shown(summary) });
	}
	return made.toString();
}

function eventsOf(evaluation: Evaluation): readonly CalendarEvent[] {
	const { plan, night, aligned, targets } = evaluation;
	if (!night) return [];
	const { onSite } = night;
	const cell = firstValue(plan, "night");
	const events: CalendarEvent[] = [];
	const cautions = cautionsFor(evaluation);
	const notes = cellsOf(plan, "note").flatMap(({ read }) => read.content?.trimEnd().split(/\r\n|[\n\r]/) ?? []);
	if (cell?.arrive !== undefined)
		events.push({
			id: "arrive",
			from: onSite.from,
			until: onSite.from + 15 * MINUTE_MS,
			summary: told(words.arrive()),
			description: [...cautions, ...notes].join("\n"),
			alarm: 60,
		});
	if (aligned) {
		aligned.setUp.windows.forEach(({ from, until }, i) => {
			events.push({
				id: `align-${i + 1}`,
				from,
				// A window of a single minute is an event of one.
				until: Math.max(until, from + MINUTE_MS),
				summary: told(words.align({ kind: aligned.method.kind })),
				description: [
					...[notClearedText(aligned)].filter((text) => text !== ""),
					...cautionsOf(aligned),
					...numberedSteps(toldSteps(aligned), { number: (text) => ` ${text}` }),
				].join("\n"),
			});
		});
		const { at, marks } = aligned.setUp;
		const [mark] = marks;
		if (at !== undefined && mark?.body)
			events.push({
				id: "mark",
				from: at,
				until: at + MINUTE_MS,
				summary: told(
					words.mark({
						name: mark.name,
						altitude: degrees(mark.direction.altitude),
						bearing: bearingWithPoint(mark.direction.azimuth),
					}),
				),
				alarm: GUIDE_STAR_ALARM,
			});
	}
	for (const target of targets?.value ?? []) {
		if (!target || target.seconds <= 0) continue;
		const { entry, series, name, index } = target;
		events.push({
			id: `frames-${index + 1}`,
			from: series.from,
			until: series.until,
			summary: told(words.frames({ name })),
			description: told(
				words[target.tracked ? "tracked" : "untracked"]({ count: entry.frames ?? 1, exposure: `${entry.exposure}` }),
			),
			alarm: 5,
		});
	}
	if (cell?.leave !== undefined)
		events.push({
			id: "leave",
			from: onSite.until - 15 * MINUTE_MS,
			until: onSite.until,
			summary: told(words.leave()),
			alarm: 15,
		});
	return events;
}

/** A short hash, so that a changed plan updates its own events and no others. */
const fingerprint = (text: string): string => bytesToHex(sha256(utf8ToBytes(text))).slice(0, 8);
