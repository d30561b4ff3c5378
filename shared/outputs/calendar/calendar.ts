/**
 * The evening as iCalendar events (RFC 5545): one for each step, at its time on the site's clock; for a group, and for
 * each of it, one for each row of the sheet. No coordinates.
 */
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import ical, { ICalAlarmType } from "ical-generator";
import { instantsOf, wallClock, zonedTime } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { cellsOf, firstValue } from "../../plan/plan.ts";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import { cautionsFor, cautionsOf, notClearedText } from "../cautions.ts";
import { eveningRows } from "../evening.ts";
import type { Output } from "../output.ts";
import { numberedSteps, toldSteps } from "../steps.ts";
import { words } from "./words.ts";
import { zoneBlock } from "./zone-block.ts";

export const calendar: Output = {
	name: "calendar",
	title: words.exported(),
	option: "--calendar",
	mediaType: "text/calendar",
	extension: "ics",
	of: {
		plan: {
			help: words.help(),
			make: ({ evaluation }, { now }) =>
				calendarText(evaluation, now) ?? { why: evaluation.night ? words.nothing() : words.unknown() },
		},
	},
};

interface CalendarEvent {
	readonly id: string;
	readonly from: number;
	readonly until: number;
	readonly summary: string;
	readonly description: string;
	/** Minutes before it at which a bell rings. */
	readonly alarm?: number;
}

/** Minutes before a step at which a bell rings: before leaving home or getting out, with the laser in hand, at the camera. */
const ALARMS = { first: 60, align: 10, sky: 5, "pack-up": 15 } as const;
const MINUTE_MS = 60_000;
/** From when on sequence numbers count. */
const FIRST_SEQUENCE = Date.UTC(2020, 0, 1);

/** Undefined while there is no evening. `stamp`: when the calendar is made. */
export function calendarText(evaluation: Evaluation, stamp: number): string | undefined {
	const { plan, night, site } = evaluation;
	const events = eventsOf(evaluation);
	const [first] = events;
	if (!night || !first) return undefined;
	const title = shown(firstValue(plan, "plan")?.title ?? told(words.untitled()));
	const name = firstValue(plan, "site")?.name;
	const place = name === undefined ? undefined : shown(name);
	const made = ical({
		name: title,
		prodId: { company: "Lodebook", product: "lodebook", language: "EN" },
		timezone: { name: null, generator: (zone) => zoneBlock(zone, first.from) },
	});
	// A plan is known by its file and its site: its date and its title may change.
	const known = fingerprint(`${plan.path ?? ""}\n${place ?? ""}`);
	for (const { id, from, until, summary, description, alarm } of events) {
		const event = made.createEvent({
			// A step keeps its id when its time changes.
			id: `${id}-${known}@lodebook`,
			stamp: new Date(stamp),
			// What was made later replaces what was made before (RFC 5545, 3.8.7.4): minutes since 2020, which only rise.
			sequence: Math.max(0, Math.floor((stamp - FIRST_SEQUENCE) / MINUTE_MS)),
			...times(night.zone, from, until),
			summary: shown(summary),
			...(description !== "" && { description: description.split("\n").map(shown).join("\n") }),
			...(place === undefined || !site ? {} : { location: place }),
		});
		if (alarm !== undefined)
			event.createAlarm({ type: ICalAlarmType.display, triggerBefore: alarm * 60, description: shown(summary) });
	}
	// Each line ends with CRLF, the last one too (RFC 5545, 3.1).
	return `${made.toString().replace(/(?:\r\n)+$/, "")}\r\n`;
}

/**
 * On the site's clock. A time that this clock shows twice is the first of both (RFC 5545, 3.3.5), which not every program
 * knows: it is in UTC, as is what no clock of a place shows.
 */
function times(zone: string, from: number, until: number) {
	const local = !IN_UTC.test(zone) && [from, until].every((at) => isShownOnce(zone, at));
	return local
		? { timezone: zone, start: zonedTime(zone, from), end: zonedTime(zone, until) }
		: { start: new Date(from), end: new Date(until) };
}

/** UTC by its names, and offsets, which are no names of a zone. */
const IN_UTC = /^(?:(?:Etc\/)?(?:UTC|UCT|Universal|Zulu|GMT)|[+-].*)$/i;

function isShownOnce(zone: string, at: number): boolean {
	const { date, secondsOfDay } = wallClock(zone, at);
	return instantsOf(zone, date, secondsOfDay).length === 1;
}

/** Waiting is no event. A step without a length, or a shorter one, is an event of a minute. */
function eventsOf(evaluation: Evaluation): readonly CalendarEvent[] {
	const rows = eveningRows(evaluation);
	const steps =
		evaluation.group || evaluation.ofGroup
			? rows.map(({ kind, at, until }) => ({ kind, of: undefined, from: at, until }))
			: (evaluation.evening?.steps ?? []);
	const seen = new Map<string, number>();
	return steps.flatMap((step, i): readonly CalendarEvent[] => {
		const { kind, of, from, until } = step;
		if (kind === "wait") return [];
		const name = of === undefined || kind === "align" ? kind : `${kind}-${of + 1}`;
		const count = (seen.get(name) ?? 0) + 1;
		seen.set(name, count);
		const alarm = i === 0 ? ALARMS.first : ALARMS[kind as keyof typeof ALARMS];
		return [
			{
				id: count === 1 ? name : `${name}.${count}`,
				from,
				until: Math.max(until, from + MINUTE_MS),
				summary: rows[i]?.say ?? "",
				description: [
					...(i === 0 ? aboutTheEvening(evaluation) : []),
					rows[i]?.about ?? "",
					...(kind === "align" ? aboutMethod(evaluation, of) : []),
				]
					.filter((line) => line !== "")
					.join("\n"),
				...(alarm !== undefined && { alarm }),
			},
		];
	});
}

/** Cautions and notes: before one sets out. */
const aboutTheEvening = (evaluation: Evaluation): readonly string[] => [
	...cautionsFor(evaluation),
	...cellsOf(evaluation.plan, "note").flatMap(({ read }) => read.content?.trimEnd().split(/\r\n|[\n\r]/) ?? []),
];

/** What can hurt, then what to do. */
function aboutMethod({ methods }: Evaluation, place: number | undefined): readonly string[] {
	const method = place === undefined ? undefined : methods[place]?.value;
	return method
		? [
				notClearedText(method),
				...cautionsOf(method),
				...numberedSteps(toldSteps(method), { number: (text) => ` ${text}` }),
			]
		: [];
}

/** A short hash, so that a changed plan updates its own events and no others. */
const fingerprint = (text: string): string => bytesToHex(sha256(utf8ToBytes(text))).slice(0, 8);
