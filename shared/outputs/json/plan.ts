/** Everything that follows from a plan, as other programs get it. */

import type { MinuteRow } from "../../cells/minute-table.ts";
import { isoText } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { alignmentsLost } from "../../evaluate/evening/lost.ts";
import type { EveningStep } from "../../evaluate/evening/tasks.ts";
import { stepOwner } from "../../evaluate/evening/words.ts";
import { inGroup, lookoutOf } from "../../evaluate/group.ts";
import type { Step } from "../../methods/method.ts";
import { isErrorAngle } from "../../notation/angle.ts";
import { dateText } from "../../notation/date.ts";
import type { Value } from "../../notation/value.ts";
import { cellName, firstValue } from "../../plan/plan.ts";
import type { Interval } from "../../sky/intervals.ts";
import { turn } from "../../sky/vector.ts";
import { Lines } from "../../text/lines.ts";
import { told } from "../../text/sentence.ts";
import { cautionsFor } from "../cautions.ts";
import { fallbacksOf } from "../evening.ts";
import { insteadOf } from "../instead.ts";
import { marksThen, numbersThen } from "../lost.ts";
import { minuteRowsOf } from "../minutes.ts";
import type { CheckedPlan } from "../output.ts";
import { findingRecords } from "./finding-record.ts";

export function planRecord({ text, evaluation, findings }: CheckedPlan) {
	const { plan, night, windows, methods, targets } = evaluation;
	const lines = new Lines(text);
	const zone = night?.zone ?? "UTC";
	const span = ({ from, until }: Interval) => ({ from: isoText(zone, from), until: isoText(zone, until) });
	return {
		plan: {
			title: firstValue(plan, "plan")?.title ?? null,
			date: night ? dateText(night.date) : null,
			timezone: night?.zone ?? null,
		},
		cells: plan.cells.map((cell) => ({
			kind: cell.read.kind ?? null,
			name: cellName(plan, cell),
			line: lines.at(cell.start + (cell.read.places.get("")?.key?.from ?? 0)).line + 1,
			figures: evaluation.valuesOf(cell).map(valueRecord),
		})),
		...eveningRecord(evaluation),
		methods: methods.flatMap(({ value }) =>
			value
				? [
						{
							kind: value.method.kind,
							needs: told(value.needs),
							works: value.works,
							windows: value.setUp.windows.map(span),
							steps: stepRecords(value.steps(), zone),
							minutes: minuteRecords(value.minutes(), zone),
							bias: { along: errorOrNull(value.budget.bias.along), across: errorOrNull(value.budget.bias.across) },
							budget: value.budget.shares.map(({ name, spread, unit, origin, along, across, total, part }) => ({
								name,
								spread,
								unit,
								origin,
								along: errorOrNull(along),
								across: errorOrNull(across),
								total: errorOrNull(total),
								part: Number.isFinite(part) ? part : null,
							})),
						},
					]
				: [],
		),
		targets: (targets ? minuteRowsOf(evaluation, targets.cell) : []).map(({ of, rows }) => ({
			name: of ?? null,
			minutes: minuteRecords(rows, zone),
		})),
		panoramas: panoramaRecords(evaluation),
		windows: windows.map(({ what, interval }) => ({ what, ...span(interval) })),
		cautions: cautionsFor(evaluation),
		findings: findingRecords(text, findings),
	};
}

/** Panoramas with their panels: as they are taken, those of a foreground as they are laid out. Degrees, seconds, pixels. */
function panoramaRecords({ targets, night, field }: Evaluation) {
	const zone = night?.zone ?? "UTC";
	const compass = (azimuth: number) => (field ? turn(azimuth - field.declination) : null);
	return (targets?.value ?? []).flatMap((target) => {
		const { panorama } = target ?? {};
		if (!target || !panorama) return [];
		const { least, gaps, rowGaps, shortSides } = panorama.coverage();
		const ground = panorama.ground();
		return [
			{
				name: target.name,
				columns: panorama.columns,
				rows: panorama.rows.length,
				frames: panorama.frames,
				seconds: panorama.seconds,
				leastOverlap: least?.share ?? null,
				gaps: gaps.map(({ row, column, bearing, altitude, width }) => ({
					row,
					column,
					azimuth: turn(bearing),
					altitude,
					width,
				})),
				rowGaps: rowGaps.map(({ above, from, until }) => ({ aboveRow: above, from, until })),
				shortSides: shortSides.map(({ edge, bearing, ends, altitude }) => ({
					edge,
					azimuth: turn(bearing),
					ends,
					altitude,
				})),
				panels: panorama.panels.map(({ row, column, at, until, direction, roll }, i) => {
					const limits = target.panelLimits?.()[i];
					return {
						row,
						column,
						from: isoText(zone, at),
						until: isoText(zone, until),
						azimuth: direction.azimuth,
						compass: compass(direction.azimuth),
						altitude: direction.altitude,
						roll,
						longest: numberOrNull(target.tracked ? limits?.tracked : limits?.untracked),
						trail: numberOrNull(limits?.trail),
						hidden: target.frames?.()[i]?.hidden ?? null,
					};
				}),
				foreground: (ground?.rows ?? []).flatMap(({ altitude, bearings }, row) =>
					bearings.map((bearing, column) => ({
						row: row + 1,
						column: column + 1,
						azimuth: turn(bearing),
						compass: compass(bearing),
						altitude,
					})),
				),
			},
		];
	});
}

const numberOrNull = (value: number | undefined): number | null =>
	value !== undefined && Number.isFinite(value) ? value : null;

/** The evening in order, and what can be done when the alignment is lost. */
export const eveningRecord = (evaluation: Evaluation) => ({
	evening: eveningRecords(evaluation),
	alignmentLost: lostRecords(evaluation),
	group: groupRecord(evaluation),
});

/** The evening of each kit of a group, and what they share; null of a plan by itself. */
function groupRecord({ group, night }: Evaluation) {
	if (!group || !night) return null;
	const span = ({ from, until }: Interval) => ({ from: isoText(night.zone, from), until: isoText(night.zone, until) });
	return {
		leader: group.leader?.member.name ?? null,
		members: group.kits.map((kit) => {
			const { name, from } = kit.member;
			const own = inGroup(kit, group);
			const instead = insteadOf(kit, group);
			return {
				name,
				plan: from,
				evening: own ? eveningRecords(own) : [],
				instead: instead ? { of: instead.planned.method.kind, why: told(instead.why) } : null,
				declinationNotUsed: kit.member.declination ?? null,
			};
		}),
		lasers: group.lasers.map((use) => ({
			name: use.kit.member.name,
			lookout: lookoutOf(group, use)?.member.name ?? null,
			...span(use),
		})),
		lightsOut: group.lightsOut.map(span),
	};
}

/** What a step is for, as a program asks for it: the name of its target, the kind of its method. */
const ownerOf = (step: EveningStep, evaluation: Evaluation): string | undefined =>
	step.kind === "align" ? evaluation.methods[step.of ?? -1]?.value?.method.kind : stepOwner(step, evaluation);

/** The evening in order; empty where nothing is to be done. */
function eveningRecords(evaluation: Evaluation) {
	const { evening, night } = evaluation;
	if (!evening || !night) return [];
	const iso = (at: number): string => isoText(night.zone, at);
	return evening.steps.map((step) => ({
		kind: step.kind,
		of: ownerOf(step, evaluation) ?? null,
		from: iso(step.from),
		until: iso(step.until),
		latest: step.latest === undefined ? null : iso(step.latest),
		fixed: step.fixed,
		frames: step.frames ?? null,
		fallbacks:
			step.kind === "align" && step.of === evening.aligned
				? fallbacksOf(evaluation).map(({ value, latest, frames }) => ({
						method: value.method.kind,
						latest: iso(latest),
						frames: frames === undefined ? null : iso(frames),
					}))
				: [],
	}));
}

/** From when on an alignment that is lost can be done again, and what is then left. */
function lostRecords(evaluation: Evaluation) {
	const { night } = evaluation;
	const zone = night?.zone ?? "UTC";
	const iso = (at: number): string => isoText(zone, at);
	return alignmentsLost(evaluation).map(({ at, planned, ways }) => ({
		at: iso(at),
		planned,
		methods: ways.map((way) => ({
			kind: way.value.method.kind,
			marks: marksThen(way),
			from: iso(way.from),
			until: iso(way.until),
			latest: iso(way.latest),
			axisError95: errorOrNull(way.value.budget.radius95),
			frames: way.frames,
			without: way.without,
			trailing: way.trailing.map(({ target, chance, longest }) => ({ name: target.name, chance, longest })),
			composedBefore: way.passed.map(({ target, by }) => ({ name: target.name, minutes: by / 60_000 })),
			numbers: numbersByIds(numbersThen(way, evaluation)),
			steps: stepRecords(way.value.steps(), zone),
		})),
	}));
}

const stepRecords = (steps: readonly Step[], zone: string) =>
	steps.map(({ say, number, at }) => ({
		say: told(say),
		number: number ?? null,
		at: at === undefined ? null : isoText(zone, at),
	}));

/** An axis error beyond half a turn is any direction, and not a number. */
const errorOrNull = (degrees: number): number | null => (isErrorAngle(degrees) ? degrees : null);

/** Each minute with its numbers by their ids. */
const minuteRecords = (rows: readonly MinuteRow[], zone: string) =>
	rows.map(({ at, values }) => ({
		at: isoText(zone, at),
		...numbersByIds(values),
	}));

const numbersByIds = (values: readonly Value[]) => Object.fromEntries(values.map(({ id, value }) => [id, value]));

const valueRecord = ({ id, of, value, unit, plusMinus, text, how }: Value) => ({
	id,
	of,
	value,
	unit,
	plusMinus,
	text,
	how,
});
