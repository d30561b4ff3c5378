/**
 * The reckoning: everything a plan implies, cell by cell. Each part is a pure function of the cells it depends on and
 * is remembered by their identity; a number never comes from two places.
 */

import type {
	LensContent,
	LogEntry,
	MethodContent,
	NightContent,
	SiteContent,
	TargetEntry,
	TrackerContent,
} from "../cells/kinds.ts";
import { type EvaluatedLens, evaluateLens, lensValues } from "../cells/lens/lens.ts";
import { type EvaluatedLog, evaluateLog, logValues } from "../cells/log/log.ts";
import { type EvaluatedMethod, evaluateMethod, methodValues, NO_TRACKER, tonightOf } from "../cells/method/method.ts";
import { type EvaluatedNight, evaluateNight, nightValues } from "../cells/night/night.ts";
import { type EvaluatedSite, evaluateSite, fieldOf, sightLandmarks, siteValues } from "../cells/site/site.ts";
import { type EvaluatedTarget, evaluateTarget, placeTarget, targetValues } from "../cells/targets/target.ts";
import type { Value } from "../cells/value.ts";
import type { MagneticField } from "../earth/magnetism.ts";
import type { SightedLandmark, Tonight } from "../methods/method.ts";
import { type Cell, cellsOf, firstValue, type Plan } from "../plan/plan.ts";
import type { Interval } from "../sky/intervals.ts";
import { lazily, remembered, rememberedBy } from "./memo.ts";

/** A part of the reckoning with the cell it belongs to. */
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
	/** The method the targets count on: the first that works tonight, else the first. */
	readonly aligned: EvaluatedMethod | undefined;
	readonly targets: Evaluated<readonly (EvaluatedTarget | undefined)[]> | undefined;
	readonly log: Evaluated<EvaluatedLog> | undefined;
	/** Figures of a cell, reckoned when asked for. */
	readonly valuesOf: (cell: Cell) => readonly Value[];
	readonly windows: readonly { readonly what: string; readonly interval: Interval }[];
}

export type Evaluator = (plan: Plan) => Evaluation;

/** Epoch for a site whose night is not known: the middle of the magnetic model's years. */
const NO_NIGHT = Date.UTC(2027, 6, 1);

/** A reckoner with a memory of its own. Keep one for a document; a plan reckoned once needs no keeping. */
export function createEvaluator(): Evaluator {
	const siteOf = remembered((cell: SiteContent | undefined) => evaluateSite(cell), 4);
	const nightOf = remembered(
		(cell: NightContent | undefined, site: EvaluatedSite | undefined) => evaluateNight(cell, site),
		4,
	);
	const field = remembered(
		(site: EvaluatedSite | undefined, night: EvaluatedNight | undefined) =>
			site && fieldOf(site, night ? middle(night) : NO_NIGHT),
		4,
	);
	const landmarksOf = remembered(
		(site: EvaluatedSite | undefined, magnetic: MagneticField | undefined) =>
			site ? sightLandmarks(site, magnetic) : [],
		4,
	);
	const lensOf = remembered((cell: LensContent | undefined) => evaluateLens(cell), 32);
	const tonightFor = remembered(
		(
			site: EvaluatedSite | undefined,
			night: EvaluatedNight | undefined,
			magnetic: MagneticField | undefined,
			landmarks: readonly SightedLandmark[],
			tracker: TrackerContent | undefined,
			lens: EvaluatedLens | undefined,
		) => site && night && tonightOf(site, night, magnetic, landmarks, tracker ?? NO_TRACKER, lens),
		4,
	);
	const methodOf = remembered(
		(cell: MethodContent | undefined, tonight: Tonight | undefined) => evaluateMethod(cell, tonight),
		32,
	);
	// Where a target stands does not hang on the alignment: an edit of the method leaves it as it is.
	const placeOf = rememberedBy(placeTarget, 2);
	const targetOf = rememberedBy(evaluateTarget, 2);
	const logOf = remembered(
		(
			entries: readonly LogEntry[] | undefined,
			site: EvaluatedSite | undefined,
			night: EvaluatedNight | undefined,
			...lenses: readonly EvaluatedLens[]
		) => evaluateLog(entries, site, night, lenses),
		4,
	);

	return (plan) => {
		const site = siteOf(firstValue(plan, "site"));
		const night = nightOf(firstValue(plan, "night"), site);
		const magnetic = field(site, night);
		const landmarks = landmarksOf(site, magnetic);
		const lenses = cellsOf(plan, "lens").map(
			(cell): Evaluated<EvaluatedLens> => ({ cell, value: lensOf(cell.read.content) }),
		);
		const known = lenses.flatMap(({ value }) => value ?? []);
		const tracker = firstValue(plan, "tracker");
		const tonight = tonightFor(site, night, magnetic, landmarks, tracker, known[0]);
		const methods = cellsOf(plan, "method").map(
			(cell): Evaluated<EvaluatedMethod> => ({ cell, value: methodOf(cell.read.content, tonight) }),
		);
		const aligned = methods.find(({ value }) => value?.works)?.value ?? methods[0]?.value;
		const targetsCell = cellsOf(plan, "targets")[0];
		const lensFor = ({ lens }: TargetEntry) =>
			lens === undefined ? known[0] : known.find(({ name }) => name === lens);
		// Many frames take a while: a hover over the method does not wait for them.
		const targets = lazily(
			() =>
				targetsCell && {
					cell: targetsCell,
					value:
						site &&
						night &&
						targetsCell.read.content?.map((entry, index) => {
							const placed = placeOf(entry, index, site, night, lensFor(entry), tracker, magnetic);
							return placed && targetOf(placed, aligned?.budget.covariance);
						}),
				},
		);
		const logCell = cellsOf(plan, "log")[0];
		const log = lazily(() => logCell && { cell: logCell, value: logOf(logCell.read.content, site, night, ...known) });
		const windows = lazily(() => windowsOf(night, methods, targets()?.value));
		const valuesOf = (cell: Cell): readonly Value[] => {
			switch (cell.read.kind) {
				case "site":
					return site && cell === cellsOf(plan, "site")[0] ? siteValues(site, magnetic, landmarks) : [];
				case "night":
					return night && cell === cellsOf(plan, "night")[0] ? nightValues(night) : [];
				case "lens": {
					const lens = lenses.find((one) => one.cell === cell)?.value;
					return lens ? lensValues(lens) : [];
				}
				case "method": {
					const method = methods.find((one) => one.cell === cell)?.value;
					return method && tonight && night ? methodValues(method, tonight, night.zone) : [];
				}
				case "targets":
					return night && targetsCell === cell
						? (targets()?.value ?? []).flatMap((target) => (target ? targetValues(target, magnetic, night.zone) : []))
						: [];
				case "log": {
					const value = logCell === cell ? log()?.value : undefined;
					return value ? logValues(value) : [];
				}
				default:
					return [];
			}
		};
		return {
			plan,
			site,
			field: magnetic,
			landmarks,
			night,
			lenses,
			tracker,
			tonight,
			methods,
			aligned,
			get targets() {
				return targets();
			},
			get log() {
				return log();
			},
			valuesOf,
			get windows() {
				return windows();
			},
		};
	};
}

/** Reckons a plan once. */
export const evaluate = (plan: Plan): Evaluation => createEvaluator()(plan);

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
			value ? all(`method ${i + 1}: ${value.method.kind}`, value.plan.windows) : [],
		),
		...(targets ?? []).flatMap((target) => (target ? all(`target: ${target.name}`, target.usable) : [])),
	];
}
