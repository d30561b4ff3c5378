/**
 * The shot list: a target a row, in the order in which they are taken, with all that a hand sets on tripod and camera
 * and what it may count on. The same on page, card and paper.
 */

import type { EvaluatedNight } from "../cells/night/night.ts";
import { ageOfElements } from "../cells/targets/comet-values.ts";
import { leaning, moonPlace, pointingIn } from "../cells/targets/framing-values.ts";
import type { TargetLimits } from "../cells/targets/limits.ts";
import { groundPanels } from "../cells/targets/panorama.ts";
import { peakText } from "../cells/targets/shower-values.ts";
import { type EvaluatedTarget, exposureSeconds, foregroundOf, isOfArcs } from "../cells/targets/target.ts";
import { placeInFrame } from "../cells/targets/values.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import { groundFraming } from "../evaluate/evening/framing.ts";
import type { EveningStep } from "../evaluate/evening/tasks.ts";
import { degrees } from "../notation/angle.ts";
import { trueBearingText } from "../notation/bearing.ts";
import { durationText, exposureText, longestText } from "../notation/duration.ts";
import { cometState } from "../sky/comet.ts";
import { Lines } from "../text/lines.ts";
import { type Phrase, sentences, told } from "../text/sentence.ts";
import { nightClock, nightInterval } from "./clock.ts";
import { withFocus } from "./evening.ts";
import { firstGroundPanel, type PanelsView, panelsOf, panoramaText } from "./panels.ts";
import { firstDirection, type Pointing, pointingOf, pointingText } from "./pointing.ts";

const words = sentences("output.shots", {
	title: "Shot list",
	begins: "First frame",
	ends: "Last frame ends",
	point: "Point at",
	lens: "Lens",
	frames: "Frames",
	panorama: "Panorama",
	darks: "Dark frames",
	ground: "Foreground",
	longest: "Longest sharp exposure",
	worst: "Worst corner",
	total: "Total exposure",
	moon: "Moon",

	portrait: "{place}, portrait",
	focal: "{length} mm",
	fNumber: "f/{fNumber}",
	isoOnly: "ISO {iso}",
	lensAt: "{focal} at {fNumber}",
	lensNamed: "{name}, {focal} at {fNumber}",
	withIso: "{lens}, {iso}",
	series: "{frames} × {exposure}",
	withGap: "{series}, {gap} between",
	fewer: "{series}; {frames} of them fit",
	eachPanel: "{panels} panels, each {series}",
	untracked: "{series}, untracked",
	groundAt: "{series} at {time}",
	groundSame: "{ground}, camera not moved",
	groundTurned: "{ground}, with the drive wound back for the same framing",
	groundAnew: "{ground}; framed like the sky; mark the tripod's place",

	holds: "{exposure}: limited by {why}",
	holdsUntracked: "{exposure}, untracked",
	holdsNot: "none: {why} alone is too much",
	holdsAny: "any: arcs are wanted",
	holdsUnknown: "not known: no method to align",
	axis: "the alignment",
	drive: "the drive's periodic error",
	refraction: "refraction",
	rate: "the tracker's rate",
	corner: "{place}, {trail} px; at most {most} px on 19 frames in 20",
	cornerUntracked: "{place}, {trail} px",
	moonDown: "down",
	span: "{from} to {until}",
	moonUp: "{place}; illumination {lit} %, up {times}, altitude {altitude}, bearing {bearing}, {away} from the target",
	framing: "Framing",
	shower: "Shower",
	comet: "Comet",
	band: "Milky Way {slant}",
	bandTurns: "Milky Way {slant}; at the end it {last}",
	tail: "tail {toward}",
	groundShare: "ground {share} % of the frame",
	groundShares: "ground {share} % of the frame, at the end {last} %",
	noGround: "no ground in the frame",
	rolls: "rolled {roll} {turn} at the end",
	clockwise: "clockwise",
	anticlockwise: "anticlockwise",
	radiant:
		"{shower}: peak {peak}; radiant at altitude {from} to {until}, bearing {bearing}, {away} from the middle of the frame",
	far: "{away} from the Sun, moves {motion}″ a minute, elements {age} day{s} old",
});

/** A row of the list: what is of the clock as times, the rest as it is told; a text is empty where there is nothing to say. */
export interface Shot extends Pointing {
	readonly target: string;
	/** Place in the plan's targets. */
	readonly index: number;
	/** Line of the plan it comes from, from 1. */
	readonly line: number;
	/** When its first frame begins and its last ends. */
	readonly at: EpochMs;
	readonly until: EpochMs;
	readonly begins: string;
	readonly ends: string;
	/** Where the middle of the first frame looks, in one line, and how the camera is held. */
	readonly pointing: string;
	/** Focal length, f-number and ISO in one line; and each by itself. */
	readonly camera: string;
	readonly focalLength: string;
	readonly fNumber: string;
	readonly iso: string;
	/** Exposure × frames, the gap and whether the tracker runs. */
	readonly frames: string;
	readonly exposure: string;
	/** Seconds from the start of one frame to the next: what an interval timer is set to. */
	readonly interval: number;
	readonly tracked: boolean;
	/** Columns, rows and how long they take; empty for a single picture. */
	readonly panorama: string;
	/** Its panels, and those of its foreground. */
	readonly panels: readonly PanelsView[];
	readonly darks: string;
	readonly ground: string;
	/** The longest exposure that holds, and why. */
	readonly longest: string;
	readonly worst: string;
	/** Exposure of all frames that are taken. */
	readonly total: string;
	readonly moon: string;
	/** How the target lies in the frame, and how much ground is in it. */
	readonly framing: string;
	readonly shower: string;
	readonly comet: string;
}

/** What the list is called. */
export const shotsTitle = (): string => told(words.title());

/** The rows by their first frame; none without a night or targets. */
export function shotList(evaluation: Evaluation): readonly Shot[] {
	const { targets, night } = evaluation;
	if (!night || !targets) return [];
	const lines = new Lines(evaluation.plan.text);
	const { cell } = targets;
	return (targets.value ?? [])
		.filter((target) => target !== undefined)
		.map((target) => {
			const place = cell.read.places.get(`${target.index}`)?.value.from ?? 0;
			return shotOf(evaluation, night, target, lines.at(cell.start + place).line + 1);
		})
		.sort((a, b) => a.at - b.at);
}

/** A row as label and text, what has nothing to say left out: for whoever lists it. */
export const shotParts = (shot: Shot): readonly { readonly label: string; readonly text: string }[] =>
	(
		[
			[words.begins(), shot.begins],
			[words.ends(), shot.ends],
			[words.point(), shot.pointing],
			[words.lens(), shot.camera],
			[words.panorama(), shot.panorama],
			[words.frames(), shot.frames],
			[words.darks(), shot.darks],
			[words.ground(), shot.ground],
			[words.longest(), shot.longest],
			[words.worst(), shot.worst],
			[words.total(), shot.total],
			[words.moon(), shot.moon],
			[words.framing(), shot.framing],
			[words.comet(), shot.comet],
			[words.shower(), shot.shower],
		] as const
	)
		.filter(([, text]) => text !== "")
		.map(([label, text]) => ({ label: told(label), text }));

function shotOf(evaluation: Evaluation, night: EvaluatedNight, target: EvaluatedTarget, line: number): Shot {
	const { entry, name, index, series, tracked } = target;
	const { exposure = 0, gap = 0, darks } = entry;
	const stepOf = (kind: EveningStep["kind"]): EveningStep | undefined =>
		evaluation.evening?.steps.find((step) => step.kind === kind && step.of === index);
	const taken = stepOf("sky")?.frames ?? target.frameCount;
	const pointing = pointingOf(firstDirection(target, series.from), evaluation);
	const place = pointingText(pointing);
	return {
		target: name,
		index,
		line,
		at: series.from,
		until: series.until,
		begins: nightClock(night, series.from),
		ends: nightClock(night, series.until),
		...pointing,
		pointing: entry.orientation === "portrait" ? told(words.portrait({ place })) : place,
		...cameraOf(target, evaluation.lenses.length > 1),
		frames: framesText(target, taken),
		exposure: exposureText(exposure),
		interval: exposure + gap,
		tracked,
		panorama: panoramaText(target),
		panels: panelsOf(target, evaluation),
		darks: darks === undefined ? "" : seriesText(darks, exposure),
		ground: groundText(target, stepOf("foreground"), evaluation, night),
		longest: longestExposureText(target),
		// Of arcs no corner is worse than another.
		worst: target.limits && !isOfArcs(entry) ? cornerText(target, target.limits) : "",
		total: durationText(exposureSeconds(target, taken)),
		moon: moonText(target, night),
		framing: framingText(target),
		shower: showerText(target, night),
		comet: cometText(target),
	};
}

const seriesText = (frames: number, exposure: number): string =>
	told(words.series({ frames, exposure: exposureText(exposure) }));

/** What is set on lens and camera; `named`: the lens by its name, where there are several. */
function cameraOf(
	{ lens, entry }: EvaluatedTarget,
	named: boolean,
): Pick<Shot, "camera" | "focalLength" | "fNumber" | "iso"> {
	const iso = entry.iso === undefined ? "" : told(words.isoOnly({ iso: entry.iso }));
	if (!lens) return { camera: iso, focalLength: "", fNumber: "", iso };
	const focalLength = told(words.focal({ length: lens.camera.focalLength }));
	const fNumber = told(words.fNumber({ fNumber: lens.camera.fNumber }));
	const at = { name: lens.name, focal: focalLength, fNumber };
	const text = told(named ? words.lensNamed(at) : words.lensAt(at));
	return { camera: iso === "" ? text : told(words.withIso({ lens: text, iso })), focalLength, fNumber, iso };
}

function framesText({ entry, tracked, panorama, frameCount }: EvaluatedTarget, taken: number): string {
	const { exposure = 0, frames: each = 1, gap = 0 } = entry;
	const frames = panorama ? frameCount : each;
	const panels = panorama?.panels.length ?? 1;
	const series =
		panels > 1 ? told(words.eachPanel({ panels, series: seriesText(each, exposure) })) : seriesText(frames, exposure);
	const spaced = frames > 1 && gap > 0 ? told(words.withGap({ series, gap: durationText(gap) })) : series;
	const fitting = taken < frames ? told(words.fewer({ series: spaced, frames: taken })) : spaced;
	return tracked ? fitting : told(words.untracked({ series: fitting }));
}

function groundText(
	{ entry, panorama, index }: EvaluatedTarget,
	step: EveningStep | undefined,
	{ evening, tasks }: Evaluation,
	night: EvaluatedNight,
): string {
	const asked = foregroundOf(entry);
	if (!asked) return "";
	const each = seriesText(asked.frames ?? 1, asked.exposure ?? entry.exposure ?? 0);
	const panels = groundPanels(panorama);
	const series = panels > 1 ? told(words.eachPanel({ panels, series: each })) : each;
	if (!step) return withFocus(series, asked);
	const seconds = (asked.frames ?? 1) * (asked.exposure ?? entry.exposure ?? 0);
	const at = panels > 1 ? firstGroundPanel(step.until, panels, seconds) : step.from;
	const ground = told(words.groundAt({ series: withFocus(series, asked), time: nightClock(night, at) }));
	// Of panels the list of panels says how each is framed.
	const framing = evening && tasks && !panorama && groundFraming(evening, tasks, index);
	return framing ? told(words[FRAMINGS[framing]]({ ground })) : ground;
}

const FRAMINGS = { same: "groundSame", turned: "groundTurned", anew: "groundAnew" } as const;

function longestExposureText({ entry, tracked, limits }: EvaluatedTarget): string {
	if (!limits) return "";
	if (isOfArcs(entry)) return told(words.holdsAny());
	if (!tracked) return told(words.holdsUntracked({ exposure: longestText(limits.untracked) }));
	if (limits.tracked === undefined) return told(words.holdsUnknown());
	const why = words[limits.source]();
	return limits.tracked > 0
		? told(words.holds({ exposure: longestText(limits.tracked), why }))
		: told(words.holdsNot({ why }));
}

/** Where in the frame its stars trail most, and by how much. */
function cornerText({ tracked }: EvaluatedTarget, { worst, trail, trail95 }: TargetLimits): string {
	const place: Phrase = placeInFrame(worst.star.place);
	if (!Number.isFinite(trail)) return told(place);
	const said = { place, trail: trail.toFixed(1) };
	return told(tracked ? words.corner({ ...said, most: trail95.toFixed(1) }) : words.cornerUntracked(said));
}

/** Where the Moon is while the frames are taken. */
function moonText({ moon }: EvaluatedTarget, night: EvaluatedNight): string {
	const during = moon();
	if (!during) return told(words.moonDown());
	const { up, start, end, illumination, away } = during;
	return told(
		words.moonUp({
			place: [moonPlace(during, night)],
			lit: Math.round(illumination * 100),
			times: up.map((one) => nightInterval(night, one)).join(", "),
			altitude: spanText(degrees(start.altitude, 0), degrees(end.altitude, 0)),
			bearing: spanText(trueBearingText(start.azimuth), trueBearingText(end.azimuth)),
			away: degrees(away, 0),
		}),
	);
}

/** From the first to the last, or the one where both read the same. */
const spanText = (from: string, until: string): string => (from === until ? from : told(words.span({ from, until })));

/** Degrees of roll that are told. */
const SOME_ROLL = 2;

/** How the target lies in the frame at the first and the last one. */
function framingText({ framing, ofTheSky, tracked }: EvaluatedTarget): string {
	if (!framing || !ofTheSky) return "";
	const [start, end] = [framing.start(), framing.end()];
	const parts: Phrase[] = [];
	if (start.milkyWay !== undefined) {
		const slant = leaning(start.milkyWay);
		const last = end.milkyWay === undefined ? slant : leaning(end.milkyWay);
		parts.push(
			told(slant) === told(last) ? words.band({ slant: [slant] }) : words.bandTurns({ slant: [slant], last: [last] }),
		);
	}
	if (start.tail !== undefined) parts.push(words.tail({ toward: [pointingIn(start.tail)] }));
	const [share, last] = [Math.round(start.ground * 100), Math.round(end.ground * 100)];
	if (share === last || !tracked) parts.push(share === 0 ? words.noGround() : words.groundShare({ share }));
	else parts.push(words.groundShares({ share, last }));
	if (tracked && Math.abs(end.roll) >= SOME_ROLL)
		parts.push(
			words.rolls({
				roll: degrees(Math.abs(end.roll), 0),
				turn: [end.roll > 0 ? words.clockwise() : words.anticlockwise()],
			}),
		);
	return parts.map(told).join("; ");
}

function showerText({ shower: named, series }: EvaluatedTarget, night: EvaluatedNight): string {
	if (!named) return "";
	const [start, end] = [named.radiantAt(series.from), named.radiantAt(series.until)];
	return told(
		words.radiant({
			shower: named.shower.name,
			peak: peakText(named, night),
			from: degrees(start.altitude, 0),
			until: degrees(end.altitude, 0),
			bearing: trueBearingText(start.azimuth),
			away: degrees(named.away(), 0),
		}),
	);
}

function cometText(target: EvaluatedTarget): string {
	const { body, series } = target;
	if (body?.type !== "comet") return "";
	const { elongation, motion } = cometState(body.elements, (series.from + series.until) / 2);
	const age = Math.round(ageOfElements(target) ?? 0);
	const away = degrees(elongation, 0);
	return told(words.far({ away, motion: motion.toFixed(1), age, s: age === 1 ? "" : "s" }));
}
