/**
 * A group's evening: several kits, one night and site. Each kit has its own evening at a group's pace. There is one laser:
 * one kit at a time is aligned with it, and none while another exposes. All are aligned before the first frame of the
 * group where that costs no frames; else frames pause.
 */
import type { EvaluatedMethod } from "../cells/method/method.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { GroupMember } from "../plan/reuse.ts";
import { both, either, type Interval, outside } from "../sky/intervals.ts";
import type { Evaluation } from "./evaluate.ts";
import { beginOf } from "./evening/aligning.ts";
import { eveningOf, type PlanTasks } from "./evening/of-plan.ts";
import type { AlignTask, Evening, SkyTask, Tasks } from "./evening/tasks.ts";
import * as usual from "./evening/usual-times.ts";

/** Everything by default takes so many times as long in a group. Common practice, no source. */
export const GROUP_PACE = 2;

const MINUTE_MS = 60_000;

export interface GroupKit {
	readonly member: GroupMember;
	/** Of the kit's plan on the group's site and night; undefined where there is no such plan. */
	readonly evaluation: Evaluation | undefined;
	readonly evening: Evening | undefined;
}

/** The laser in use: by whom, when. */
export interface LaserUse extends Interval {
	readonly kit: GroupKit;
}

export type GroupProblem =
	/** It has tracked frames, and no time to be aligned in. `laser`: the laser is with others then. */
	| { readonly type: "no-alignment"; readonly kit: GroupKit; readonly laser: boolean }
	/** It exposes while another is aligned with the laser. */
	| { readonly type: "pause"; readonly kit: GroupKit; readonly use: LaserUse };

export interface GroupEvening {
	readonly kits: readonly GroupKit[];
	readonly leader: GroupKit | undefined;
	readonly lasers: readonly LaserUse[];
	/** From the first frame of any kit to its last: no light but the dimmest red. */
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
		const evening = kit.paced && eveningOf(withoutLaser(kit, blocked));
		first.set(kit, evening);
		blocked.push(...lasersIn(kit, evening));
	}
	const aligned = Math.max(
		...kits.flatMap((kit) => (first.get(kit)?.steps ?? []).filter(isFirstAlignment).map(({ until }) => until)),
	);
	const placed = kits.map((kit) => ({ kit, evening: afterAll(kit, first.get(kit), aligned, blocked) }));
	const shown = placed.map(
		({ kit, evening }): GroupKit => ({ member: kit.member, evaluation: kit.evaluation, evening }),
	);
	const lasers = placed
		.flatMap(({ kit, evening }, place) =>
			lasersIn(kit, evening).map((use): LaserUse => ({ ...use, kit: shown[place] as GroupKit })),
		)
		.sort((a, b) => a.from - b.from);
	return {
		kits: shown,
		leader: shown.find(({ member }) => member.leads) ?? shown[0],
		lasers,
		lightsOut: exposures(shown),
		problems: shown.flatMap((kit, place) => problemsOf(kit, placed[place]?.kit as Kit, lasers)),
	};
}

interface Kit {
	readonly member: GroupMember;
	readonly evaluation: Evaluation | undefined;
	/** Its tasks at a group's pace. */
	readonly paced: PlanTasks | undefined;
	/** Which of its methods use the laser. */
	readonly laser: readonly boolean[];
}

function kitOf(member: GroupMember, evaluation: Evaluation | undefined): Kit {
	const methods = evaluation?.methods.map(({ value }) => value) ?? [];
	const { tasks, night } = evaluation ?? {};
	return {
		member,
		evaluation,
		paced: tasks && night && { ...tasks, tasks: atPace(tasks.tasks, night.content.prepare ?? {}, methods) },
		laser: methods.map((one) => one?.method.hazards(one.content).includes("laser") ?? false),
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
			},
			darks: target.darks === 0 ? 0 : target.darks + usual.DARKS * more,
		})),
	};
}

const seriesLength = ({ frame, gap, frames }: SkyTask): number => frame * frames - gap;

const fixedExposures = ({ targets }: Tasks): readonly Interval[] =>
	targets.flatMap((target) =>
		target.at === undefined ? [] : [{ from: target.at, until: target.at + seriesLength(target) }],
	);

/** When a kit has to have the laser, if it has to at a moment. */
function momentOf({ paced, laser }: Kit): EpochMs {
	const align = paced?.tasks.aligns.find(({ works }, place) => works && laser[place]);
	return align?.at ?? Number.POSITIVE_INFINITY;
}

const overlaps = (a: Interval, b: Interval): boolean => a.from < b.until && b.from < a.until;

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
const isFirstAlignment = (
	step: Evening["steps"][number],
	place: number,
	steps: readonly Evening["steps"][number][],
): boolean => step.kind === "align" && steps.findIndex(({ kind }) => kind === "align") === place;

/** What has no time of its own begins when all are aligned, where that costs no frames. */
function afterAll(
	kit: Kit,
	evening: Evening | undefined,
	aligned: EpochMs,
	blocked: readonly Interval[],
): Evening | undefined {
	if (!kit.paced || !evening || !Number.isFinite(aligned)) return evening;
	const own = lasersIn(kit, evening);
	const others = blocked.filter((one) => !own.some(({ from, until }) => from === one.from && until === one.until));
	const known = withoutLaser(kit, others);
	// A test frame before them exposes too.
	const targets = known.tasks.targets.map((target) =>
		target.at === undefined
			? { ...target, windows: both(target.windows, [{ from: aligned + target.test, until: Number.POSITIVE_INFINITY }]) }
			: target,
	);
	const waiting = eveningOf({ ...known, tasks: { ...known.tasks, targets } });
	const keepsLaser = waiting && lasersIn(kit, waiting).every((use) => !others.some((one) => overlaps(one, use)));
	return waiting && keepsLaser && framesOf(kit, waiting) >= framesOf(kit, evening) ? waiting : evening;
}

/** Frames of the sky that an evening has. */
function framesOf({ evaluation }: Kit, { steps }: Evening): number {
	const planned = (of: number | undefined): number =>
		(of === undefined ? undefined : evaluation?.targets?.value?.[of]?.frameCount) ?? 1;
	return steps.reduce((sum, { kind, of, frames }) => (kind === "sky" ? sum + (frames ?? planned(of)) : sum), 0);
}

const skySteps = ({ evening }: GroupKit): readonly Interval[] =>
	(evening?.steps ?? []).filter(({ kind }) => kind === "sky" || kind === "test-frame");

const exposures = (kits: readonly GroupKit[]): readonly Interval[] =>
	merged(
		kits.flatMap((kit) =>
			(kit.evening?.steps ?? []).filter(({ kind }) => kind === "sky").map(({ from, until }) => ({ from, until })),
		),
	);

function problemsOf(kit: GroupKit, { paced, laser }: Kit, lasers: readonly LaserUse[]): readonly GroupProblem[] {
	const { evening } = kit;
	const steps = evening?.steps ?? [];
	const tracked = steps.some(({ kind, of }) => kind === "sky" && of !== undefined && isTracked(kit, of));
	const lost = evening?.leftOut.some(({ kind }) => kind === "align") ?? false;
	const none = (tracked || lost) && !steps.some(({ kind }) => kind === "align");
	const own = lasers.filter((use) => use.kit === kit);
	const others = lasers.filter((use) => use.kit !== kit);
	const clash = own.some((use) => others.some((other) => overlaps(use, other)));
	const works = paced?.tasks.aligns.some((one, place) => one.works && laser[place]) ?? false;
	const pauses = others.filter((use) => skySteps(kit).some((step) => overlaps(step, use)));
	return [
		...(none || clash ? [{ type: "no-alignment" as const, kit, laser: works }] : []),
		...pauses.map((use) => ({ type: "pause" as const, kit, use })),
	];
}

const isTracked = ({ evaluation }: GroupKit, of: number): boolean => evaluation?.targets?.value?.[of]?.tracked ?? false;
