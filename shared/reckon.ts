/**
 * The reckoning: everything a plan implies, cell by cell. Each part is a pure function of the cells it depends on and
 * is remembered by their identity; a number never comes from two places.
 */

import type { SightedLandmark, Tonight } from "./alignment/method.ts";
import type { MagneticField } from "./earth/magnetism.ts";
import type { Figure } from "./figure.ts";
import { lazily, remembered, rememberedBy } from "./memo.ts";
import type { LensCell, LogEntry, MethodCell, NightCell, SiteCell, TargetEntry, TrackerCell } from "./plan/cells.ts";
import { type Cell, cellsOf, firstValue, type Plan } from "./plan/plan.ts";
import { type LensReckoning, lensFigures, reckonLens } from "./reckon/lens.ts";
import { type LogReckoning, logFigures, reckonLog } from "./reckon/log.ts";
import { type MethodReckoning, methodFigures, NO_TRACKER, reckonMethod, tonightOf } from "./reckon/method.ts";
import { type NightReckoning, nightFigures, reckonNight } from "./reckon/night.ts";
import { fieldOf, reckonSite, type SiteReckoning, sightLandmarks, siteFigures } from "./reckon/site.ts";
import { placeTarget, reckonTarget, type TargetReckoning, targetFigures } from "./reckon/target.ts";
import type { Interval } from "./sky/intervals.ts";

/** A part of the reckoning with the cell it belongs to. */
export interface Reckoned<T> {
	readonly cell: Cell;
	readonly value: T | undefined;
}

export interface Reckoning {
	readonly plan: Plan;
	readonly site: SiteReckoning | undefined;
	readonly field: MagneticField | undefined;
	readonly landmarks: readonly SightedLandmark[];
	readonly night: NightReckoning | undefined;
	readonly lenses: readonly Reckoned<LensReckoning>[];
	readonly tracker: TrackerCell | undefined;
	readonly tonight: Tonight | undefined;
	/** In the plan's order: the first is the plan, the others are fall-backs. */
	readonly methods: readonly Reckoned<MethodReckoning>[];
	/** The method the targets count on: the first that works tonight, else the first. */
	readonly aligned: MethodReckoning | undefined;
	readonly targets: Reckoned<readonly (TargetReckoning | undefined)[]> | undefined;
	readonly log: Reckoned<LogReckoning> | undefined;
	/** Figures of a cell, reckoned when asked for. */
	readonly figuresOf: (cell: Cell) => readonly Figure[];
	readonly windows: readonly { readonly what: string; readonly interval: Interval }[];
}

export type Reckoner = (plan: Plan) => Reckoning;

/** Epoch for a site whose night is not known: the middle of the magnetic model's years. */
const NO_NIGHT = Date.UTC(2027, 6, 1);

/** A reckoner with a memory of its own. Keep one for a document; a plan reckoned once needs no keeping. */
export function createReckoner(): Reckoner {
	const siteOf = remembered((cell: SiteCell | undefined) => reckonSite(cell), 4);
	const nightOf = remembered(
		(cell: NightCell | undefined, site: SiteReckoning | undefined) => reckonNight(cell, site),
		4,
	);
	const field = remembered(
		(site: SiteReckoning | undefined, night: NightReckoning | undefined) =>
			site && fieldOf(site, night ? middle(night) : NO_NIGHT),
		4,
	);
	const landmarksOf = remembered(
		(site: SiteReckoning | undefined, magnetic: MagneticField | undefined) =>
			site ? sightLandmarks(site, magnetic) : [],
		4,
	);
	const lensOf = remembered((cell: LensCell | undefined) => reckonLens(cell), 32);
	const tonightFor = remembered(
		(
			site: SiteReckoning | undefined,
			night: NightReckoning | undefined,
			magnetic: MagneticField | undefined,
			landmarks: readonly SightedLandmark[],
			tracker: TrackerCell | undefined,
			lens: LensReckoning | undefined,
		) => site && night && tonightOf(site, night, magnetic, landmarks, tracker ?? NO_TRACKER, lens),
		4,
	);
	const methodOf = remembered(
		(cell: MethodCell | undefined, tonight: Tonight | undefined) => reckonMethod(cell, tonight),
		32,
	);
	// Where a target stands does not hang on the alignment: an edit of the method leaves it as it is.
	const placeOf = rememberedBy(placeTarget, 2);
	const targetOf = rememberedBy(reckonTarget, 2);
	const logOf = remembered(
		(
			entries: readonly LogEntry[] | undefined,
			site: SiteReckoning | undefined,
			night: NightReckoning | undefined,
			...lenses: readonly LensReckoning[]
		) => reckonLog(entries, site, night, lenses),
		4,
	);

	return (plan) => {
		const site = siteOf(firstValue(plan, "site"));
		const night = nightOf(firstValue(plan, "night"), site);
		const magnetic = field(site, night);
		const landmarks = landmarksOf(site, magnetic);
		const lenses = cellsOf(plan, "lens").map(
			(cell): Reckoned<LensReckoning> => ({ cell, value: lensOf(cell.read.value) }),
		);
		const known = lenses.flatMap(({ value }) => value ?? []);
		const tracker = firstValue(plan, "tracker");
		const tonight = tonightFor(site, night, magnetic, landmarks, tracker, known[0]);
		const methods = cellsOf(plan, "method").map(
			(cell): Reckoned<MethodReckoning> => ({ cell, value: methodOf(cell.read.value, tonight) }),
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
						targetsCell.read.value?.map((entry, index) => {
							const placed = placeOf(entry, index, site, night, lensFor(entry), tracker, magnetic);
							return placed && targetOf(placed, aligned?.budget.covariance);
						}),
				},
		);
		const logCell = cellsOf(plan, "log")[0];
		const log = lazily(() => logCell && { cell: logCell, value: logOf(logCell.read.value, site, night, ...known) });
		const windows = lazily(() => windowsOf(night, methods, targets()?.value));
		const figuresOf = (cell: Cell): readonly Figure[] => {
			switch (cell.read.kind) {
				case "site":
					return site && cell === cellsOf(plan, "site")[0] ? siteFigures(site, magnetic, landmarks) : [];
				case "night":
					return night && cell === cellsOf(plan, "night")[0] ? nightFigures(night) : [];
				case "lens": {
					const lens = lenses.find((one) => one.cell === cell)?.value;
					return lens ? lensFigures(lens) : [];
				}
				case "method": {
					const method = methods.find((one) => one.cell === cell)?.value;
					return method && tonight && night ? methodFigures(method, tonight, night.zone) : [];
				}
				case "targets":
					return night && targetsCell === cell
						? (targets()?.value ?? []).flatMap((target) => (target ? targetFigures(target, magnetic, night.zone) : []))
						: [];
				case "log": {
					const value = logCell === cell ? log()?.value : undefined;
					return value ? logFigures(value) : [];
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
			figuresOf,
			get windows() {
				return windows();
			},
		};
	};
}

/** Reckons a plan once. */
export const reckon = (plan: Plan): Reckoning => createReckoner()(plan);

const middle = ({ sky }: NightReckoning): number => (sky.span.from + sky.span.until) / 2;

function windowsOf(
	night: NightReckoning | undefined,
	methods: readonly Reckoned<MethodReckoning>[],
	targets: readonly (TargetReckoning | undefined)[] | undefined,
): Reckoning["windows"] {
	if (!night) return [];
	const all = (what: string, list: readonly Interval[]) => list.map((interval) => ({ what, interval }));
	return [
		{ what: "stay", interval: night.stay },
		...all("dark", night.dark),
		...all("dark and moonless", night.moonless),
		...methods.flatMap(({ value }, i) =>
			value ? all(`method ${i + 1}: ${value.method.kind}`, value.plan.windows) : [],
		),
		...(targets ?? []).flatMap((target) => (target ? all(`target: ${target.name}`, target.usable) : [])),
	];
}
