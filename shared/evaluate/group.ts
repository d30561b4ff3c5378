/**
 * A group's evening: several kits, one night and site. Each kit has its own evening at a group's pace. There is one laser:
 * one kit at a time is aligned with it, and none while another exposes. All are aligned before the first frame of the
 * group where that costs no frames; else frames pause.
 */
import type { EvaluatedMethod } from "../cells/method/method.ts";
import { foregroundOf } from "../cells/targets/target.ts";
import { type EpochMs, minuteUp } from "../earth/zone.ts";
import { KeptBy } from "../memory/memory.ts";
import type { GroupMember } from "../plan/reuse.ts";
import { both, either, type Interval, outside, overlaps } from "../sky/intervals.ts";
import type { Evaluation } from "./evaluate.ts";
import { beginOf } from "./evening/aligning.ts";
import { inOrder } from "./evening/in-order.ts";
import { seriesLength } from "./evening/leads.ts";
import { eveningOf, type PlanTasks } from "./evening/of-plan.ts";
import type { AlignTask, Evening, EveningStep, LeftOut, Tasks } from "./evening/tasks.ts";
import * as usual from "./evening/usual-times.ts";

/** Everything by default takes so many times as long in a group. Common practice, no source. */
export const GROUP_PACE = 2;

const MINUTE_MS = 60_000;

export interface GroupKit {
	readonly member: GroupMember;
	/** Of the kit's plan on the group's site and night; undefined where there is no such plan. */
	readonly evaluation: Evaluation | undefined;
	readonly evening: Evening | undefined;
	/** Whether its frames begin later than they could, since all are aligned before the first of them. */
	readonly waits: boolean;
	/** Its tasks while the group is there, whatever the others do; undefined where it has none. */
	readonly alone: PlanTasks | undefined;
}

/** The laser in use: by whom, when. */
export interface LaserUse extends Interval {
	readonly kit: GroupKit;
}

/**
 * Why a kit with tracked frames is not aligned: none of its methods works here tonight; there is no time for one; the laser
 * is with others then, or others take frames, whenever it could be used.
 */
export type WhyNot = "no-method" | "no-time" | "laser" | "frames";

export type GroupProblem =
	| { readonly type: "no-alignment"; readonly kit: GroupKit; readonly why: WhyNot }
	/** It exposes while another is aligned with the laser. */
	| { readonly type: "pause"; readonly kit: GroupKit; readonly use: LaserUse };

export interface GroupEvening {
	readonly kits: readonly GroupKit[];
	readonly leader: GroupKit | undefined;
	readonly lasers: readonly LaserUse[];
	/** While any kit takes frames and the laser is off: no light but the dimmest red. */
	readonly lightsOut: readonly Interval[];
	readonly problems: readonly GroupProblem[];
}

/** `evaluate`: a kit's plan with all that follows from it; undefined where there is none. */
export function groupEvening(
	members: readonly GroupMember[],
	evaluate: (member: GroupMember, place: number) => Evaluation | undefined,
): GroupEvening {
	const kits = members.map((member, place) => kitOf(member, evaluate(member, place)));
	const blocked: Interval[] = kits.flatMap(({ paced }) => (paced ? fixedExposures(paced.tasks) : []));
	const first = new Map<Kit, Evening | undefined>();
	// Who depends on a moment of the sky has the laser then; the others come when it is free.
	for (const kit of [...kits].sort((a, b) => momentOf(a) - momentOf(b))) {
		const evening = kit.paced && placed(withoutLaser(kit, blocked), kit);
		first.set(kit, evening);
		blocked.push(...lasersIn(kit, evening));
	}
	const aligned = Math.max(
		...kits.flatMap((kit) => (first.get(kit)?.steps ?? []).filter(isFirstAlignment).map(({ until }) => until)),
	);
	const leads = Math.max(
		0,
		members.findIndex((one) => one.leads),
	);
	const all = kits.map((kit, place) => {
		const own = first.get(kit);
		const waiting = afterAll(kit, own, aligned, blocked, place === leads);
		return { kit, evening: waiting ?? own, waits: waiting !== undefined && firstFrame(waiting) > firstFrame(own) };
	});
	const shown = all.map(
		({ kit: { member, evaluation, paced }, evening, waits }): GroupKit => ({
			member,
			evaluation,
			evening,
			waits,
			alone: paced,
		}),
	);
	const lasers = all
		.flatMap(({ kit, evening }, place) =>
			lasersIn(kit, evening).map((use): LaserUse => ({ ...use, kit: shown[place] as GroupKit })),
		)
		.sort((a, b) => a.from - b.from);
	return {
		kits: shown,
		leader: shown[leads],
		lasers,
		lightsOut: merged(
			shown.flatMap((kit) => (kit.evening?.steps ?? []).filter((step) => isOfDark(kit, step)).map(toMinute)),
		).flatMap((one) => outside(merged(lasers), one)),
		problems: shown.flatMap((kit, place) => problemsOf(kit, all[place]?.kit as Kit, lasers, blocked)),
	};
}

/** The group that an evening of a kit is part of. */
export interface OfGroup {
	readonly group: GroupEvening;
	readonly kit: GroupKit;
}

/** A kit's plan on the group's evening: its values are those of the kit, aligned as and when the group has time for it. */
export const inGroup = (kit: GroupKit, group: GroupEvening): Evaluation | undefined =>
	kit.evaluation && kit.evening && together.of(kit, () => ofGroup(kit, group));

/** Each kit is of one group's evening. */
const together = new KeptBy<GroupKit, Evaluation | undefined>();

function ofGroup(kit: GroupKit, group: GroupEvening): Evaluation | undefined {
	const own = kit.evening && kit.evaluation?.inEvening(withLatest(kit.evening, group));
	return (
		own &&
		Object.create(own, {
			group: { value: undefined },
			ofGroup: { value: { group, kit } satisfies OfGroup },
		})
	);
}

/**
 * All are aligned before the first frames of the group: an alignment may begin no later than leaves it done by then, and
 * what comes before it no later than leaves that.
 */
function withLatest(evening: Evening, { kits }: GroupEvening): Evening {
	const dark = Math.min(...kits.map((kit) => firstFrame(kit.evening)));
	const last = evening.steps.findLastIndex(({ kind, until }) => kind === "align" && until <= dark);
	if (last < 0 || !Number.isFinite(dark)) return evening;
	let due = dark;
	const before = evening.steps
		.slice(0, last + 1)
		.toReversed()
		.map((step) => {
			if (step.fixed) due = step.from;
			if (step.latest === undefined) return step;
			due = Math.min(step.latest, due - (step.until - step.from));
			return { ...step, latest: due };
		})
		.toReversed();
	return { ...evening, steps: [...before, ...evening.steps.slice(last + 1)] };
}

/** Whether a camera is open in it: a beam spoils every frame that it crosses. */
const exposes = ({ kind }: EveningStep): boolean => kind === "sky" || kind === "test-frame" || kind === "foreground";

/** Frames that are kept of the sky. */
const isFrame = ({ kind }: EveningStep): boolean => kind === "sky";

/** Whether another's lamp spoils what a kit does: frames of the sky, and of the ground where no lamp of its own lights it. */
export const isOfDark = ({ evaluation }: GroupKit, { kind, of }: EveningStep): boolean => {
	const target = of === undefined ? undefined : evaluation?.targets?.value?.[of];
	return (
		kind === "sky" || (kind === "foreground" && target !== undefined && foregroundOf(target.entry)?.light !== "lamp")
	);
};

/** Frames of a kit that wait while another is aligned with the laser. */
export interface Pause extends Interval {
	readonly use: LaserUse;
	/** Frames of the sky that are not taken meanwhile. */
	readonly frames: number;
}

/** The pauses in a step of a kit; none in what exposes nothing. */
export function pausesIn(kit: GroupKit, step: EveningStep, { lasers }: GroupEvening): readonly Pause[] {
	if (!exposes(step)) return [];
	const { kind, of, from, until, frames } = step;
	const planned = kind === "sky" && of !== undefined ? kit.evaluation?.targets?.value?.[of]?.frameCount : undefined;
	const count = frames ?? planned ?? 0;
	// The last has no gap behind it: that is a part of one.
	const each = (until - from) / count;
	return lasers
		.filter((use) => use.kit !== kit && overlaps(use, step))
		.map((use) => {
			const begin = Math.max(from, use.from);
			const end = Math.min(until, use.until);
			const lost = Math.ceil((end - from) / each) - Math.floor((begin - from) / each);
			return { use, from: begin, until: end, frames: count === 0 ? 0 : Math.min(count, lost) };
		});
}

/** Whether a camera of a kit is open at some time of an interval. */
export const isExposing = ({ evening }: GroupKit, within: Interval): boolean =>
	evening?.steps.some((step) => exposes(step) && overlaps(step, within)) ?? false;

/** Whether a kit is aligned or exposes while the laser is on: no eyes for the sky, no hand for the laser. */
export const isBusy = (kit: GroupKit, use: Interval): boolean =>
	isExposing(kit, use) || (kit.evening?.steps.some((step) => step.kind === "align" && overlaps(step, use)) ?? false);

/** Who looks out while the laser is on: first somebody who has nothing else to do then, never one who is busy; undefined where there is nobody. */
export function lookoutOf({ kits, leader }: GroupEvening, use: LaserUse): GroupKit | undefined {
	const able = kits.filter((one) => one !== leader && one !== use.kit && !isBusy(one, use));
	const works = ({ evening }: GroupKit): boolean =>
		evening?.steps.some((step) => step.kind !== "wait" && overlaps(step, use)) ?? false;
	return able.find((one) => !works(one)) ?? able[0];
}

interface Kit {
	readonly member: GroupMember;
	readonly evaluation: Evaluation | undefined;
	/** Its tasks at a group's pace. */
	readonly paced: PlanTasks | undefined;
	/** Which of its methods use the laser. */
	readonly laser: readonly boolean[];
	/** What of its frames is not taken, since the group is not there. */
	readonly cut: readonly LeftOut[];
}

function kitOf(member: GroupMember, evaluation: Evaluation | undefined): Kit {
	const methods = evaluation?.methods.map(({ value }) => value) ?? [];
	const { tasks, night } = evaluation ?? {};
	const { there, cut = [] } =
		evaluation && tasks && night
			? whileThere({ ...tasks, tasks: atPace(tasks.tasks, night.content.prepare ?? {}, methods) }, evaluation)
			: {};
	return {
		member,
		evaluation,
		paced: there,
		cut,
		laser: methods.map((one) => one?.method.hazards(one.content).includes("laser") ?? false),
	};
}

/**
 * Nobody comes before the group, stays behind it, or keeps its lights out for what cannot be seen: of frames that the plan
 * gives a time those are left that can be taken while it is there, and it is aligned then.
 */
function whileThere(
	{ tasks, listed }: PlanTasks,
	{ placed: places }: Pick<Evaluation, "placed">,
): { readonly there: PlanTasks; readonly cut: readonly LeftOut[] } {
	const { onSite, arrives, leaves, packUp } = tasks;
	const targets = places?.value ?? [];
	const from = arrives ? onSite.from : Number.NEGATIVE_INFINITY;
	const until = leaves ? onSite.until - packUp : Number.POSITIVE_INFINITY;
	const isThere = (begin: EpochMs | undefined, length: number): boolean =>
		begin === undefined || (begin >= from && begin + length <= until);
	const cut: LeftOut[] = [];
	const kept = tasks.targets.flatMap((target, place) => {
		const { at, foreground, frame, gap, frames } = target;
		const of = listed[place] as number;
		const { forSky = false, inView = [] } = targets[of] ?? {};
		const series = { from: at ?? 0, until: (at ?? 0) + seriesLength(target) };
		const isSeen = at === undefined || !forSky || inView.some((one) => overlaps(one, series));
		const fits = at === undefined ? frames : at < from ? 0 : Math.min(frames, Math.floor((until - at + gap) / frame));
		const taken = isSeen ? Math.max(0, fits) : 0;
		if (taken < frames) cut.push({ kind: "sky", of, frames: taken });
		const hasGround = foreground && isThere(foreground.at, foreground.length);
		if (foreground && !hasGround) cut.push({ kind: "foreground", of, frames: 0 });
		return taken === 0
			? []
			: [{ of, task: { ...target, frames: taken, foreground: hasGround ? foreground : undefined } }];
	});
	const aligns = tasks.aligns.map((one) =>
		isThere(one.at === undefined ? undefined : beginOf(one.at, one.length), one.length)
			? one
			: { ...one, works: false, corrects: false },
	);
	return {
		there: { tasks: { ...tasks, aligns, targets: kept.map(({ task }) => task) }, listed: kept.map(({ of }) => of) },
		cut,
	};
}

/** A kit's evening, with what of its frames is not taken; one that is left none to track is not aligned. */
function placed(tasks: PlanTasks, kit: Kit): Evening | undefined {
	const { cut } = kit;
	const found = eveningOf(tasks);
	const evening = found && tracksNothing(kit, found) ? unaligned(found) : found;
	if (!evening || cut.length === 0) return evening;
	const steps = evening.steps.map((step): EveningStep => {
		const some = cut.find(({ kind, of }) => kind === step.kind && of === step.of);
		return some && step.kind === "sky" ? { ...step, frames: some.frames } : step;
	});
	return { ...evening, steps, leftOut: [...evening.leftOut, ...cut] };
}

/** Whether an evening has none of the tracked frames that its plan has: such a kit is not aligned, and not waited for. */
function tracksNothing(kit: Kit, { steps }: Evening): boolean {
	const targets = kit.evaluation?.placed?.value ?? [];
	return targets.some((target) => target?.tracked) && !steps.some((step) => isFrame(step) && isTracked(kit, step.of));
}

/** An evening without what aligns and corrects. */
function unaligned(evening: Evening): Evening {
	const first = evening.steps.findIndex(({ kind }) => kind === "align");
	const steps = evening.steps.flatMap((step, place): readonly EveningStep[] => {
		if (step.kind === "align" || step.kind === "wait") return [];
		if (place > first) return [step];
		// What comes before is not due for it any more.
		const { latest: _, ...rest } = step;
		return [rest];
	});
	return {
		...evening,
		steps: inOrder(steps),
		aligned: undefined,
		corrected: undefined,
		fallbacks: [],
		clashes: evening.clashes.filter(({ before, after }) => before.kind !== "align" && after.kind !== "align"),
		leftOut: evening.leftOut.filter(({ kind }) => kind !== "align" && kind !== "correction"),
		secondTry: undefined,
	};
}

/** What the plan gives no time takes longer in a group. */
function atPace(
	tasks: Tasks,
	prepare: { readonly "set-up"?: unknown; readonly focus?: unknown; readonly "pack-up"?: unknown },
	methods: readonly (EvaluatedMethod | undefined)[],
): Tasks {
	const paced = (length: number, typed: unknown): number => (typed === undefined ? length * GROUP_PACE : length);
	const more = (GROUP_PACE - 1) * MINUTE_MS;
	return {
		...tasks,
		setUp: paced(tasks.setUp, prepare["set-up"]),
		focus: paced(tasks.focus, prepare.focus),
		packUp: paced(tasks.packUp, prepare["pack-up"]),
		lensChange: tasks.lensChange * GROUP_PACE,
		turnBack: tasks.turnBack * GROUP_PACE,
		aligns: tasks.aligns.map((one, place) => ({ ...one, length: paced(one.length, methods[place]?.content.takes) })),
		targets: tasks.targets.map((target) => ({
			...target,
			reAim: target.reAim * GROUP_PACE,
			// The exposure stays as long as it is.
			test: target.test + usual.TEST_FRAME * more,
			foreground: target.foreground && {
				...target.foreground,
				length: target.foreground.length + usual.FOREGROUND * more,
				refocus: target.foreground.refocus === 0 ? 0 : paced(target.foreground.refocus, prepare.focus),
			},
			darks: target.darks === 0 ? 0 : target.darks + usual.DARKS * more,
		})),
	};
}

/** What the plan gives a time, with the test frame before it. */
const fixedExposures = ({ targets }: Tasks): readonly Interval[] =>
	targets.flatMap((target) => {
		const { at, test, foreground } = target;
		return [
			...(at === undefined ? [] : [{ from: at - test, until: at + seriesLength(target) }]),
			...(foreground?.at === undefined ? [] : [{ from: foreground.at, until: foreground.at + foreground.length }]),
		];
	});

/** When a kit has to have the laser, if it has to at a moment. */
function momentOf({ paced, laser }: Kit): EpochMs {
	const align = paced?.tasks.aligns.find(({ works }, place) => works && laser[place]);
	return align?.at ?? Number.POSITIVE_INFINITY;
}

/** The tasks of a kit that has no laser at some times. */
function withoutLaser({ paced, laser }: Kit, blocked: readonly Interval[]): PlanTasks {
	const known = paced as PlanTasks;
	const aligns = known.tasks.aligns.map((one, place) => (laser[place] ? freeOf(one, blocked) : one));
	return { ...known, tasks: { ...known.tasks, aligns } };
}

function freeOf(align: AlignTask, blocked: readonly Interval[]): AlignTask {
	if (align.at !== undefined) {
		const from = beginOf(align.at, align.length);
		const taken = blocked.some((one) => overlaps(one, { from, until: from + align.length }));
		return taken ? { ...align, works: false } : align;
	}
	// It begins on a whole minute.
	const half = align.length / 2 + MINUTE_MS;
	const around = blocked.map(({ from, until }) => ({ from: from - half, until: until + half }));
	const within = {
		from: Math.min(...align.windows.map(({ from }) => from)),
		until: Math.max(...align.windows.map(({ until }) => until)),
	};
	const windows = align.windows.length === 0 ? [] : both(align.windows, outside(merged(around), within));
	return { ...align, windows, works: align.works && windows.length > 0 };
}

const merged = (list: readonly Interval[]): readonly Interval[] =>
	list.reduce<readonly Interval[]>((all, one) => either(all, [one]), []);

function lasersIn({ laser }: Kit, evening: Evening | undefined): readonly Interval[] {
	return (evening?.steps ?? []).flatMap(({ kind, of, from, until }) =>
		kind === "align" && of !== undefined && laser[of] ? [{ from, until }] : [],
	);
}

/** The alignment before any frame: one for a tripod that is moved comes later. */
const isFirstAlignment = (step: EveningStep, place: number, steps: readonly EveningStep[]): boolean =>
	step.kind === "align" && steps.findIndex(({ kind }) => kind === "align") === place;

/** Undefined where it would cost frames: what has no time of its own begins when all are aligned. */
function afterAll(
	kit: Kit,
	evening: Evening | undefined,
	aligned: EpochMs,
	blocked: readonly Interval[],
	leads: boolean,
): Evening | undefined {
	if (!kit.paced || !evening || !Number.isFinite(aligned)) return undefined;
	const own = lasersIn(kit, evening);
	const others = blocked.filter((one) => !own.some(({ from, until }) => from === one.from && until === one.until));
	const known = withoutLaser(kit, others);
	const targets = known.tasks.targets.map((target) => {
		// A test frame before them exposes too, and who holds the laser aims when it is off.
		const begin = { from: aligned + target.test + (leads ? target.reAim : 0), until: Number.POSITIVE_INFINITY };
		return target.at === undefined ? { ...target, windows: both(target.windows, [begin]) } : target;
	});
	const waiting = placed({ ...known, tasks: { ...known.tasks, targets } }, kit);
	const keepsLaser = waiting && lasersIn(kit, waiting).every((use) => !others.some((one) => overlaps(one, use)));
	return waiting && keepsLaser && framesOf(kit, waiting) >= framesOf(kit, evening) ? waiting : undefined;
}

/** Frames of the sky that an evening has. */
function framesOf({ evaluation }: Kit, { steps }: Evening): number {
	const planned = (of: number | undefined): number =>
		(of === undefined ? undefined : evaluation?.placed?.value?.[of]?.frameCount) ?? 1;
	return steps.filter(isFrame).reduce((sum, { of, frames }) => sum + (frames ?? planned(of)), 0);
}

const firstFrame = (evening: Evening | undefined): EpochMs =>
	evening?.steps.find(isFrame)?.from ?? Number.POSITIVE_INFINITY;

/** As it is told: frames that follow each other within the minute are together. */
const toMinute = ({ from, until }: Interval): Interval => ({ from, until: minuteUp(until) });

function problemsOf(
	kit: GroupKit,
	own: Kit,
	lasers: readonly LaserUse[],
	blocked: readonly Interval[],
): readonly GroupProblem[] {
	const { evening } = kit;
	const steps = evening?.steps ?? [];
	const tracked = steps.some(({ kind, of }) => kind === "sky" && isTracked(kit, of));
	const lost = evening?.leftOut.some(({ kind }) => kind === "align") ?? false;
	const none = (tracked || lost) && !isAligned(evening);
	const uses = lasers.filter((use) => use.kit === kit);
	const others = lasers.filter((use) => use.kit !== kit);
	const clash = uses.some((use) => others.some((other) => overlaps(use, other)));
	const pauses = others.filter((use) => isExposing(kit, use));
	const why = clash ? "laser" : none ? whyNot(own, others, blocked) : undefined;
	return [
		...(why ? [{ type: "no-alignment" as const, kit, why }] : []),
		...pauses.map((use) => ({ type: "pause" as const, kit, use })),
	];
}

const isAligned = (evening: Evening | undefined): boolean =>
	evening?.steps.some(({ kind }) => kind === "align") ?? false;

/** What keeps a kit from being aligned: found by taking it away. */
function whyNot(kit: Kit, others: readonly Interval[], blocked: readonly Interval[]): WhyNot {
	const { paced, laser } = kit;
	if (!paced?.tasks.aligns.some(({ works }) => works)) return "no-method";
	const alone = eveningOf(paced)?.steps ?? [];
	const due = alone.find(({ kind, of }) => kind === "sky" && isTracked(kit, of))?.from;
	const withLaser = alone.some(
		({ kind, of, until }) =>
			kind === "align" && of !== undefined && laser[of] && until <= (due ?? Number.POSITIVE_INFINITY),
	);
	if (!withLaser) return "no-time";
	const frames = blocked.filter((one) => !others.some(({ from, until }) => from === one.from && until === one.until));
	return isAligned(eveningOf(withoutLaser(kit, frames))) ? "laser" : "frames";
}

const isTracked = ({ evaluation }: Pick<GroupKit, "evaluation">, of: number | undefined): boolean =>
	of !== undefined && (evaluation?.placed?.value?.[of]?.tracked ?? false);
