/** The evening of a group as one sheet: who does what when, with which number; who has the laser; when lights are out. */

import type { EvaluatedMethod } from "../cells/method/method.ts";
import { type EvaluatedNight, writtenStay } from "../cells/night/night.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import { alignmentsLost } from "../evaluate/evening/lost.ts";
import {
	type GroupEvening,
	type GroupKit,
	inGroup,
	isExposing,
	isOfDark,
	type LaserUse,
	lookoutOf,
	type OfGroup,
	pausesIn,
} from "../evaluate/group.ts";
import { minutesText } from "../notation/duration.ts";
import { cellsOf } from "../plan/plan.ts";
import { either, type Interval, outside, overlaps } from "../sky/intervals.ts";
import { Lines } from "../text/lines.ts";
import { listText } from "../text/list.ts";
import { type Phrase, sentences, told } from "../text/sentence.ts";
import { nightClock, nightSpan } from "./clock.ts";
import type { EveningRow } from "./evening.ts";
import { alignmentNotes } from "./instead.ts";

const words = sentences("output.group", {
	all: "All",
	step: "{who}: {step}",
	arriving: "Head count on arriving: {count}",
	leaving: "Head count before leaving: {count}; nobody walks out alone",
	dark: "Lights out: {kits} take{s} frames; only the dimmest red light, and no laser",
	laser: "{leader} holds the laser, {lookout} watches for aircraft and people, no camera exposes",
	alone: "somebody else",
	hold: "Hold the laser while {name} is aligned",
	lookOut: "Watch for aircraft and people while {name} is aligned with the laser",
	pauseOwn: "Frames pause while {name} is aligned with the laser",
	pause: "frames of {kits} pause until {until}",
	paused: "pause {times} while {name} is aligned with the laser",
	pausedLost: "pause {times} while {name} is aligned with the laser: {frames} frame{s} fewer",
	waiting: "Frames wait until {last} {is} aligned: {kits}",
	aligned: "{method}: {kits}",
	notAligned: "not aligned: {kits}",
	wait: "Wait",
	handed: "where the steps lay or light the laser, {leader} does that at your word",
	waitOwn: "Wait: frames begin when {last} {is} aligned",
});

/** `rowsOf`: the evening of one kit. */
export function groupRows(
	evaluation: Evaluation,
	group: GroupEvening,
	rowsOf: (evaluation: Evaluation) => readonly EveningRow[],
): readonly EveningRow[] {
	const { night } = evaluation;
	if (!night) return [];
	const lineOf = groupLines(evaluation);
	const rows = new Map<string, { readonly row: EveningRow; readonly who: GroupKit[] }>();
	for (const kit of group.kits) {
		const seen = inGroup(kit, group);
		if (!seen) continue;
		for (const row of rowsOf(withItsTurn(seen))) {
			if (row.kind === "wait") continue;
			// How late each may set up is of no use to who leads them all.
			const own = row.kind === "set-up" ? "" : row.about;
			const about = aboutOf(own, othersNotes(kit, row, group, night), kit, row, group);
			const key = `${row.at} ${row.until} ${row.say} ${about}`;
			const known = rows.get(key);
			if (known) known.who.push(kit);
			else rows.set(key, { row: { ...row, about }, who: [kit] });
		}
	}
	const said = [...rows.values()].map(({ row, who }): EveningRow => {
		const names = who.length === group.kits.length && who.length > 1 ? told(words.all()) : namesOf(who);
		const [only] = who;
		return { ...row, say: told(words.step({ who: names, step: row.say })), line: only && lineOf(only.member.place) };
	});
	if (said.length === 0) return [];
	const { begin, dark, end } = moments(night, group);
	return inOrder([
		...ranked(begin, 0),
		...ranked(dark, 1),
		...ranked(waitRow(night, group), 1),
		...ranked(
			said.filter(({ kind }) => kind !== "walk-out"),
			2,
		),
		...ranked(end, 3),
		...ranked(
			said.filter(({ kind }) => kind === "walk-out"),
			4,
		),
	]);
}

/**
 * A kit's plan on the group's evening without the laser where that is not its turn, nor when an alignment is lost: two are
 * never on at once, and none while others take frames.
 */
export function withItsTurn(evaluation: Evaluation): Evaluation {
	const used = new Set(evaluation.evening?.steps.flatMap(({ kind, of }) => (kind === "align" ? [of] : [])));
	const isLaser = (value: EvaluatedMethod | undefined): boolean =>
		value?.method.hazards(value.content).includes("laser") ?? false;
	return Object.create(evaluation, {
		methods: {
			get: () =>
				evaluation.methods.map((one, place) =>
					isLaser(one.value) && !used.has(place) ? { ...one, value: undefined } : one,
				),
		},
		alignmentLost: {
			get: () =>
				alignmentsLost(evaluation).map((lost) => ({ ...lost, ways: lost.ways.filter(({ value }) => !isLaser(value)) })),
		},
	});
}

/** The evening of one of a group: its own rows, when the others count on it, and what holds for all. */
export function memberRows(
	night: EvaluatedNight,
	{ group, kit }: OfGroup,
	own: readonly EveningRow[],
): readonly EveningRow[] {
	const others = group.lasers.filter((use) => use.kit !== kit);
	const name = (use: LaserUse): string => use.kit.member.name;
	const wait = waitOf(kit, group);
	const duties = others.filter((use) => kit === group.leader || lookoutOf(group, use) === kit || isExposing(kit, use));
	const said = own.flatMap((row): readonly EveningRow[] => {
		const isForAll = row.kind === "wait" && row.at === wait?.from;
		const notes = othersNotes(kit, row, group, night);
		const handed = holderNotes(kit, row, group);
		const shown: EveningRow = {
			...row,
			say: isForAll ? told(words.waitOwn(lastOf(group))) : row.say,
			about: [aboutOf(row.about, notes, kit, row, group), ...handed].filter((text) => text !== "").join("; "),
			others: [...notes, ...handed].join("; "),
			line: undefined,
		};
		return row.kind === "wait" ? betweenDuties(night, shown, duties, isForAll) : [shown];
	});
	const { begin, dark, end } = moments(night, group);
	const of = (uses: readonly LaserUse[], say: (use: LaserUse) => Phrase): readonly EveningRow[] =>
		uses.map((use) => momentRow(night, use.from, "re-aim", say(use), use.until));
	return inOrder([
		...ranked(begin, 0),
		...ranked(dark, 1),
		...ranked(
			of(kit === group.leader ? others : [], (use) => words.hold({ name: name(use) })),
			2,
		),
		...ranked(
			of(
				others.filter((use) => lookoutOf(group, use) === kit),
				(use) => words.lookOut({ name: name(use) }),
			),
			2,
		),
		...ranked(
			of(
				others.filter((use) => isExposing(kit, use)),
				(use) => words.pauseOwn({ name: name(use) }),
			),
			2,
		),
		...ranked(
			said.filter(({ kind }) => kind !== "walk-out"),
			3,
		),
		...ranked(end, 4),
		...ranked(
			said.filter(({ kind }) => kind === "walk-out"),
			5,
		),
	]);
}

/** A wait without what the others count on meanwhile; before the last of that nobody packs up. */
function betweenDuties(
	night: EvaluatedNight,
	row: EveningRow,
	duties: readonly Interval[],
	keeps: boolean,
): readonly EveningRow[] {
	const busy = duties.reduce<readonly Interval[]>((all, { from, until }) => either(all, [{ from, until }]), []);
	return outside(busy, { from: row.at, until: row.until })
		.filter(({ from, until }) => until - from >= MINUTE_MS)
		.map(({ from, until }): EveningRow => {
			const isAwaited = busy.some((duty) => duty.from >= until);
			const say = isAwaited && !keeps ? told(words.wait()) : row.say;
			const { times, duration, from: clock } = momentRow(night, from, "wait", words.wait(), until);
			return { ...row, at: from, until, from: clock, times, duration, say };
		});
}

const MINUTE_MS = 60_000;

/** The steps of a method are told to one who does all alone; of a group somebody else has the laser in hand. */
function holderNotes(kit: GroupKit, row: EveningRow, { lasers, leader }: GroupEvening): readonly string[] {
	if (!useOf(kit, row, lasers) || !leader || leader === kit) return [];
	return [told(words.handed({ leader: leader.member.name }))];
}

/** Who of a group is aligned how, in a line; empty where nothing has to be. */
export function groupMethodLine({ kits }: GroupEvening): string {
	const by = new Map<string, GroupKit[]>();
	const not: GroupKit[] = [];
	for (const kit of kits) {
		const step = kit.evening?.steps.find(({ kind }) => kind === "align");
		const name = step && kit.evaluation?.methods[step.of ?? -1]?.value?.name;
		if (name === undefined) {
			if (kit.evaluation?.targets?.value?.some((target) => target?.tracked)) not.push(kit);
		} else by.set(name, [...(by.get(name) ?? []), kit]);
	}
	return [
		...[...by].map(([method, list]) => told(words.aligned({ method, kits: namesOf(list) }))),
		...(not.length > 0 ? [told(words.notAligned({ kits: namesOf(not) }))] : []),
	].join("; ");
}

interface RankedRow {
	readonly row: EveningRow;
	/** Of those that begin together the lowest comes first. */
	readonly rank: number;
}

const ranked = (rows: readonly EveningRow[], rank: number): readonly RankedRow[] => rows.map((row) => ({ row, rank }));

const inOrder = (rows: readonly RankedRow[]): readonly EveningRow[] =>
	[...rows].sort((a, b) => a.row.at - b.row.at || a.rank - b.rank).map(({ row }) => row);

function momentRow(night: EvaluatedNight, at: number, kind: EveningRow["kind"], say: Phrase, until = at): EveningRow {
	return {
		kind,
		at,
		until,
		from: nightClock(night, at),
		times: until === at ? nightClock(night, at) : nightSpan(night, { from: at, until }),
		duration: until === at ? "" : minutesText((until - at) / 60_000),
		say: told(say),
		about: "",
		line: undefined,
	};
}

/** What holds for all: heads are counted as they come and go, and lights are out while anybody takes frames. */
function moments(night: EvaluatedNight, group: GroupEvening) {
	const count = group.kits.length;
	const steps = group.kits.flatMap(({ evening }) => evening?.steps ?? []).filter(({ kind }) => kind !== "wait");
	const there = (step: (typeof steps)[number]): boolean => step.kind !== "walk-in" && step.kind !== "walk-out";
	const { arrives, leaves } = writtenStay(night);
	const begin = arrives
		? night.onSite.from
		: Math.min(...steps.filter(({ kind }) => kind !== "walk-in").map(({ from }) => from));
	const end = leaves
		? night.onSite.until
		: Math.max(...steps.filter(({ kind }) => kind !== "walk-out").map(({ until }) => until));
	if (!steps.some(there)) return { begin: [], dark: [], end: [] };
	return {
		begin: [momentRow(night, begin, "set-up", words.arriving({ count }))],
		end: [momentRow(night, end, "pack-up", words.leaving({ count }))],
		dark: group.lightsOut.map(({ from, until }) => {
			const kits = group.kits.filter((kit) => takesFrames(kit, { from, until }));
			return momentRow(night, from, "sky", words.dark({ kits: namesOf(kits), s: kits.length === 1 ? "s" : "" }), until);
		}),
	};
}

/** When the last of those who are aligned before their first frame is, and who that is: until then frames wait. */
function lastAligned({ kits }: GroupEvening): { readonly at: EpochMs; readonly kits: readonly GroupKit[] } {
	const ends = kits.flatMap((kit) => {
		const first = kit.evening?.steps.find(({ kind }) => kind === "align");
		return first ? [{ kit, until: first.until }] : [];
	});
	const at = Math.max(...ends.map(({ until }) => until));
	return { at, kits: ends.filter(({ until }) => until === at).map(({ kit }) => kit) };
}

/** The wait of a kit whose frames begin when the last is aligned; undefined where it has none. */
function waitOf({ evening, waits }: GroupKit, group: GroupEvening): Interval | undefined {
	if (!waits || !evening) return undefined;
	const { at } = lastAligned(group);
	const first = evening.steps.findIndex(({ kind, until }) => kind === "sky" && until > at);
	return evening.steps.slice(0, Math.max(0, first)).findLast(({ kind }) => kind === "wait");
}

function lastOf(group: GroupEvening) {
	const { kits } = lastAligned(group);
	return { last: namesOf(kits), is: kits.length === 1 ? "is" : "are" };
}

/** Who waits with the frames for the last of all to be aligned, and from when on. */
function waitRow(night: EvaluatedNight, group: GroupEvening): readonly EveningRow[] {
	const waiting = group.kits.flatMap((kit) => {
		const wait = waitOf(kit, group);
		return wait ? [{ kit, from: wait.from }] : [];
	});
	if (waiting.length === 0) return [];
	const from = Math.min(...waiting.map((one) => one.from));
	const kits = namesOf(waiting.map(({ kit }) => kit));
	return [momentRow(night, from, "wait", words.waiting({ kits, ...lastOf(group) }), lastAligned(group).at)];
}

/** Whether a kit takes frames for which lights are out at some time of an interval. */
const takesFrames = (kit: GroupKit, within: Interval): boolean =>
	kit.evening?.steps.some((step) => isOfDark(kit, step) && overlaps(step, within)) ?? false;

const namesOf = (kits: readonly GroupKit[]): string => listText(kits.map(({ member }) => member.name));

/** What the others have to do with a row of a kit. */
const othersNotes = (kit: GroupKit, row: EveningRow, group: GroupEvening, night: EvaluatedNight): readonly string[] => [
	...laserHands(kit, row, group, night),
	...pauseNotes(kit, row, group, night),
];

function aboutOf(own: string, others: readonly string[], kit: GroupKit, row: EveningRow, group: GroupEvening): string {
	const numbers = [own, ...others].filter((text) => text !== "").join("; ");
	const step = kit.evening?.steps.find(({ kind, from }) => kind === "align" && from === row.at);
	const notes = row.kind === "align" && step ? alignmentNotes(kit, group, step) : [];
	return [numbers === "" || notes.length === 0 ? numbers : `${numbers}.`, ...notes]
		.filter((text) => text !== "")
		.join(" ");
}

/** When frames of a row pause for the laser of another, and what that costs. */
function pauseNotes(
	kit: GroupKit,
	{ kind, at }: EveningRow,
	group: GroupEvening,
	night: EvaluatedNight,
): readonly string[] {
	const step = kit.evening?.steps.find((one) => one.kind === kind && one.from === at);
	if (!step) return [];
	return pausesIn(kit, step, group).map(({ use, frames, ...pause }) => {
		const said = { times: nightSpan(night, pause), name: use.kit.member.name };
		return told(frames > 0 ? words.pausedLost({ ...said, frames, s: frames === 1 ? "" : "s" }) : words.paused(said));
	});
}

/** The laser as a row of a kit uses it; undefined where it does not. */
const useOf = (kit: GroupKit, { kind, at, until }: EveningRow, lasers: readonly LaserUse[]): LaserUse | undefined =>
	kind === "align" ? lasers.find((one) => one.kit === kit && one.from === at && one.until === until) : undefined;

/** Who holds the laser and who looks out. */
function laserHands(kit: GroupKit, row: EveningRow, group: GroupEvening, night: EvaluatedNight): readonly string[] {
	const { lasers, leader } = group;
	const use = useOf(kit, row, lasers);
	if (!use || !leader) return [];
	const lookout = lookoutOf(group, use);
	const exposing = group.kits.filter((one) => one !== kit && isExposing(one, use));
	return [
		told(words.laser({ leader: leader.member.name, lookout: lookout?.member.name ?? told(words.alone()) })),
		...(exposing.length > 0
			? [told(words.pause({ kits: namesOf(exposing), until: nightClock(night, use.until) }))]
			: []),
	];
}

/** The line of a member in the plan, from 1. */
function groupLines({ plan }: Evaluation): (place: number) => number | undefined {
	const [cell] = cellsOf(plan, "group");
	const lines = new Lines(plan.text);
	return (place) => {
		const at = cell?.read.places.get(`${place}`);
		return cell && at && lines.at(cell.start + at.value.from).line + 1;
	};
}
