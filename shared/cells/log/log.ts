/** What the log says: the axis error behind what was measured, and what the tracker's scales are off by night after night. */
import type { AxisVector, Covariance } from "../../alignment/axis-error.ts";
import { type ConstantError, constantError, type Measured } from "../../alignment/constant-error.ts";
import { correctionOf, MEASURED_TO_PIXELS, type MeasuredDrift, measuredDrift } from "../../alignment/drift.ts";
import { axisFromSolved, type SolvedAxis } from "../../alignment/solved-frames.ts";
import type { CalendarDate } from "../../earth/calendar.ts";
import { addDays, type EpochMs, instantOf } from "../../earth/zone.ts";
import type { ScaledPart } from "../../methods/method.ts";
import { type MethodKind, methodOf } from "../../methods/methods.ts";
import { dateText } from "../../notation/clock.ts";
import { pixelScaleArcsec } from "../../optics/camera.ts";
import { hiddenBy } from "../../sky/cover.ts";
import { apparentDirection, findBody } from "../../sky/place.ts";
import { RAD } from "../../sky/vector.ts";
import type { EvaluatedLens } from "../lens/lens.ts";
import { lensNamed } from "../lens/lens-named.ts";
import { dateOfClock, type EvaluatedNight } from "../night/night.ts";
import type { EvaluatedSite } from "../site/site.ts";
import type { TrackerContent } from "../tracker/keys.ts";
import { hasScales } from "../tracker/tracker.ts";
import { isAfter, type Zeros, zerosOn } from "../tracker/zeros.ts";
import { type Determination, determine, type Measurement, type Part } from "./determinations.ts";
import type { LogEntry } from "./keys.ts";

/** Turns of a tracker for one of the sky, by its rate. */
const TURNS = { sidereal: 1, half: 0.5 } as const;

/** Constant errors of the scales that one evening tells, degrees, with the method that had set them. */
export type EveningConstants = Readonly<Partial<Record<ScaledPart, Measured & { readonly method: MethodKind }>>>;

/** The farthest that the evening's measurements put the axis, degrees; or a star that the site hid then. */
export type Doubt =
	| { readonly why: "far-off"; readonly error: number }
	| { readonly why: "star-hidden"; readonly star: string };

/** An axis farther off than this did not come from any method: degrees. Common practice, no source. */
const FAR = 10;

/** Whether no method leaves an axis that far off: its entries are wrong, and nobody is to turn a head by it. */
export const isFarOff = ({ along, across }: AxisVector): boolean => Math.hypot(along, across) > FAR;

export interface LogEvening {
	readonly date: CalendarDate;
	readonly entries: readonly number[];
	/** The axis in the end: what the last of the evening's determinations says. */
	readonly found:
		| { readonly error: AxisVector; readonly spread: AxisVector; readonly covariance: Covariance }
		| undefined;
	/** What a single drift tells, when the entries cannot tell both parts. */
	readonly part: Part | undefined;
	/** Turns of tilt (up) and pan (right, facing the pole) that take the error away, degrees. */
	readonly correction: ReturnType<typeof correctionOf> | undefined;
	/** Why its numbers are not to be trusted: nothing is built on them until that is cleared up. */
	readonly doubt: Doubt | undefined;
	readonly constants: EveningConstants;
}

export interface EvaluatedLog {
	readonly evenings: readonly LogEvening[];
	readonly drifts: readonly (MeasuredDrift | undefined)[];
	readonly solved: readonly (SolvedAxis | undefined)[];
	/** Entries whose star was below the horizon then, with its altitude, degrees: their drifts do not count. */
	readonly below: readonly { readonly entry: number; readonly altitude: number }[];
	/** Entries whose star was hidden then by what the site hides, with its altitude: the drifts count. */
	readonly hidden: readonly { readonly entry: number; readonly altitude: number }[];
	/** Constant errors of the tracker's scales, each from two evenings or more. */
	readonly constant: Readonly<Partial<Record<ScaledPart, ConstantError>>>;
	/** The first evening after those of the log, or that of the tracker's last row where that is later. */
	readonly next: CalendarDate | undefined;
	/** What the steps correct for then. */
	readonly inForce: Zeros;
}

/** What a log says, as far as site and night are known. */
export function evaluateLog(
	entries: readonly LogEntry[] | undefined,
	site: EvaluatedSite | undefined,
	night: EvaluatedNight | undefined,
	tracker: TrackerContent | undefined,
	/** By which the axis was set where an entry does not say. */
	method: MethodKind | undefined,
	lenses: readonly EvaluatedLens[],
): EvaluatedLog | undefined {
	if (!entries || entries.length === 0 || !site || !night) return undefined;
	const dateOf = (entry: LogEntry): CalendarDate => entry.date ?? night.date;
	const at = (entry: LogEntry, clock: number) => instantOf(site.zone, dateOfClock(dateOf(entry), clock), clock);
	const below: { entry: number; altitude: number }[] = [];
	const hidden: { entry: number; altitude: number }[] = [];
	const measurements = entries.map((entry, index): Measurement | undefined => {
		const base = { entry: index, method: entry.method ?? method };
		const solved = solvedOf(entry, site, (clock) => at(entry, clock));
		if (solved) return { ...base, at: solved.at, drift: undefined, solved: solved.axis };
		const drift = entry.at === undefined ? undefined : driftOf(entry, site, tracker, lenses, at(entry, entry.at));
		if (drift && drift.altitude < 0) below.push({ entry: index, altitude: drift.altitude });
		else if (drift?.hidden) hidden.push({ entry: index, altitude: drift.altitude });
		return drift && drift.altitude >= 0
			? { ...base, at: drift.at, drift: drift.measured, solved: undefined }
			: undefined;
	});
	const evenings = groupByDate(entries, dateOf).map(([date, indices]) =>
		eveningOf(
			date,
			indices,
			measurements,
			tracker,
			site.spot.latitude,
			hidden.filter(({ entry }) => indices.includes(entry)).map(({ entry }) => entries[entry]?.star ?? "")[0],
		),
	);
	const next = nextEvening(evenings, tracker);
	return {
		evenings,
		drifts: measurements.map((one) => one?.drift),
		solved: measurements.map((one) => one?.solved),
		below,
		hidden,
		constant: constantsOf(evenings.map(({ constants }) => constants)),
		next,
		inForce: zerosOn(tracker, next ?? night.date),
	};
}

function driftOf(
	entry: LogEntry,
	site: EvaluatedSite,
	tracker: TrackerContent | undefined,
	lenses: readonly EvaluatedLens[],
	at: EpochMs,
):
	| { readonly at: EpochMs; readonly altitude: number; readonly hidden: boolean; readonly measured: MeasuredDrift }
	| undefined {
	const lens = lensNamed(lenses, entry.lens);
	const body = entry.star === undefined ? undefined : findBody(entry.star);
	const { right, up } = entry.drift ?? {};
	if (!lens || !body || !entry.frame || right === undefined || up === undefined) return undefined;
	const scale = pixelScaleArcsec(lens.camera);
	const measured = measuredDrift(body, site.spot, {
		at,
		seconds: entry.frame,
		right: right * scale,
		up: up * scale,
		spread: MEASURED_TO_PIXELS * scale,
		rate: TURNS[tracker?.rate ?? "sidereal"],
	});
	const direction = apparentDirection(body, site.spot, at);
	return { at, altitude: direction.altitude, hidden: hiddenBy(site.cover, direction) !== undefined, measured };
}

function solvedOf(
	entry: LogEntry,
	site: EvaluatedSite,
	at: (clock: number) => EpochMs,
): { readonly at: EpochMs; readonly axis: SolvedAxis } | undefined {
	const [first, second] = (entry.solved ?? []).map((frame) => {
		const { at: clock, "right-ascension": rightAscension, declination, "position-angle": positionAngle } = frame;
		return clock === undefined ||
			rightAscension === undefined ||
			declination === undefined ||
			positionAngle === undefined
			? undefined
			: { at: at(clock), rightAscension, declination, positionAngle };
	});
	const axis = first && second && axisFromSolved(site.spot, first, second);
	return axis && { at: first.at, axis };
}

function groupByDate(
	entries: readonly LogEntry[],
	dateOf: (entry: LogEntry) => CalendarDate,
): readonly (readonly [CalendarDate, readonly number[]])[] {
	const groups = new Map<string, { date: CalendarDate; indices: number[] }>();
	entries.forEach((entry, index) => {
		const date = dateOf(entry);
		const group = groups.get(dateText(date)) ?? { date, indices: [] };
		group.indices.push(index);
		groups.set(dateText(date), group);
	});
	return [...groups.values()].map(({ date, indices }) => [date, indices] as const);
}

function eveningOf(
	date: CalendarDate,
	indices: readonly number[],
	measurements: readonly (Measurement | undefined)[],
	tracker: TrackerContent | undefined,
	latitude: number,
	hiddenStar: string | undefined,
): LogEvening {
	const { all, last, part } = determine(
		latitude,
		indices.flatMap((index) => measurements[index] ?? []),
	);
	const spread = last && {
		along: Math.sqrt(last.covariance.alongAlong),
		across: Math.sqrt(last.covariance.acrossAcross),
	};
	const doubt = doubtOf(all, hiddenStar);
	return {
		date,
		entries: indices,
		found: last && spread && { error: last.error, covariance: last.covariance, spread },
		part,
		correction: last && !isFarOff(last.error) ? correctionOf(latitude, last.error) : undefined,
		doubt,
		constants: hasScales(tracker) && !doubt ? eveningConstants(all, zerosOn(tracker, date), latitude) : {},
	};
}

function doubtOf(all: readonly Determination[], hiddenStar: string | undefined): Doubt | undefined {
	const error = Math.max(0, ...all.map(({ error: { along, across } }) => Math.hypot(along, across)));
	if (error > FAR) return { why: "far-off", error };
	return hiddenStar === undefined ? undefined : { why: "star-hidden", star: hiddenStar };
}

/**
 * What the first determination after a scale was set says of that scale. The steps set the tilt scale to latitude +
 * zero, so that an axis too high by e has a scale that shows zero − e too much; they turn the pan zero too little, so
 * that an axis clockwise by e on the sky has a pan that goes zero + e / cos φ too far.
 */
function eveningConstants(all: readonly Determination[], zeros: Zeros, latitude: number): EveningConstants {
	const cos = Math.max(Math.cos(latitude * RAD), 0.01);
	const firstBy = (part: ScaledPart) => {
		const one = all.find(({ method }) => method !== undefined && methodOf(method).byScale.includes(part));
		return one?.method && { ...one, method: one.method };
	};
	const tilt = firstBy("tilt");
	const pan = firstBy("pan");
	return {
		...(tilt && {
			tilt: {
				value: zeros.tilt - tilt.error.along,
				spread: Math.sqrt(tilt.covariance.alongAlong),
				method: tilt.method,
			},
		}),
		...(pan && {
			pan: {
				value: zeros.pan + pan.error.across / cos,
				spread: Math.sqrt(pan.covariance.acrossAcross) / cos,
				method: pan.method,
			},
		}),
	};
}

/** The constants of evenings together. */
export function constantsOf(evenings: readonly EveningConstants[]): EvaluatedLog["constant"] {
	const tilt = constantError(evenings.flatMap((one) => one.tilt ?? []));
	const pan = constantError(evenings.flatMap((one) => one.pan ?? []));
	return { ...(tilt && { tilt }), ...(pan && { pan }) };
}

/** The evening from which a correction by what was found can hold: no evening of the log is set by it. */
function nextEvening(
	evenings: readonly { readonly date: CalendarDate }[],
	tracker: TrackerContent | undefined,
): CalendarDate | undefined {
	const later = (one: CalendarDate | undefined, other: CalendarDate): CalendarDate =>
		one === undefined || isAfter(other, one) ? other : one;
	const last = evenings.map(({ date }) => date).reduce<CalendarDate | undefined>(later, undefined);
	if (!last) return undefined;
	return (tracker?.zeros ?? []).flatMap(({ since }) => since ?? []).reduce(later, addDays(last, 1));
}
