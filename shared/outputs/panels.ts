/** The panels of a panorama as tables: those of the sky as they are taken, those of its foreground as they are laid out. */

import type { TargetEntry } from "../cells/targets/keys.ts";
import { type GroundRow, PANEL_SECONDS, type Panel, type TargetPanorama } from "../cells/targets/panorama.ts";
import { type EvaluatedTarget, foregroundOf, isOfArcs } from "../cells/targets/target.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import { degrees } from "../notation/angle.ts";
import { durationText, longestText } from "../notation/duration.ts";
import { turn } from "../sky/vector.ts";
import { type Phrase, sentences, told } from "../text/sentence.ts";
import { exactNightClock } from "./clock.ts";
import { pointingOf, pointingText } from "./pointing.ts";

const words = sentences("output.panels", {
	single: "camera {roll}",
	panorama: "{columns} × {rows} panels, {order}, {overlap} % overlap; {duration} in all",
	byRows: "row by row from the lowest, left to right",
	byColumns: "column by column from the left, each from below",
	fromRight: "column by column from the right, where the sky sets, each from below",
	fromLeft: "column by column from the left, where the sky sets, each from below",
	sky: "Panels",
	ground: "Panels of the foreground",
	panel: "Panel",
	at: "First frame",
	bearing: "Bearing",
	compass: "Compass",
	altitude: "Altitude",
	roll: "Turned",
	longest: "Longest exposure",
	trail: "Trail",
	hidden: "Hidden",
	place: "row {row}, column {column}",
	right: "{angle} clockwise",
	left: "{angle} anticlockwise",
	level: "level",
	pixels: "{pixels} px",
	percent: "{percent} %",
	nothing: "none",
	under: "under 1 %",
	unknown: "not known",
	named: "{name}, {place}",
	foreground: "Foreground of {name}",
	due: "Panel {number} of {count}, {place}: {pointing}; camera {roll}",
	groundDue: "Panel {number} of {count} of the foreground, {place}: {pointing}; camera level",
});

export interface PanelsView {
	readonly title: string;
	readonly head: readonly string[];
	readonly rows: readonly (readonly string[])[];
	/** Of each row when it is its turn; empty where that is not known. */
	readonly due: readonly PanelDue[];
}

/** A panel's turn: from when one turns to it until its last frame ends. */
export interface PanelDue {
	readonly at: EpochMs;
	readonly until: EpochMs;
	/** It and where it looks, in one line. */
	readonly say: string;
}

/** The first is aimed at before; each other is turned to when the one before it is done. */
const dueFrom = (at: EpochMs, i: number): EpochMs => (i === 0 ? at : at - PANEL_SECONDS * 1000);

/** Where a panel is in its panorama; rows count from below. */
export const panelPlace = (row: number, column: number): string => told(words.place({ row, column }));

/** What a picture calls a panel. */
export const panelName = (row: number, column: number, name: string): string =>
	told(words.named({ name, place: panelPlace(row, column) }));

/** What a picture calls the foreground of a target, or a panel of it. */
export const groundName = (name: string): string => told(words.foreground({ name }));

/** Columns, rows, order and time in one line, or how a single panel is held; empty for a single picture. */
export function panoramaText({ panorama, entry }: EvaluatedTarget): string {
	if (!panorama) return "";
	const { columns, rows, overlap, seconds, panels } = panorama;
	const [only] = panels;
	// One to which the ground is joined.
	if (only && panels.length === 1) return told(words.single({ roll: rollText(only) }));
	return told(
		words.panorama({
			columns,
			rows: rows.length,
			order: orderOf(entry.panorama?.order, panorama),
			overlap: Math.round(overlap * 100),
			duration: durationText(seconds),
		}),
	);
}

function orderOf(order: NonNullable<TargetEntry["panorama"]>["order"], { panels, columns }: TargetPanorama): Phrase {
	if (order === "columns") return words.byColumns();
	if (order !== "setting-first") return words.byRows();
	return columns > 1 && panels[0]?.column === columns ? words.fromRight() : words.fromLeft();
}

/** None for a single picture; that of a single panel, which is framed as one is, has nothing to add. */
export function panelsOf(target: EvaluatedTarget, evaluation: Evaluation): readonly PanelsView[] {
	const { panorama } = target;
	if (!panorama) return [];
	const ground = panorama.ground();
	const sky = panorama.panels.length > 1 ? [skyPanels(target, panorama, evaluation)] : [];
	return [...sky, ...(ground ? [groundPanels(target, ground, evaluation)] : [])];
}

function skyPanels(target: EvaluatedTarget, { panels }: TargetPanorama, evaluation: Evaluation): PanelsView {
	const { night, field } = evaluation;
	const limits = target.panelLimits?.() ?? [];
	const frames = target.frames?.() ?? [];
	const limited = !isOfArcs(target.entry);
	const labels = [
		words.panel(),
		words.at(),
		words.bearing(),
		...(field ? [words.compass()] : []),
		words.altitude(),
		words.roll(),
		...(limited ? [words.longest(), words.trail()] : []),
		words.hidden(),
	];
	return {
		title: told(words.sky()),
		head: labels.map((label) => told(label)),
		rows: panels.map((panel, i) => {
			const own = limits[i];
			const { bearing, compass, altitude } = pointingOf(panel.direction, evaluation);
			const longest = target.tracked ? own?.tracked : own?.untracked;
			return [
				panelPlace(panel.row, panel.column),
				night ? exactNightClock(night, panel.at) : "",
				bearing,
				...(field ? [compass] : []),
				altitude,
				rollText(panel),
				...(limited
					? [
							longest === undefined ? told(words.unknown()) : longestText(longest),
							own && Number.isFinite(own.trail)
								? told(words.pixels({ pixels: own.trail.toFixed(1) }))
								: told(words.unknown()),
						]
					: []),
				hiddenText(frames[i]?.hidden ?? 0),
			];
		}),
		due: panels.map((panel, i) => ({
			at: dueFrom(panel.at, i),
			until: panel.until,
			say: told(
				words.due({
					number: i + 1,
					count: panels.length,
					place: panelPlace(panel.row, panel.column),
					pointing: pointingText(pointingOf(panel.direction, evaluation)),
					roll: rollText(panel),
				}),
			),
		})),
	};
}

function rollText({ roll }: Panel): string {
	// As finely as a hand turns it.
	const angle = degrees(Math.abs(roll), 1);
	if (Math.abs(roll) < 0.05) return told(words.level());
	return told(roll > 0 ? words.right({ angle }) : words.left({ angle }));
}

const hiddenText = (share: number): string =>
	share === 0
		? told(words.nothing())
		: share < 0.01
			? told(words.under())
			: told(words.percent({ percent: Math.round(share * 100) }));

/** When the first of the foreground's panels begins: what comes before it is framed first. `seconds`: a panel's frames. */
export const firstGroundPanel = (until: EpochMs, panels: number, seconds: number): EpochMs =>
	until - (panels * seconds + (panels - 1) * PANEL_SECONDS) * 1000;

function groundPanels({ entry, index }: EvaluatedTarget, { rows }: GroundRow, evaluation: Evaluation): PanelsView {
	const { night, field, evening } = evaluation;
	const step = evening?.steps.find(({ kind, of }) => kind === "foreground" && of === index);
	const { exposure = entry.exposure ?? 0, frames = 1, panorama } = foregroundOf(entry) ?? {};
	const places = rows.flatMap(({ altitude, bearings }, row) =>
		bearings.map((bearing, column) => ({ row, column, altitude, azimuth: turn(bearing) })),
	);
	const inOrder =
		panorama?.order === "columns" ? [...places].sort((a, b) => a.column - b.column || a.row - b.row) : places;
	const first = step && firstGroundPanel(step.until, places.length, frames * exposure);
	const each = (frames * exposure + PANEL_SECONDS) * 1000;
	const labels = [
		words.panel(),
		...(step && night ? [words.at()] : []),
		words.bearing(),
		...(field ? [words.compass()] : []),
		words.altitude(),
	];
	return {
		title: told(words.ground()),
		head: labels.map((label) => told(label)),
		rows: inOrder.map((place, i) => {
			const { bearing, compass, altitude } = pointingOf(place, evaluation);
			return [
				panelPlace(place.row + 1, place.column + 1),
				...(first !== undefined && night ? [exactNightClock(night, first + i * each)] : []),
				bearing,
				...(field ? [compass] : []),
				altitude,
			];
		}),
		due:
			first === undefined
				? []
				: inOrder.map((place, i) => ({
						at: dueFrom(first + i * each, i),
						until: first + i * each + frames * exposure * 1000,
						say: told(
							words.groundDue({
								number: i + 1,
								count: inOrder.length,
								place: panelPlace(place.row + 1, place.column + 1),
								pointing: pointingText(pointingOf(place, evaluation)),
							}),
						),
					})),
	};
}
