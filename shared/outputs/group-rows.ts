/** The evening of a group as one sheet: who does what when, with which number; who has the laser; when lights are out. */
import type { Evaluation } from "../evaluate/evaluate.ts";
import type { Evening } from "../evaluate/evening/tasks.ts";
import type { GroupEvening, GroupKit } from "../evaluate/group.ts";
import { durationText } from "../notation/duration.ts";
import { cellsOf } from "../plan/plan.ts";
import { Lines } from "../text/lines.ts";
import { listText } from "../text/list.ts";
import { type Phrase, sentences, told } from "../text/sentence.ts";
import { notClearedText } from "./cautions.ts";
import { nightClock, nightSpan } from "./clock.ts";
import type { EveningRow } from "./evening.ts";

const words = sentences("output.group", {
	all: "All",
	step: "{who}: {step}",
	arriving: "Head count on arriving: {count}",
	leaving: "Head count before leaving: {count}; nobody walks out alone",
	dark: "Lights out: {kits} take{s} frames; nothing but the dimmest red light, and no laser",
	laser: "{leader} holds the laser, {lookout} looks out for aircraft and people, no camera exposes",
	alone: "somebody else",
	pause: "frames of {kits} pause until then",
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
		if (!kit.evaluation || !kit.evening) continue;
		// Its values are those of the kit; the order of the evening is that of the group.
		const seen: Evaluation = Object.create(kit.evaluation, {
			evening: { value: withLatest(kit.evening, group) },
			group: { value: undefined },
		});
		for (const row of rowsOf(seen)) {
			if (row.kind === "wait") continue;
			// How late each may set up is of no use to who leads them all.
			const own = row.kind === "set-up" ? "" : row.about;
			const about = [own, ...laserTexts(kit, row, group)].filter((text) => text !== "").join("; ");
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
	const count = group.kits.length;
	const begin = Math.min(...said.filter(({ kind }) => kind !== "walk-in").map(({ at }) => at));
	const end = Math.max(...said.filter(({ kind }) => kind !== "walk-out").map(({ until }) => until));
	const moment = (at: number, kind: EveningRow["kind"], say: Phrase, until = at): EveningRow => ({
		kind,
		at,
		until,
		from: nightClock(night, at),
		times: until === at ? nightClock(night, at) : nightSpan(night, { from: at, until }),
		duration: until === at ? "" : durationText((until - at) / 1000),
		say: told(say),
		about: "",
		line: undefined,
	});
	const dark = group.lightsOut.map(({ from, until }) => {
		const kits = group.kits.filter(({ evening }) =>
			evening?.steps.some((step) => step.kind === "sky" && step.from < until && from < step.until),
		);
		return moment(from, "sky", words.dark({ kits: namesOf(kits), s: kits.length === 1 ? "s" : "" }), until);
	});
	const ranked = (rows: readonly EveningRow[], rank: number) => rows.map((row) => ({ row, rank }));
	return [
		...ranked([moment(begin, "set-up", words.arriving({ count }))], 0),
		...ranked(dark, 1),
		...ranked(
			said.filter(({ kind }) => kind !== "walk-out"),
			2,
		),
		...ranked([moment(end, "pack-up", words.leaving({ count }))], 3),
		...ranked(
			said.filter(({ kind }) => kind === "walk-out"),
			4,
		),
	]
		.sort((a, b) => a.row.at - b.row.at || a.rank - b.rank)
		.map(({ row }) => row);
}

/** All are aligned before the first frames of the group: an alignment may begin no later than leaves it done by then. */
function withLatest(evening: Evening, { lightsOut }: GroupEvening): Evening {
	const dark = lightsOut[0]?.from;
	const steps = evening.steps.map((step) => {
		const { kind, from, until, latest } = step;
		if (kind !== "align" || latest === undefined || dark === undefined || until > dark) return step;
		return { ...step, latest: Math.min(latest, dark - (until - from)) };
	});
	return { ...evening, steps };
}

const namesOf = (kits: readonly GroupKit[]): string => listText(kits.map(({ member }) => member.name));

/** Who holds the laser and who looks out, before it is switched on, and that it may not be where that is not cleared. */
function laserTexts(kit: GroupKit, row: EveningRow, { lasers, leader, kits }: GroupEvening): readonly string[] {
	const use = lasers.find((one) => one.kit === kit && one.from === row.at && one.until === row.until);
	if (row.kind !== "align" || !use || !leader) return [];
	const methods = kit.evaluation?.methods ?? [];
	const step = kit.evening?.steps.find(({ kind, from }) => kind === "align" && from === row.at);
	const method = step?.of === undefined ? undefined : methods[step.of]?.value;
	// Whoever is aligned has no eyes for the sky.
	const lookout = kits.find((one) => one !== leader && one !== kit) ?? kits.find((one) => one !== leader);
	const exposing = kits.filter(
		(one) =>
			one !== kit &&
			one.evening?.steps.some(({ kind, from, until }) => kind === "sky" && from < use.until && use.from < until),
	);
	return [
		...(method ? [notClearedText(method)] : []),
		told(words.laser({ leader: leader.member.name, lookout: lookout?.member.name ?? told(words.alone()) })),
		...(exposing.length > 0 ? [told(words.pause({ kits: namesOf(exposing) }))] : []),
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
