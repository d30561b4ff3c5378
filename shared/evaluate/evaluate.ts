/**
 * The evaluation: everything a plan implies, cell by cell. Each part is a pure function of the cells it depends on, is
 * made when it is asked for, and is remembered by their identity; a number never comes from two places.
 */

import { CELL_KIND_NAMES, CELL_KINDS, type CellKindName } from "../cells/kinds.ts";
import type { LensContent } from "../cells/lens/keys.ts";
import { type EvaluatedLens, evaluateLens } from "../cells/lens/lens.ts";
import { lensNamed } from "../cells/lens/lens-named.ts";
import { lensValues } from "../cells/lens/values.ts";
import type { LogEntry } from "../cells/log/keys.ts";
import { type EvaluatedLog, evaluateLog } from "../cells/log/log.ts";
import { logValues } from "../cells/log/values.ts";
import { type EvaluatedMethod, evaluateMethod, tonightOf } from "../cells/method/method.ts";
import { methodValues } from "../cells/method/values.ts";
import type { NightContent } from "../cells/night/keys.ts";
import { type EvaluatedNight, evaluateNight } from "../cells/night/night.ts";
import { nightValues } from "../cells/night/values.ts";
import type { SiteContent } from "../cells/site/keys.ts";
import { type EvaluatedSite, evaluateSite, fieldOf, sightLandmarks } from "../cells/site/site.ts";
import { siteValues } from "../cells/site/values.ts";
import { clockOfEntry, compositionOf } from "../cells/targets/composition.ts";
import type { TargetEntry } from "../cells/targets/keys.ts";
import { groundPanels } from "../cells/targets/panorama.ts";
import {
	type AloneTarget,
	type EvaluatedTarget,
	evaluateTarget,
	isTracked,
	numberedTarget,
	type PlacedTarget,
	placeTarget,
	usesCompass,
} from "../cells/targets/target.ts";
import { targetValues } from "../cells/targets/values.ts";
import { driveOf, rateOf } from "../cells/tracker/drive.ts";
import type { TrackerContent } from "../cells/tracker/keys.ts";
import { trackerValues } from "../cells/tracker/values.ts";
import type { MagneticField } from "../earth/magnetism.ts";
import { type EpochMs, minuteUp, wallClock } from "../earth/zone.ts";
import { lazily, rememberedBy, Turns } from "../memory/memory.ts";
import type { MethodContent, MethodKind } from "../methods/methods.ts";
import { type SightedLandmark, type Tonight, withDue } from "../methods/tonight.ts";
import { isErrorAngle } from "../notation/angle.ts";
import type { Value } from "../notation/value.ts";
import { type Cell, cellsOf, firstValue, isGroup, isLibrary, type Plan } from "../plan/plan.ts";
import type { GroupMember } from "../plan/reuse.ts";
import { isPickedByName } from "../plan/skeleton.ts";
import type { Interval } from "../sky/intervals.ts";
import type { AlignmentLost } from "./evening/lost.ts";
import { eveningOf, leadAfterAlignment, type PlanTasks, readyAt, tasksOf } from "./evening/of-plan.ts";
import type { Evening, EveningStep } from "./evening/tasks.ts";
import { GROUP_PACE, type GroupEvening, groupEvening, type OfGroup } from "./group.ts";

/** A part of the evaluation with the cell it belongs to. */
export interface Evaluated<T> {
	readonly cell: Cell;
	readonly value: T | undefined;
}

export interface Evaluation {
	readonly plan: Plan;
	readonly site: EvaluatedSite | undefined;
	readonly field: MagneticField | undefined;
	readonly landmarks: readonly SightedLandmark[];
	readonly night: EvaluatedNight | undefined;
	readonly lenses: readonly Evaluated<EvaluatedLens>[];
	readonly tracker: TrackerContent | undefined;
	readonly tonight: Tonight | undefined;
	/** In the plan's order: the first is the plan, the others are fall-backs. */
	readonly methods: readonly Evaluated<EvaluatedMethod>[];
	/** What the evening is made of, before it is in order. */
	readonly tasks: PlanTasks | undefined;
	/** The evening of several kits; undefined for a plan of one. */
	readonly group: GroupEvening | undefined;
	/** The group that this is a kit's part of; undefined for a plan by itself. */
	readonly ofGroup?: OfGroup;
	/** The evening in order; undefined without a night, or with nothing to do. */
	readonly evening: Evening | undefined;
	/** How an alignment that is lost is done again, where that does not follow from the plan alone; see `alignmentsLost`. */
	readonly alignmentLost?: readonly AlignmentLost[];
	/** The method the targets count on: the one that aligns in the evening, else the first that works tonight, else the first. */
	readonly aligned: EvaluatedMethod | undefined;
	/** The method that leaves the axis as the first tracked frames have it: one that corrects it before them, else `aligned`. */
	readonly axis: EvaluatedMethod | undefined;
	/** Where the targets stand and when they can be taken, whatever the alignment and the order of the evening. */
	readonly placed: Evaluated<readonly (PlacedTarget | undefined)[]> | undefined;
	readonly targets: Evaluated<readonly (EvaluatedTarget | undefined)[]> | undefined;
	readonly log: Evaluated<EvaluatedLog> | undefined;
	/** Values of a cell; for a path to a target or into one, those of that target alone. */
	readonly valuesOf: (cell: Cell, path?: string) => readonly Value[];
	readonly windows: readonly { readonly what: string; readonly interval: Interval }[];
	/** Of a library with several sites (or trackers): each further one in place of the first. */
	readonly further: readonly Further[];
	/** What follows from the plan on an evening whose order is given: its alignment, its times, its trails. */
	readonly inEvening: (evening: Evening) => Evaluation;
	/** Another form of the plan, as a fix would leave it: only what is not the same in it is computed. */
	readonly instead: (plan: Plan) => Evaluation;
	/** The evaluation in which a cell counts: for a further one of a library that of its own. */
	readonly inPlaceOf: (cell: Cell) => Evaluation;
}

/** A cell that only those who take it give a place in a plan, and what follows where it has it. */
export interface Further {
	readonly cell: Cell;
	readonly evaluation: Evaluation;
}

export type Evaluator = (plan: Plan) => Evaluation;

/** Kinds of which a library may have several where a plan has one. */
const PICKED = CELL_KIND_NAMES.filter((kind) => !CELL_KINDS[kind].many && isPickedByName(kind));

/** Epoch for a site whose night is not known: the middle of the magnetic model's years. */
const NO_NIGHT = Date.UTC(2027, 6, 1);

/** An evaluator with a memory of its own. Keep one for a document; a plan evaluated once needs no keeping. */
export function createEvaluator(): Evaluator {
	const turns = new Turns();
	const siteOf = turns.remembered((content: SiteContent | undefined) => evaluateSite(content));
	const nightOf = turns.remembered((content: NightContent | undefined, site: EvaluatedSite | undefined) =>
		evaluateNight(content, site),
	);
	const field = turns.remembered(
		(site: EvaluatedSite | undefined, night: EvaluatedNight | undefined) =>
			site && fieldOf(site, night ? middle(night) : NO_NIGHT),
	);
	const landmarksOf = turns.remembered((site: EvaluatedSite | undefined, magnetic: MagneticField | undefined) =>
		site ? sightLandmarks(site, magnetic) : [],
	);
	const lensOf = turns.remembered((content: LensContent | undefined) => evaluateLens(content));
	const tonightFor = turns.remembered(
		(
			site: EvaluatedSite | undefined,
			night: EvaluatedNight | undefined,
			tracker: TrackerContent | undefined,
			lens: EvaluatedLens | undefined,
			pace: number,
		) => {
			if (!site || !night) return undefined;
			const own = { ready: readyAt(night, pace), pace };
			const magnetic = lazily(() => field(site, night));
			return tonightOf(site, night, magnetic, () => landmarksOf(site, magnetic()), tracker, lens, own);
		},
	);
	const dueAt = turns.remembered(
		(tonight: Tonight | undefined, due: EpochMs | undefined) => tonight && withDue(tonight, due),
	);
	const methodOf = turns.remembered((content: MethodContent | undefined, tonight: Tonight | undefined) =>
		evaluateMethod(content, tonight),
	);
	const methodAt = turns.remembered(
		(content: MethodContent | undefined, tonight: Tonight | undefined, at: EpochMs) =>
			content &&
			tonight &&
			evaluateMethod({ ...content, at: wallClock(tonight.zone, at).secondsOfDay } as MethodContent, tonight),
	);
	const driveFor = turns.remembered(driveOf);
	// Where a target stands does not depend on the alignment: an edit of the method, or of a scale, leaves it as it is.
	const placeOf = rememberedBy(placeTarget, 1);
	const placeAgain = rememberedBy(placeTarget, 1);
	const targetOf = rememberedBy(evaluateTarget, 1);
	const placedAt = rememberedBy(doneWithin, 1);
	const numbered = createNumbering();
	const valuesOfTarget = rememberedBy(targetValues, 1);
	const logOf = turns.remembered(
		(
			entries: readonly LogEntry[] | undefined,
			site: EvaluatedSite | undefined,
			night: EvaluatedNight | undefined,
			tracker: TrackerContent | undefined,
			method: MethodKind | undefined,
			...lenses: readonly EvaluatedLens[]
		) => evaluateLog(entries, site, night, tracker, method, lenses),
	);

	/** Each kit of a group has an evaluator of its own; one whose plan stays as it is stays evaluated. */
	const kits: Evaluator[] = [];
	const kitPlans: (Evaluation | undefined)[] = [];
	let together: { readonly members: readonly GroupMember[]; readonly evening: GroupEvening } | undefined;
	const kitOf = (member: GroupMember, place: number): Evaluation | undefined => {
		kits[place] ??= createEvaluator();
		const last = kitPlans[place];
		if (last && member.plan && isSamePlan(last.plan, member.plan)) return last;
		kitPlans[place] = member.plan && kits[place](member.plan);
		return kitPlans[place];
	};
	const groupOf = (members: readonly GroupMember[]): GroupEvening => {
		const evaluated = members.map(kitOf);
		const last = together;
		const same =
			last?.members.length === members.length &&
			members.every((member, place) => isSameMember(member, last.members[place])) &&
			last.evening.kits.every(({ evaluation }, place) => evaluation === evaluated[place]);
		if (last && same) return last.evening;
		const evening = groupEvening(members, (_, place) => evaluated[place]);
		together = { members, evening };
		return evening;
	};
	/** So has each further site of a library. */
	const others: Evaluator[] = [];

	/** `given`: the order of the evening where that is not the plan's own to find. */
	const evaluated = (plan: Plan, given?: Evening): Evaluation => {
		const site = siteOf(firstValue(plan, "site"));
		const night = nightOf(firstValue(plan, "night"), site);
		const magnetic = lazily(() => field(site, night));
		const landmarks = lazily(() => landmarksOf(site, magnetic()));
		const lenses = cellsOf(plan, "lens").map(
			(cell): Evaluated<EvaluatedLens> => ({ cell, value: lensOf(cell.read.content) }),
		);
		const known = lenses.flatMap(({ value }) => value ?? []);
		const tracker = firstValue(plan, "tracker");
		const { amplitude, period } = tracker?.["periodic-error"] ?? {};
		const drive = driveFor(rateOf(tracker), amplitude, period);
		const targetsCell = cellsOf(plan, "targets")[0];
		// Many frames take a while: a hover over the method does not wait for them.
		const placeWith = (
			place: typeof placeTarget,
			entry: TargetEntry,
			start?: EpochMs,
			end?: EpochMs,
		): PlacedTarget | undefined =>
			site &&
			night &&
			place(
				entry,
				site,
				night,
				lensNamed(known, entry.lens),
				drive,
				usesCompass(entry) ? magnetic() : undefined,
				start,
				end,
			);
		const entries = targetsCell?.read.content;
		const placed = lazily(
			() =>
				targetsCell && {
					cell: targetsCell,
					value: site && night && entries?.map((entry: TargetEntry) => placeWith(placeOf, entry)),
				},
		);
		const tonight = dueAt(
			tonightFor(site, night, tracker, known[0], isGroup(plan) ? GROUP_PACE : 1),
			night && alignmentDue(plan, night, placed, (name) => lensNamed(known, name)),
		);
		const unplaced = lazily(() =>
			cellsOf(plan, "method").map(
				(cell): Evaluated<EvaluatedMethod> => ({ cell, value: methodOf(cell.read.content, tonight) }),
			),
		);
		const ordered = lazily(() => {
			if (!night || !tonight) return undefined;
			const methods = unplaced().map(({ value }) => value);
			let sized = placed()?.value ?? [];
			// How many panels show the arch depends on when they begin: they are counted anew, at last only more of them.
			for (let tried = 0; ; tried++) {
				const tasks = tasksOf(night, tracker, methods, sized);
				const evening = given ?? eveningOf(tasks);
				const again = sized.map((one, index) => {
					const entry = entries?.[index];
					const step = evening?.steps.find(({ kind, of }) => kind === "sky" && of === index);
					if (!one?.panorama || one.timed || !entry || !step || step.from === one.series.from) return one;
					const then = placeWith(placeAgain, entry, step.from);
					const [before, after] = [panelsOf(one), panelsOf(then)];
					return tried === 0 ? (before === after ? one : then) : after > before ? then : one;
				});
				if (tried === MOST_COUNTED || again.every((one, index) => one === sized[index])) return { tasks, evening };
				sized = again;
			}
		});
		const evening = lazily(() => given ?? ordered()?.evening);
		// A method whose time the plan leaves open has the one that the evening finds for it.
		const methods = lazily(() => {
			const alone = unplaced();
			const isOpen = ({ setUp }: EvaluatedMethod): boolean => setUp.free === true || setUp.at === undefined;
			if (!alone.some(({ value }) => value && isOpen(value))) return alone;
			return alone.map((one, place): Evaluated<EvaluatedMethod> => {
				const { setUp, begins, content } = one.value ?? {};
				const step = evening()?.steps.find(({ kind, of }) => kind === "align" && of === place);
				if (one.value && setUp?.at === undefined && step)
					return { ...one, value: placedAt(one.value, step.from, step.until) };
				if (!setUp?.free || setUp.at === undefined || begins === undefined || !step) return one;
				return { ...one, value: methodAt(content, tonight, minuteUp(step.from + setUp.at - begins)) };
			});
		});
		const group = lazily(() => plan.group && groupOf(plan.group));
		const aligned = lazily(() => {
			const place = evening()?.aligned;
			return (
				(place === undefined ? undefined : methods()[place]?.value) ??
				methods().find(({ value }) => value?.works)?.value ??
				methods()[0]?.value
			);
		});
		const axis = lazily(() => methods()[evening()?.corrected ?? -1]?.value ?? aligned());
		// A target without a time of its own begins when the evening has time for it, and has the frames that fit.
		const begun = (): readonly (PlacedTarget | undefined)[] | undefined => {
			const steps = new Map<number, EveningStep>();
			for (const step of evening()?.steps ?? [])
				if (step.kind === "sky" && step.of !== undefined) steps.set(step.of, step);
			return placed()?.value?.map((one, index) => {
				const { from, until, frames } = steps.get(index) ?? {};
				const entry = entries?.[index];
				if (!one || !entry || one.timed || from === undefined) return one;
				const end = frames === undefined ? undefined : until;
				return from === one.series.from && end === undefined ? one : placeWith(placeAgain, entry, from, end);
			});
		};
		const targets = lazily(() => {
			const places = placed();
			if (!places) return undefined;
			const { budget, works } = axis() ?? {};
			// Where nothing aligns, or the axis may point in any direction, nothing can be said of trails that follow from it.
			const spread = works && budget && isErrorAngle(budget.radius95) ? budget : undefined;
			return {
				cell: places.cell,
				value: numbered(begun()?.map((one) => one && targetOf(one, spread))),
			};
		});
		const logCell = cellsOf(plan, "log")[0];
		const log = lazily(
			() =>
				logCell && {
					cell: logCell,
					value: logOf(
						logCell.read.content,
						site,
						night,
						tracker,
						cellsOf(plan, "method")[0]?.read.content?.kind,
						...known,
					),
				},
		);
		const further = lazily(() =>
			furtherPlans(plan).map(({ cell, alone }, place): Further => {
				others[place] ??= createEvaluator();
				return { cell, evaluation: others[place](alone) };
			}),
		);
		const windows = lazily(() => windowsOf(night, methods(), targets()?.value));
		const valuesOf = (cell: Cell, path = ""): readonly Value[] => {
			switch (cell.read.kind) {
				case "site":
					return site && cell === cellsOf(plan, "site")[0] ? siteValues(site, magnetic(), landmarks()) : [];
				case "night":
					return night && cell === cellsOf(plan, "night")[0] ? nightValues(night) : [];
				case "lens": {
					const lens = lenses.find((one) => one.cell === cell)?.value;
					return lens ? lensValues(lens) : [];
				}
				case "tracker":
					return tracker && cell === cellsOf(plan, "tracker")[0]
						? trackerValues(tracker, drive, known, night?.date)
						: [];
				case "method": {
					const method = methods().find((one) => one.cell === cell)?.value;
					return method && tonight ? methodValues(method, tonight) : [];
				}
				case "targets":
					if (!night || targetsCell !== cell) return [];
					return (path === "" ? (targets()?.value ?? []) : [targets()?.value?.[Number.parseInt(path, 10)]]).flatMap(
						(target) => (target ? valuesOfTarget(target, magnetic(), night) : []),
					);
				case "log": {
					const value = logCell === cell ? log()?.value : undefined;
					return value ? logValues(value) : [];
				}
				default:
					return [];
			}
		};
		const evaluation: Evaluation = {
			plan,
			site,
			get field() {
				return magnetic();
			},
			get landmarks() {
				return landmarks();
			},
			night,
			lenses,
			tracker,
			tonight,
			get methods() {
				return methods();
			},
			get tasks() {
				return ordered()?.tasks;
			},
			get group() {
				return group();
			},
			get evening() {
				return evening();
			},
			get aligned() {
				return aligned();
			},
			get axis() {
				return axis();
			},
			get placed() {
				return placed();
			},
			get targets() {
				return targets();
			},
			get log() {
				return log();
			},
			valuesOf: (cell, path) => {
				const own = evaluation.inPlaceOf(cell);
				return own === evaluation ? valuesOf(cell, path) : own.valuesOf(cell, path);
			},
			get windows() {
				return windows();
			},
			get further() {
				return further();
			},
			inPlaceOf: (cell) => further().find((one) => one.cell === cell)?.evaluation ?? evaluation,
			inEvening: (other) => evaluated(plan, other),
			instead: (other) => evaluated(other),
		};
		return evaluation;
	};
	return (plan) => {
		turns.next();
		return evaluated(plan);
	};
}

/** How often panels are counted anew at the most: each time there are more of them, or it ends. */
const MOST_COUNTED = 4;

/** How many panels a target has, with those of the ground under it. */
const panelsOf = (target: PlacedTarget | undefined): number =>
	target?.panorama ? target.panorama.panels.length + groundPanels(target.panorama) : 0;

/** Whether a kit's plan on a group's site and night says the same: where these stand in the group's text is of no matter. */
const isSamePlan = (one: Plan, other: Plan): boolean =>
	one.text === other.text &&
	one.path === other.path &&
	one.settings === other.settings &&
	one.cells.length === other.cells.length &&
	one.cells.every(({ read }, place) => isSameCell(read, other.cells[place]?.read));

/** What the group's plan is called says nothing of a kit. */
function isSameCell(one: Cell["read"], other: Cell["read"] | undefined): boolean {
	if (one === other) return true;
	if (one.kind !== "plan" || other?.kind !== "plan" || !one.content || !other.content) return false;
	return one.content.kind === other.content.kind && one.content.format === other.content.format;
}

const isSameMember = (one: GroupMember, other: GroupMember | undefined): boolean =>
	one.name === other?.name &&
	one.leads === other.leads &&
	one.from === other.from &&
	one.missing === other.missing &&
	one.declination === other.declination;

const NO_PLANS: readonly { readonly cell: Cell; readonly alone: Plan }[] = [];

/** What follows from a site or a tracker alone, and the night it is used in: no frames and no alignment. */
const BESIDE: readonly (CellKindName | undefined)[] = ["plan", "settings", "night"];

/** A library with one of its further sites, or trackers, in place of the first. */
function furtherPlans(plan: Plan): typeof NO_PLANS {
	if (!isLibrary(plan)) return NO_PLANS;
	return PICKED.flatMap((kind) => {
		const [, ...others] = cellsOf(plan, kind);
		return others.map((cell) => ({
			cell,
			alone: { ...plan, cells: plan.cells.filter((one) => one === cell || BESIDE.includes(one.read.kind)) },
		}));
	});
}

/** Gives targets their places in the list; one that keeps its place stays the same object. */
function createNumbering() {
	let before: readonly ({ readonly alone: AloneTarget; readonly target: EvaluatedTarget } | undefined)[] = [];
	return (
		targets: readonly (AloneTarget | undefined)[] | undefined,
	): readonly (EvaluatedTarget | undefined)[] | undefined => {
		if (!targets) return undefined;
		before = targets.map((alone, index) => {
			const known = before[index];
			return known?.alone === alone ? known : alone && { alone, target: numberedTarget(alone, index) };
		});
		return before.map((one) => one?.target);
	};
}

/** Evaluates a plan once. */
export const evaluate = (plan: Plan): Evaluation => createEvaluator()(plan);

/**
 * When an alignment should be done: the first tracked frame that the plan gives a time, less what comes before it. Targets
 * are placed only where a composition says when.
 */
function alignmentDue(
	plan: Plan,
	night: EvaluatedNight,
	placed: () => Evaluation["placed"],
	lensOf: (name: string | undefined) => EvaluatedLens | undefined,
): EpochMs | undefined {
	let due: EpochMs | undefined;
	for (const [index, entry] of (cellsOf(plan, "targets")[0]?.read.content ?? []).entries()) {
		if (!isTracked(entry)) continue;
		const clock = clockOfEntry(entry);
		const composed = compositionOf(entry) && placed()?.value?.[index];
		const at = clock === undefined ? (composed?.timed ? composed.series.from : undefined) : night.instant(clock);
		if (at === undefined) continue;
		const by = at - leadAfterAlignment(entry, lensOf(entry.lens));
		if (due === undefined || by < due) due = by;
	}
	return due;
}

/** A method that can be done at any time, when the evening does it. */
const doneWithin = (value: EvaluatedMethod, begins: EpochMs, done: EpochMs): EvaluatedMethod => ({
	...value,
	begins,
	done,
});

const middle = ({ sky }: EvaluatedNight): number => (sky.span.from + sky.span.until) / 2;

function windowsOf(
	night: EvaluatedNight | undefined,
	methods: readonly Evaluated<EvaluatedMethod>[],
	targets: readonly (EvaluatedTarget | undefined)[] | undefined,
): Evaluation["windows"] {
	if (!night) return [];
	const all = (what: string, list: readonly Interval[]) => list.map((interval) => ({ what, interval }));
	return [
		{ what: "stay", interval: night.onSite },
		...all("dark", night.dark),
		...all("dark and moonless", night.moonless),
		...methods.flatMap(({ value }, i) =>
			value ? all(`method ${i + 1}: ${value.method.kind}`, value.setUp.windows) : [],
		),
		...(targets ?? []).flatMap((target) => (target ? all(`target: ${target.name}`, target.usable) : [])),
	];
}
