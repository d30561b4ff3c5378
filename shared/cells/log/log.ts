/** What the log says: the axis error behind measured drifts, and what the tracker's scales are off by night after night. */
import type { AxisVector, Covariance } from "../../alignment/axis-error.ts";
import {
	axisFromDrifts,
	correctionOf,
	type MeasuredDrift,
	partFromDrift,
	toDeclination,
} from "../../alignment/drift.ts";
import { axisFromSolved, type SolvedAxis } from "../../alignment/solved-frames.ts";
import type { CalendarDate } from "../../earth/calendar.ts";
import { instantOf } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { dateText } from "../../notation/date.ts";
import { pixelScaleArcsec } from "../../optics/camera.ts";
import { equatorialPlace, findBody } from "../../sky/place.ts";
import { RAD } from "../../sky/vector.ts";
import type { LogEntry } from "../kinds.ts";
import type { EvaluatedLens } from "../lens/lens.ts";
import { dateOfClock, type EvaluatedNight } from "../night/night.ts";
import type { EvaluatedSite } from "../site/site.ts";
import { angleValue, textValue, type Value } from "../value.ts";

/** A drift is measured to this, pixels: common practice, no source. */
const MEASURED_TO = 0.7;

export interface LogEvening {
	readonly date: CalendarDate;
	readonly entries: readonly number[];
	readonly found:
		| { readonly error: AxisVector; readonly spread: AxisVector; readonly covariance: Covariance }
		| undefined;
	/** What a single drift tells, when the entries cannot tell both parts. */
	readonly part: ReturnType<typeof partFromDrift> | undefined;
	readonly correction: string | undefined;
}

export interface EvaluatedLog {
	readonly evenings: readonly LogEvening[];
	readonly drifts: readonly (MeasuredDrift | undefined)[];
	readonly solved: readonly (SolvedAxis | undefined)[];
	/** Constant errors of the tracker's scales from two evenings or more, degrees, with their spread. */
	readonly constant:
		| {
				readonly tiltZero: number;
				readonly tiltSpread: number;
				readonly panZero: number;
				readonly panSpread: number;
				readonly evenings: number;
		  }
		| undefined;
}

export function evaluateLog(
	entries: readonly LogEntry[] | undefined,
	site: EvaluatedSite | undefined,
	night: EvaluatedNight | undefined,
	lenses: readonly EvaluatedLens[],
): EvaluatedLog | undefined {
	if (!entries || entries.length === 0 || !site || !night) return undefined;
	const dateOf = (entry: LogEntry): CalendarDate => entry.date ?? night.date;
	const at = (entry: LogEntry, clock: number) => instantOf(site.zone, dateOfClock(dateOf(entry), clock), clock);
	const drifts = entries.map((entry): MeasuredDrift | undefined => {
		const lens = lenses.find(({ name }) => name === entry.lens) ?? lenses[0];
		const body = entry.star === undefined ? undefined : findBody(entry.star);
		const { right, up } = entry.drift ?? {};
		if (!lens || !body || entry.at === undefined || !entry.frame || right === undefined || up === undefined)
			return undefined;
		const scale = pixelScaleArcsec(lens.camera);
		const instant = at(entry, entry.at);
		const { north } = toDeclination(body, site.spot, instant, right * scale, up * scale);
		return {
			hourAngle: equatorialPlace(body, site.spot, instant).hourAngle,
			rate: north / entry.frame,
			spread: (MEASURED_TO * scale) / entry.frame,
		};
	});
	const solved = entries.map((entry): SolvedAxis | undefined => {
		const frames = (entry.solved ?? []).map((frame) => {
			const { at: clock, "right-ascension": rightAscension, declination, "position-angle": positionAngle } = frame;
			if (
				clock === undefined ||
				rightAscension === undefined ||
				declination === undefined ||
				positionAngle === undefined
			)
				return undefined;
			return { at: at(entry, clock), rightAscension, declination, positionAngle };
		});
		const [first, second] = frames;
		return first && second ? axisFromSolved(site.spot, first, second) : undefined;
	});
	const evenings = groupByDate(entries, dateOf).map(([date, indices]) =>
		eveningOf(date, indices, drifts, solved, site.spot.latitude),
	);
	return { evenings, drifts, solved, constant: constantOf(evenings, site.spot.latitude) };
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
	drifts: readonly (MeasuredDrift | undefined)[],
	solved: readonly (SolvedAxis | undefined)[],
	latitude: number,
): LogEvening {
	const measured = indices.flatMap((index) => drifts[index] ?? []);
	const frames = indices.map((index) => solved[index]).find((one) => one !== undefined);
	const fitted = axisFromDrifts(latitude, measured);
	const found =
		fitted ??
		(frames && {
			error: frames.error,
			covariance: { alongAlong: frames.spread ** 2, alongAcross: 0, acrossAcross: frames.spread ** 2 },
		});
	const spread = found && {
		along: Math.sqrt(found.covariance.alongAlong),
		across: Math.sqrt(found.covariance.acrossAcross),
	};
	const [single] = measured;
	return {
		date,
		entries: indices,
		found: found && spread && { ...found, spread },
		part: !found && single ? partFromDrift(latitude, single) : undefined,
		correction: found && spread && correctionOf(latitude, found.error, spread),
	};
}

/** The mean of the evenings' axis errors with the spread of the mean: least squares for a constant. */
function constantOf(evenings: readonly LogEvening[], latitude: number): EvaluatedLog["constant"] {
	const found = evenings.flatMap((evening) => evening.found ?? []);
	if (found.length < 2) return undefined;
	const cos = Math.max(Math.cos(latitude * RAD), 0.01);
	const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
	const spreadOfMean = (values: readonly number[]) => {
		const middle = mean(values);
		return Math.sqrt(
			values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1) / values.length,
		);
	};
	const tilts = found.map(({ error }) => error.along);
	const pans = found.map(({ error }) => error.across / cos);
	// An axis that ends up too high has a scale that shows too little: what the scale shows less the true tilt is minus the error.
	return {
		tiltZero: -mean(tilts),
		tiltSpread: spreadOfMean(tilts),
		panZero: mean(pans),
		panSpread: spreadOfMean(pans),
		evenings: found.length,
	};
}

/** Figures of a log: axis errors by evening, degrees, and what all evenings have in common. */
export function logValues(log: EvaluatedLog): readonly Value[] {
	const values: Value[] = [];
	for (const { date, entries, found, part, correction } of log.evenings) {
		const of = dateText(date);
		const at = entries.flatMap((index) => [
			`${index}`,
			`${index}.drift`,
			`${index}.star`,
			`${index}.solved`,
			`${index}.at`,
		]);
		if (found) {
			values.push(
				angleValue(
					{
						id: "log.axis-error-along",
						of,
						label: "Axis too high by",
						how: "From the evening's drifts or solved frames; too low negative.",
						plusMinus: found.spread.along,
						at,
					},
					found.error.along,
					2,
				),
				angleValue(
					{
						id: "log.axis-error-across",
						of,
						label: "Axis clockwise of the pole by",
						how: "On the sky, from the evening's drifts or solved frames.",
						plusMinus: found.spread.across,
						at,
					},
					found.error.across,
					2,
				),
				textValue({ id: "log.correction", of, label: "Correct by", how: "Facing the pole.", at }, correction ?? ""),
			);
		} else if (part) {
			values.push(
				angleValue(
					{
						id: "log.axis-error-part",
						of,
						label: "Part of the axis error that shows",
						how: `Toward (along ${part.direction.along.toFixed(2)}, across ${part.direction.across.toFixed(2)}). One drift cannot tell the other part: measure a star six hours of hour angle away.`,
						plusMinus: part.spread,
						at,
					},
					part.size,
					2,
				),
			);
		}
	}
	if (log.constant) {
		const { tiltZero, tiltSpread, panZero, panSpread, evenings } = log.constant;
		const how = `Mean of ${evenings} evenings, ± the spread of the mean.`;
		values.push(
			angleValue(
				{
					id: "log.tilt-zero",
					label: "Tilt scale shows too much by",
					how: `${how} Write it to the tracker as tilt-zero.`,
					plusMinus: tiltSpread,
					at: [""],
				},
				tiltZero,
				2,
			),
			angleValue(
				{
					id: "log.pan-zero",
					label: "Bearing set too far clockwise by",
					how: `${how} Write it to the tracker as pan-zero.`,
					plusMinus: panSpread,
					at: [""],
				},
				panZero,
				2,
			),
			textValue(
				{ id: "log.tracker-correction", label: "For the tracker's cell", how },
				`tilt-zero: ${degrees(tiltZero, 2)}, pan-zero: ${degrees(panZero, 2)}`,
			),
		);
	}
	return values;
}
