/**
 * The view model of the page: everything it shows, as plain data. The page in the editor, the file that
 * `lodebook show --html` writes and the card are made from it; components only draw.
 */

import { heldLevel, outward } from "../../alignment/attitude.ts";
import { ellipseOf } from "../../alignment/axis-error.ts";
import type { Budget } from "../../alignment/budget.ts";
import { displacementsFor } from "../../alignment/trail.ts";
import type { EvaluatedMethod } from "../../cells/method/method.ts";
import type { EvaluatedNight } from "../../cells/night/night.ts";
import type { EvaluatedTarget } from "../../cells/targets/target.ts";
import { type EpochMs, minuteOf } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { countBySeverity } from "../../findings/check.ts";
import type { Finding, Severity } from "../../findings/finding.ts";
import { lazily, rememberedBy } from "../../memory/memory.ts";
import type { DialPlace } from "../../methods/method.ts";
import { degrees, errorDegrees, isErrorAngle } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { dateText } from "../../notation/clock.ts";
import { exposureText } from "../../notation/duration.ts";
import type { Value } from "../../notation/value.ts";
import { fieldAcross, rayOf } from "../../optics/camera.ts";
import type { PanoramaRow } from "../../optics/panorama-rows.ts";
import { type Cell, cellName, cellsOf, firstValue } from "../../plan/plan.ts";
import { frameNear, SKY_RATE_ARCSEC, siderealRad } from "../../sky/frame.ts";
import { type Direction, toDirection } from "../../sky/horizontal.ts";
import { type Interval, longest } from "../../sky/intervals.ts";
import { sunAltitude } from "../../sky/night.ts";
import type { SkyPoint } from "../../sky/outline.ts";
import { apparentDirection, equatorialPlace, findBody, hourPlaceOf, type SkyBody, type Spot } from "../../sky/place.ts";
import { DEG, turn } from "../../sky/vector.ts";
import { Lines } from "../../text/lines.ts";
import { type Phrase, told } from "../../text/sentence.ts";
import { cautionsFor, cautionsOf, notClearedText } from "../cautions.ts";
import {
	exactNightClock,
	type NightHour,
	nightClock,
	nightHours,
	nightInterval,
	nightSpan,
	siteClockOf,
} from "../clock.ts";
import { type EveningRow, eveningRows } from "../evening.ts";
import { groupMethodLine } from "../group-rows.ts";
import { type Group, groupsOf } from "../groups.ts";
import { alignmentNotes } from "../instead.ts";
import { type LostView, lostView } from "../lost.ts";
import { type MethodTonight, methodHeading, methodsShown, methodTonight, withinText } from "../method-state.ts";
import { type MinutesView, minutesOf } from "../minutes.ts";
import { groundName, panelName } from "../panels.ts";
import { verdictText, worstFirst, worstOf } from "../severity.ts";
import { type Shot, shotList } from "../shot-list.ts";
import type { SiteClock } from "../site-clock.ts";
import { briefNumbers, type Step, toldSteps } from "../steps.ts";
import { type FinderView, finderView } from "./finder.ts";
import { type FrameView, frameView } from "./frame-view.ts";
import {
	brightPlanets,
	celestialEquator,
	figureLines,
	litSide,
	milkyWayAreas,
	type StarClass,
	starClasses,
} from "./real-sky.ts";
import type { SaidTarget, SkySays } from "./said.ts";
import { type PanoramaFrame, type SkyArea, type SkyPlace, seenAt } from "./sky-paths.ts";
import { words } from "./words.ts";

export interface PageView {
	readonly title: string;
	readonly summary: string;
	/** The site, the date as the plan writes it, the zone. */
	readonly where: string;
	/** Counts of findings, the worst of them, and whether one can go with them. */
	readonly verdict: { readonly text: string; readonly worst: Severity | undefined; readonly sentence: string };
	/** The steps of the evening with their clock times, as each is told while it is the next. */
	readonly next: readonly { readonly at: number; readonly until: number; readonly text: string }[];
	/** How the axis is set, when and how well; empty without a method that works. */
	readonly methodLine: string;
	/** Lines, from 1, of the cells that the page's parts are of. */
	readonly lines: {
		readonly plan: number | undefined;
		readonly site: number | undefined;
		readonly night: number | undefined;
		readonly targets: number | undefined;
		readonly notes: readonly number[];
	};
	readonly findings: readonly FindingView[];
	/** What the plan lacks for a page, and how to go on; empty when it can be drawn. */
	readonly missing: string;
	/** Kinds of the plan's cells, in their order. */
	readonly cells: readonly string[];
	readonly panorama: PanoramaView | undefined;
	/** Of the method the targets count on. */
	readonly alignment: AlignmentView | undefined;
	readonly timeline: TimelineView | undefined;
	/** The evening in order; empty where nothing is to be done. */
	readonly evening: readonly EveningRow[];
	/** How an alignment that is lost is done again; undefined without tracked frames. */
	readonly lost: LostView | undefined;
	readonly shots: readonly Shot[];
	/** Those that work first. */
	readonly methods: readonly MethodView[];
	readonly trail: TrailView | undefined;
	/** What the lens sees of each target of the sky. */
	readonly frames: readonly FrameView[];
	readonly tables: readonly TableView[];
	readonly cautions: readonly string[];
	readonly notes: readonly string[];
}

export interface FindingView {
	readonly severity: Severity;
	readonly message: string;
	readonly code: string;
	/** From 1. */
	readonly line: number;
	/** The cell it is about; undefined for the plan as a whole. */
	readonly cell: number | undefined;
}

export interface PanoramaView {
	readonly frame: PanoramaFrame;
	readonly height: number;
	/** Bearing and altitude of the skyline every two degrees. */
	readonly skyline: readonly (readonly [bearing: number, altitude: number])[];
	/** Corners by bearing, running on over north, and altitude. */
	readonly openings: readonly { readonly name: string; readonly corners: readonly SkyPoint[] }[];
	readonly obstructions: readonly {
		readonly name: string;
		readonly corners: readonly SkyPoint[];
		readonly window: readonly SkyPoint[] | undefined;
	}[];
	readonly pole: { readonly azimuth: number; readonly altitude: number; readonly hidden: boolean };
	readonly aim: { readonly azimuth: number; readonly altitude: number; readonly reach: number } | undefined;
	/** Fixed on the turning sky: guide star, targets, core, radiants of showers. */
	readonly places: readonly {
		readonly name: string;
		readonly kind: "guide" | "target" | "core" | "radiant";
		readonly place: SkyPlace;
		readonly line: number | undefined;
	}[];
	/** Sun, Moon, planets: points of time, bearing, altitude. */
	readonly bodies: readonly {
		readonly name: string;
		readonly kind: "sun" | "moon" | "planet";
		readonly points: readonly (readonly [number, number, number])[];
		/** Of the Moon: where its lit side points to at each of them, degrees clockwise from straight up. */
		readonly tilts?: readonly number[];
	}[];
	/** Lit part of the Moon's disc, 0 … 1. */
	readonly moonLit: number;
	readonly stars: readonly StarClass[];
	readonly equator: readonly Direction[];
	readonly landmarks: readonly { readonly name: string; readonly azimuth: number; readonly altitude: number }[];
	/** The ways that targets of the sky go while they are in view, and where each is at whole hours. */
	readonly tracks: readonly {
		readonly name: string;
		readonly points: readonly Direction[];
		readonly hours: readonly (Direction & { readonly clock: string })[];
	}[];
	/** Edges of the frames: on the sky for tracked targets, on the ground for fixed ones. */
	readonly frames: readonly {
		readonly name: string;
		readonly sky: readonly SkyPlace[] | undefined;
		readonly ground: readonly { readonly azimuth: number; readonly altitude: number }[] | undefined;
		readonly line: number;
	}[];
	/** Where the frames that turn with the sky are at the first frame of a series and at its last. */
	readonly ends: readonly { readonly text: string; readonly isLast: boolean; readonly edge: readonly Direction[] }[];
	/** The band, its light parts, the clouds in these. */
	readonly milkyWay: readonly SkyArea[];
	/** Lines of the constellations' figures: right ascension and declination of date in turn. */
	readonly figures: readonly (readonly number[])[];
	/** The Sun's time, bearing and altitude, for the glow of twilight. */
	readonly sun: readonly (readonly [at: number, azimuth: number, altitude: number])[];
	/** Degrees to take off a true bearing for the compass's. */
	readonly declination: number | undefined;
	readonly from: number;
	readonly until: number;
	/** The moment first shown. */
	readonly at: number;
	readonly clock: SiteClock;
	/** What the view and the all-sky chart say, at any minute. */
	readonly says: SkySays;
	/** What is written below the chart whatever the clock. */
	readonly wholeSkyCaption: string;
}

export interface AlignmentView {
	readonly kind: string;
	readonly tilt: number;
	/** Which horizon the pole stands over. */
	readonly poleSide: "north" | "south";
	readonly poleHidden: boolean;
	/** For laser methods: the pointer's angle to the axis and its altitude. */
	readonly pointer:
		| {
				readonly offset: number;
				readonly altitude: number;
				readonly overZenith: boolean;
				readonly sight: boolean;
				readonly star: string | undefined;
		  }
		| undefined;
	/** For bearing methods: bearings of pole and mark, and the turn between them. */
	readonly turn:
		| { readonly pole: number; readonly mark: number; readonly markName: string; readonly offset: number }
		| undefined;
	/** For a pole scope: where on its ring the pole star belongs. */
	readonly dial: DialView | undefined;
	/** Undefined where the axis may point in any direction. */
	readonly ellipse: EllipseView | undefined;
	readonly alternative: string;
}

export interface DialView {
	readonly star: string;
	readonly clock: string;
	/** Arcminutes, as text. */
	readonly distance: string;
	/** From the top clockwise, upright, on a ring of twelve hours. */
	readonly hours: number;
	readonly upright: DialPlace;
	readonly inverted: DialPlace;
}

export interface EllipseView {
	readonly major: number;
	readonly minor: number;
	readonly tilt: number;
	/** Its middle: the expected axis, degrees too high and clockwise of the pole. */
	readonly along: number;
	readonly across: number;
	readonly radius95: number;
	readonly shares: readonly { readonly name: string; readonly total: number; readonly part: number }[];
	/** Degrees across the frame's wide side, to compare. */
	readonly field: number | undefined;
}

type Heights = readonly (readonly [at: number, altitude: number])[];

export interface TimelineView {
	readonly from: number;
	readonly until: number;
	/** Whole hours of the clock. */
	readonly hours: readonly NightHour[];
	/** Altitudes of Sun and Moon, some ten minutes apart. */
	readonly sun: Heights;
	readonly moon: Heights;
	/** When it is dark. */
	readonly dark: readonly Interval[];
	/** The minute that the page's clock shows first. */
	readonly at: number | undefined;
	readonly rows: readonly {
		readonly label: string;
		readonly kind: "dark" | "moon" | "method" | "target" | "align" | "frames" | "step";
		readonly intervals: readonly Interval[];
		readonly text: string;
	}[];
	readonly moments: readonly { readonly at: number; readonly label: string; readonly clock: string }[];
}

export interface MethodView extends MethodTonight {
	/** The axis error that it keeps within 19 times in 20, as text. */
	readonly error: string;
	/** What can hurt, told before its steps. */
	readonly cautions: readonly string[];
	/** That it may not be used yet; empty once it may. */
	readonly notCleared: string;
	readonly steps: readonly Step[];
	/** What hands set in them, in a line. */
	readonly numbers: string;
	/** Around its first mark in the sky. */
	readonly finder: FinderView | undefined;
	/** Its numbers by the minute. */
	readonly minutes: readonly MinutesView[];
	readonly alignment: AlignmentView | undefined;
	readonly line: number;
	readonly cell: number;
}

export interface TrailView {
	readonly target: string;
	readonly exposure: string;
	readonly limit: number;
	readonly median: number;
	readonly most: number;
	readonly perfect: number;
	readonly chance: number;
	/** Paths of the frame's stars at an axis error of one standard deviation, pixels. */
	readonly stars: readonly (readonly [right: number, up: number])[];
}

export interface TableView {
	/** Numbers by the minute. */
	readonly minutes: readonly MinutesView[];
	readonly kind: string;
	readonly name: string;
	readonly line: number;
	readonly cell: number;
	readonly groups: readonly {
		readonly of: string;
		readonly rows: readonly Pick<Value, "label" | "text" | "how" | "id">[];
	}[];
}

const MINUTE_MS = 60_000;

export function pageView(evaluation: Evaluation, findings: readonly Finding[]): PageView {
	const { plan, night, site, aligned, ofGroup } = evaluation;
	const lines = new Lines(plan.text);
	const lineOf = (offset: number): number => lines.at(offset).line + 1;
	const header = firstValue(plan, "plan");
	const title = header?.title ?? told(words.untitled());
	const counts = countBySeverity(findings);
	const evening = eveningRows(evaluation);
	const lineOfCell = (cell: Cell): number => lineOf(cell.start + (cell.read.places.get("")?.key?.from ?? 0));
	const firstLine = (kind: "plan" | "site" | "night" | "targets"): number | undefined => {
		const cell = cellsOf(plan, kind)[0];
		return cell && lineOfCell(cell);
	};
	const shownAt = shownMinute(evaluation);
	// Each when it is first asked for: a card or a summary has no use for most of them.
	const parts = {
		panorama: lazily(() => panoramaView(evaluation, shownAt, lineOf)),
		timeline: lazily(() => timelineView(evaluation, evening, shownAt)),
		shots: lazily(() => shotList(evaluation)),
		lost: lazily(() => lostView(evaluation)),
		trail: lazily(() => trailView(evaluation)),
		frames: lazily(() => frameViews(evaluation, lineOf)),
		tables: lazily(() => tableViews(evaluation, lineOfCell)),
	};
	return {
		title: ofGroup ? told(words.ofMember({ title, name: ofGroup.kit.member.name })) : title,
		summary: header?.summary ?? "",
		where: [site?.content.name, night && dateText(night.date), night?.zone].filter(Boolean).join(" · "),
		verdict: { text: verdictText(counts), worst: worstOf(counts), sentence: verdictSentence(counts) },
		next: nextSteps(evening),
		methodLine: methodLineOf(evaluation),
		lines: {
			plan: firstLine("plan"),
			site: firstLine("site"),
			night: firstLine("night"),
			targets: firstLine("targets"),
			notes: cellsOf(plan, "note").flatMap((cell) => (cell.read.content === undefined ? [] : [lineOfCell(cell)])),
		},
		findings: worstFirst(findings).map(({ severity, message, code, from, cell }) => ({
			severity,
			message,
			code,
			line: lineOf(from),
			cell: cell?.index,
		})),
		missing: missingText(evaluation),
		cells: plan.cells.map(({ read }) => read.kind ?? ""),
		get panorama() {
			return parts.panorama();
		},
		alignment: aligned && alignmentView(evaluation, aligned),
		get timeline() {
			return parts.timeline();
		},
		evening,
		get shots() {
			return parts.shots();
		},
		get lost() {
			return parts.lost();
		},
		methods: methodsShown(evaluation).map(({ cell, value }) => ({
			...methodTonight(evaluation, findings, { cell, value }),
			error: errorDegrees(value.budget.radius95),
			cautions: cautionsOf(value),
			notCleared: notClearedText(value),
			steps: toldSteps(value),
			numbers: briefNumbers(value),
			minutes: minutesOf(evaluation, cell),
			finder: finderView(value, site, night),
			alignment: alignmentView(evaluation, value),
			line: lineOfCell(cell),
			cell: cell.index,
		})),
		get trail() {
			return parts.trail();
		},
		get frames() {
			return parts.frames();
		},
		get tables() {
			return parts.tables();
		},
		cautions: cautionsFor(evaluation),
		notes: cellsOf(plan, "note").flatMap(({ read }) => read.content ?? []),
	};
}

type Counts = ReturnType<typeof countBySeverity>;

/** Whether one can go. */
function verdictSentence(counts: Counts): string {
	const worst = worstOf(counts);
	if (worst === undefined) return told(words.ready());
	const sentence = { error: words.notReady, warning: words.unsure, info: words.readyWith }[worst];
	return told(sentence({ counts: verdictText(counts) }));
}

/** Each step that something is done in, as it is told while it is the next; at its end the last one is over. */
function nextSteps(evening: readonly EveningRow[]): PageView["next"] {
	const steps = evening.filter(({ kind }) => kind !== "wait");
	return steps.map(({ at, until, from, say }) => ({ at, until, text: told(words.next({ time: from, say })) }));
}

/** The method that aligns in the evening, or else the first that works. */
function methodLineOf({ aligned, methods, evening, night, group, ofGroup }: Evaluation): string {
	if (group) return groupMethodLine(group);
	if (!aligned?.works || !night) return "";
	const heading = methodHeading(0, aligned.name);
	const within = withinText(aligned.budget.radius95);
	const step = evening?.steps.find(
		({ kind, of }) => kind === "align" && of !== undefined && methods[of]?.value === aligned,
	);
	const line = step
		? words.methodLine({ heading, within, time: nightSpan(night, step) })
		: words.methodAnyTime({ heading, within });
	return [told(line), ...(ofGroup && step ? alignmentNotes(ofGroup.kit, ofGroup.group, step) : [])].join(" ");
}

/** Without a place and a date nothing can be drawn. */
function missingText({ site, night, plan }: Evaluation): string {
	if (site && night) return "";
	const lacks = (kind: "site" | "night"): Phrase =>
		cellsOf(plan, kind).length === 0 ? words[kind]() : words[`${kind}Unread`]();
	// A night needs its site: only what is missing itself is told.
	const hasDate = firstValue(plan, "night")?.date !== undefined;
	const needs = site
		? lacks("night")
		: hasDate
			? lacks("site")
			: words.bothMissing({ site: lacks("site"), night: lacks("night") });
	return told(words.missing({ needs }));
}

const tableViews = (evaluation: Evaluation, lineOfCell: (cell: Cell) => number): readonly TableView[] =>
	evaluation.plan.cells.flatMap((cell) => {
		const values = evaluation.valuesOf(cell);
		if (values.length === 0) return [];
		return [
			{
				kind: cell.read.kind ?? "",
				name: cellName(evaluation.plan, cell),
				line: lineOfCell(cell),
				cell: cell.index,
				minutes: minutesOf(evaluation, cell),
				groups: groupsOf(values, told(words.budget())).map(rowsOf),
			},
		];
	});

const rowsOf = ({ of, values }: Group): TableView["groups"][number] => ({
	of,
	rows: values.map(({ label, text, how, id }) => ({ label, text, how, id })),
});

function frameViews(evaluation: Evaluation, lineOf: (offset: number) => number): readonly FrameView[] {
	const { targets, night } = evaluation;
	if (!night || !targets) return [];
	const { cell, value } = targets;
	return (value ?? [])
		.slice(0, MOST_FRAMES)
		.flatMap((target) =>
			target
				? (frameView(
						target,
						night,
						evaluation.field,
						lineOf(cell.start + (cell.read.places.get(`${target.index}`)?.value.from ?? 0)),
					) ?? [])
				: [],
		);
}

/** Targets whose frames are drawn: of a long list the first. */
const MOST_FRAMES = 6;

const WIDTH = 1200;
const TOP_ALTITUDE = 90;
const BOTTOM_ALTITUDE = -4;

/** The minute that the sky is first shown at, printed beside it: the first tracked target's, or the middle of the dark. */
function shownMinute({ night, targets }: Evaluation): EpochMs | undefined {
	if (!night) return undefined;
	const shown = targets?.value?.filter((target) => target !== undefined) ?? [];
	const lead = shown.find(({ tracked }) => tracked) ?? shown[0];
	const { from, until } = longest(night.moonless) ?? longest(night.dark) ?? night.onSite;
	return minuteOf(night.zone, lead ? lead.series.from : (from + until) / 2);
}

function panoramaView(
	{ site, night, tonight, methods, aligned: first, targets, landmarks, field }: Evaluation,
	at: EpochMs | undefined,
	lineOf: (offset: number) => number,
): PanoramaView | undefined {
	if (!site || !night || !tonight || at === undefined) return undefined;
	const { spot, cover } = site;
	const shown = targets?.value?.filter((target) => target !== undefined) ?? [];
	const scale = WIDTH / 360;
	const frameOfDate = frameNear(at);
	const frame: PanoramaFrame = {
		latitude: spot.latitude,
		sidereal: turn(siderealRad(frameOfDate, at) * DEG + spot.longitude),
		siderealRate: SKY_RATE_ARCSEC / 3600 / 1000,
		at,
		pressure: spot.air.pressure,
		temperature: spot.air.temperature,
		// Facing the equator: the Milky Way's core and the aim point are in the middle.
		centre: spot.latitude >= 0 ? 180 : 0,
		scale,
		width: WIDTH,
		horizon: TOP_ALTITUDE * scale,
	};
	const place = (body: SkyBody): SkyPlace => {
		const { rightAscension, declination } = equatorialPlace(body, spot, at);
		return [rightAscension, declination];
	};
	const aligned = methods.find(({ value }) => value !== undefined && value === first);
	const setUp = aligned?.value?.setUp;
	const places: PanoramaView["places"][number][] = [];
	const core = findBody("galactic-centre");
	// A target that is the core is drawn as that.
	if (core && !shown.some(({ body }) => body?.name === core.name))
		places.push({ name: told(words.core()), kind: "core", place: place(core), line: undefined });
	for (const mark of setUp?.marks ?? [])
		if (mark.body && mark.body.type === "star")
			places.push({
				name: mark.name,
				kind: "guide",
				place: place(mark.body),
				line: aligned && lineOf(aligned.cell.start + (aligned.cell.read.places.get("")?.key?.from ?? 0)),
			});
	const targetLine = (index: number): number =>
		lineOf((targets?.cell.start ?? 0) + (targets?.cell.read.places.get(`${index}`)?.value.from ?? 0));
	for (const { body, name, index } of shown)
		if (body && body.type !== "sun" && body.type !== "moon")
			places.push({ name, kind: "target", place: place(body), line: targetLine(index) });
	for (const { shower, index } of shown) {
		if (!shower) continue;
		const { hourAngleRad, declinationRad } = hourPlaceOf(spot, shower.radiantAt(at));
		const radiant: SkyPlace = [turn(frame.sidereal - hourAngleRad * DEG), declinationRad * DEG];
		const name = told(words.radiant({ shower: shower.shower.name }));
		places.push({ name, kind: "radiant", place: radiant, line: targetLine(index) });
	}
	const bodies = bodiesOf(night, spot, at);
	const pole = {
		azimuth: spot.latitude >= 0 ? 0 : 180,
		altitude: Math.abs(spot.latitude),
		hidden: site.poleHidden !== undefined,
	};
	const aim = setUp?.pictures.aim;
	const facing = words[frame.centre === 180 ? "south" : "north"]();
	const east = words[frame.centre === 180 ? "onLeft" : "onRight"]();
	const frames = shown.flatMap((target) => frameEdges(target, spot, frame, targetLine(target.index)));
	const says: SkySays = {
		view: told(
			words.seen({
				clock: "{clock}",
				targets: "{targets}",
				facing,
				altitude: degrees(pole.altitude),
				due: words[pole.azimuth === 0 ? "north" : "south"](),
				hidden: words[pole.hidden ? "hidden" : "inView"](),
				aim: aim ? words.seenAim(spoken(aim)) : "",
			}),
		),
		chart: told(words.wholeSky({ clock: "{clock}", targets: "{targets}", facing, east })),
		up: told(words.seenTarget({ name: "{name}", altitude: "{altitude}", bearing: "{bearing}" })),
		down: told(words.targetDown({ name: "{name}" })),
		targets: shown.map((target) => ({ name: target.name, course: courseOf(target, night, spot) })),
	};
	return {
		frame,
		height: (TOP_ALTITUDE - BOTTOM_ALTITUDE) * scale,
		skyline: Array.from({ length: 181 }, (_, i) => {
			const bearing = frame.centre - 180 + i * 2;
			return [bearing, round(cover.skylineAt(bearing))] as const;
		}),
		openings: cover.openings?.map(({ name, outline }) => ({ name, corners: outline.corners })) ?? [],
		obstructions: cover.obstructions.map(({ name, outline, window }) => ({
			name,
			corners: outline.corners,
			window: window?.corners,
		})),
		pole,
		aim,
		places,
		bodies,
		moonLit: night.sky.moonIllumination,
		stars: starClasses(spot, at),
		equator: celestialEquator(spot.latitude),
		landmarks: landmarks.map(({ name, bearing, altitude }) => ({ name, azimuth: bearing, altitude })),
		tracks: shown.flatMap((target) => trackOf(target, night)),
		frames,
		ends: shown.flatMap((target) => seriesEnds(target, frames, frame, night)),
		milkyWay: milkyWayAreas(frameOfDate),
		figures: figureLines(frameOfDate),
		sun: sunPath(night, spot),
		declination: field?.declination,
		from: night.onSite.from,
		until: night.onSite.until,
		at,
		clock: siteClockOf(night, night.onSite.from, night.onSite.until),
		says,
		wholeSkyCaption: told(words.wholeSkyCaption({ facing, east })),
	};
}

/** Between two known places of a course: far less than half a turn of the sky. */
const COURSE_STEP_MS = 90 * MINUTE_MS;

/** Where a target is over the time on site; a frame of the ground that a tracker carries on begins to move with its series. */
function courseOf(
	{ directionAt, series }: EvaluatedTarget,
	{ onSite: { from, until } }: EvaluatedNight,
	spot: Spot,
): SaidTarget["course"] {
	const steps = Math.max(1, Math.ceil((until - from) / COURSE_STEP_MS));
	const moments = Array.from({ length: steps + 1 }, (_, i) => from + ((until - from) * i) / steps);
	if (series.from > from && series.from < until) moments.push(series.from);
	return moments
		.sort((a, b) => a - b)
		.map((at) => {
			const { hourAngleRad, declinationRad } = hourPlaceOf(spot, directionAt(at));
			return [at, round(hourAngleRad * DEG), round(declinationRad * DEG)];
		});
}

const TRACK_STEP_MS = 10 * MINUTE_MS;

/** The way of a body of the night; each stretch in which it is in view by itself. */
export function trackOf(
	{ name, body, inView, directionAt }: EvaluatedTarget,
	night: EvaluatedNight,
): PanoramaView["tracks"] {
	if (!body || body.type === "sun" || body.type === "moon") return [];
	const seen = (at: number): Direction => {
		const { azimuth, altitude } = directionAt(at);
		return { azimuth: round(azimuth), altitude: round(altitude) };
	};
	return inView.map(({ from, until }) => {
		const steps = Math.max(1, Math.ceil((until - from) / TRACK_STEP_MS));
		return {
			name,
			points: Array.from({ length: steps + 1 }, (_, i) => seen(from + ((until - from) * i) / steps)),
			hours: nightHours(night, { from, until }).map(({ at, text }) => ({ ...seen(at), clock: text })),
		};
	});
}

/** Moments of the time on site at which the places of bodies are known. */
const MOMENTS = 32;

/** Sun, Moon and the bright planets that are up on site, with their ways. */
const bodiesOf = rememberedBy(({ onSite }: EvaluatedNight, spot: Spot, at: EpochMs): PanoramaView["bodies"] => {
	const moments = Array.from(
		{ length: MOMENTS + 1 },
		(_, i) => onSite.from + ((onSite.until - onSite.from) * i) / MOMENTS,
	);
	const path = (body: SkyBody): readonly (readonly [number, number, number])[] =>
		moments.map((t) => {
			const { azimuth, altitude } = apparentDirection(body, spot, t);
			return [t, round(azimuth), round(altitude)] as const;
		});
	const isUp = (points: readonly (readonly [number, number, number])[], altitude: number): boolean =>
		points.some((point) => point[2] > altitude);
	return [
		...(["sun", "moon"] as const).flatMap((kind) => {
			const body = findBody(kind);
			const points = body ? path(body) : [];
			if (!isUp(points, -2)) return [];
			const tilts = kind === "moon" ? { tilts: moments.map((t) => litSide(spot, t)) } : {};
			return [{ name: told(words[kind]()), kind, points, ...tilts }];
		}),
		...brightPlanets(at).flatMap((body) => {
			const points = path(body);
			return isUp(points, 0) ? [{ name: body.name, kind: "planet" as const, points }] : [];
		}),
	];
}, 1);

/** The Sun's path while it lights the sky; empty while it does not. */
const sunPath = rememberedBy(({ onSite: { from, until } }: EvaluatedNight, spot: Spot): PanoramaView["sun"] => {
	const sun = findBody("sun");
	if (!sun) return [];
	const steps = Math.max(1, Math.ceil((until - from) / (15 * MINUTE_MS)));
	return Array.from({ length: steps + 1 }, (_, i) => {
		const at = from + ((until - from) * i) / steps;
		const { azimuth, altitude } = apparentDirection(sun, spot, at);
		return [at, round(azimuth), round(altitude)] as const;
	});
}, 1);

/** A direction in the words of a picture. */
const spoken = ({ azimuth, altitude }: Direction) => ({ altitude: degrees(altitude), bearing: bearingText(azimuth) });

const round = (value: number): number => Math.round(value * 100) / 100;

/** What the pointer of a method is called. */
export const pointerWord = ({ sight }: { readonly sight: boolean }): Phrase => (sight ? words.sight() : words.laser());

/** The edge of a target's frame: eight points a side, through the lens's projection. */
function frameEdges(
	{ lens, name, directionAt, series, tracked, entry, panorama }: EvaluatedTarget,
	spot: Spot,
	frame: PanoramaFrame,
	line: number,
): PanoramaView["frames"] {
	if (!lens) return [];
	const [width, height] =
		entry.orientation === "portrait" ? [lens.camera.sensor[1], lens.camera.sensor[0]] : lens.camera.sensor;
	const edge: (readonly [number, number])[] = [];
	for (let i = 0; i < 8; i++) edge.push([-1 + i / 4, 1]);
	for (let i = 0; i < 8; i++) edge.push([1, 1 - i / 4]);
	for (let i = 0; i < 8; i++) edge.push([1 - i / 4, -1]);
	for (let i = 0; i < 8; i++) edge.push([-1, -1 + i / 4]);
	const edgeAt = (aim: Direction) => {
		const attitude = heldLevel(aim);
		return edge.map(([x, y]) => {
			const ray = rayOf(lens.camera, (x * width) / 2, (y * height) / 2);
			const { azimuth, altitude } = toDirection(outward(attitude, ray));
			return { azimuth: round(azimuth), altitude: round(altitude) };
		});
	};
	// Each panel of a panorama, as it is laid out at the first frame, and of its foreground.
	const panels = (rows: readonly PanoramaRow[]) =>
		rows.flatMap(({ altitude, bearings }, j) =>
			bearings.map((azimuth, i) => ({ name: panelName(j + 1, i + 1, name), edge: edgeAt({ azimuth, altitude }) })),
		);
	const rows = panorama && panels(panorama.rows);
	const foreground = panels(panorama?.ground()?.rows ?? []).map((panel) => ({
		name: groundName(panel.name),
		sky: undefined,
		ground: panel.edge,
		line,
	}));
	const frames = rows ?? [{ name, edge: edgeAt(directionAt(series.from)) }];
	if (!tracked)
		return [...frames.map((one) => ({ name: one.name, sky: undefined, ground: one.edge, line })), ...foreground];
	// A tracked frame turns with the sky: its edge as places of date at the frame's start.
	const lst = frame.sidereal + (series.from - frame.at) * frame.siderealRate;
	const onSky = (direction: Direction): SkyPlace => {
		const { hourAngleRad, declinationRad } = hourPlaceOf(spot, direction);
		return [round(turn(lst - hourAngleRad * DEG)), round(declinationRad * DEG)];
	};
	return [
		...frames.map((one) => ({ name: one.name, sky: one.edge.map(onSky), ground: undefined, line })),
		...foreground,
	];
}

/** A series shorter than this has its end where it began. */
const SHORT_SERIES_MS = 5 * MINUTE_MS;

/** The edge of a target's frame as its series begins and as its last frame does; nothing where each panel has its own time. */
function seriesEnds(
	{ name, series, entry, panorama }: EvaluatedTarget,
	frames: PanoramaView["frames"],
	frame: PanoramaFrame,
	night: EvaluatedNight,
): PanoramaView["ends"] {
	const edge = frames.find((one) => one.name === name)?.sky;
	const last = series.until - (entry.exposure ?? 0) * 1000;
	if (!edge || panorama || last - series.from < SHORT_SERIES_MS) return [];
	return [series.from, last].map((at, i) => ({
		text: told(words[i === 0 ? "firstFrame" : "lastFrame"]({ time: nightClock(night, at) })),
		isLast: i > 0,
		edge: edge.map((place) => seenAt(frame, place, at)),
	}));
}

function alignmentView({ site, lenses, night }: Evaluation, value: EvaluatedMethod): AlignmentView | undefined {
	if (!site || !night) return undefined;
	const { setUp } = value;
	const { pointer, turn, dial } = setUp.pictures;
	const lens = lenses[0]?.value;
	const poleSide = setUp.bearing === 0 ? "north" : "south";
	return {
		kind: value.method.kind,
		tilt: setUp.tilt,
		poleSide,
		poleHidden: site.poleHidden !== undefined,
		pointer,
		turn,
		dial: dial && {
			star: dial.star,
			clock: exactNightClock(night, dial.at),
			distance: `${(dial.distance * 60).toFixed(1)}′`,
			hours: dial.hours,
			upright: dial.upright,
			inverted: dial.inverted,
		},
		ellipse: ellipseView(value.budget, lens ? fieldAcross(lens.camera, lens.camera.sensor[0]) : undefined),
		alternative: told(
			words.tilted({
				tilt: degrees(setUp.tilt),
				side: words[poleSide](),
				pointer: pointer
					? words.tiltedPointer({
							pointer: pointerWord(pointer),
							offset: degrees(pointer.offset, 0),
							altitude: degrees(pointer.altitude),
						})
					: "",
			}),
		),
	};
}

function ellipseView(
	{ bias, covariance, radius95, shares }: Budget,
	field: number | undefined,
): EllipseView | undefined {
	if (!isErrorAngle(radius95)) return undefined;
	const { major, minor, tilt } = ellipseOf(covariance);
	return {
		major,
		minor,
		tilt,
		...bias,
		radius95,
		field,
		shares: shares.filter(({ total }) => total > 0).map(({ name, total, part }) => ({ name, total, part })),
	};
}

/** Altitudes of Sun and Moon over the time on site. */
const heightsOf = rememberedBy(({ onSite: { from, until } }: EvaluatedNight, spot: Spot) => {
	const steps = Math.max(12, Math.round((until - from) / (10 * MINUTE_MS)));
	const moments = Array.from({ length: steps + 1 }, (_, i) => from + ((until - from) * i) / steps);
	const moon = findBody("moon");
	return {
		sun: moments.map((at) => [at, round(sunAltitude(spot, at))] as const),
		moon: moon ? moments.map((at) => [at, round(apparentDirection(moon, spot, at).altitude)] as const) : [],
	};
}, 1);

/** Steps whose bars stand out, by what they are. */
const BARS: Readonly<Partial<Record<EveningRow["kind"], "align" | "frames">>> = {
	align: "align",
	sky: "frames",
	foreground: "frames",
};

function timelineView(
	{ night, site, methods, aligned, targets }: Evaluation,
	evening: readonly EveningRow[],
	shownAt: EpochMs | undefined,
): TimelineView | undefined {
	if (!night || !site) return undefined;
	const { onSite, sky } = night;
	const { from, until } = onSite;
	const clip = (list: readonly Interval[]): readonly Interval[] =>
		list.flatMap((one) =>
			one.until <= from || one.from >= until
				? []
				: [{ from: Math.max(one.from, from), until: Math.min(one.until, until) }],
		);
	const textOf = (list: readonly Interval[]): string =>
		list.length === 0 ? told(words.never()) : list.map((one) => nightInterval(night, one)).join(", ");
	const row = (
		label: string,
		kind: TimelineView["rows"][number]["kind"],
		list: readonly Interval[],
	): TimelineView["rows"][number] => ({
		label,
		kind,
		intervals: clip(list),
		text: textOf(clip(list)),
	});
	// Their ends are dusk and dawn, moonrise and moonset, as they are told there: nothing must fit between them.
	const ofSky = (label: string, kind: "dark" | "moon", list: readonly Interval[]): typeof rows => {
		const within = clip(list);
		const text = within.map((one) => nightSpan(night, one)).join(", ") || told(words.never());
		return [{ label, kind, intervals: within, text }];
	};
	const rows: TimelineView["rows"][number][] = ofSky(told(words.dark()), "dark", night.dark);
	if (clip(sky.moonUp).length > 0) rows.push(...ofSky(told(words.moonUp()), "moon", sky.moonUp));
	for (const { value } of methods) if (value) rows.push(row(value.name, "method", value.setUp.windows));
	for (const target of targets?.value ?? []) {
		if (!target) continue;
		rows.push(row(told(words.usable({ target: target.name })), "target", target.usable));
	}
	// Over these what is done, in its order; what is done on the way there and back is before and after.
	for (const { kind, at, until: end, say, times } of evening)
		if (kind !== "wait" && end >= from && at <= until)
			rows.push({ label: say, kind: BARS[kind] ?? "step", intervals: clip([{ from: at, until: end }]), text: times });
	const moments: TimelineView["moments"][number][] = [];
	const moment = (at: number | undefined, label: string): void => {
		if (at !== undefined && at >= from && at <= until) moments.push({ at, label, clock: nightClock(night, at) });
	};
	moment(onSite.from, told(words.arrive()));
	moment(sky.sun.sunset, told(words.sunset()));
	// As dark as the plan asks for, as in its row; where it is so on arrival and on leaving neither is a moment.
	const [dusk, dawn] = [night.dark[0]?.from, night.dark.at(-1)?.until];
	if (dusk !== undefined && dusk > from) moment(dusk, told(words.dark()));
	moment(aligned?.setUp.at, aligned?.name ?? "");
	for (const target of targets?.value ?? []) if (target) moment(target.series.from, target.name);
	moment(sky.moonrise[0], told(words.moonrise()));
	moment(sky.moonset[0], told(words.moonset()));
	if (dawn !== undefined && dawn < until) moment(dawn, told(words.dawn()));
	moment(onSite.until, told(words.leave()));
	return {
		from,
		until,
		hours: nightHours(night, { from, until }),
		...heightsOf(night, site.spot),
		dark: clip(night.dark),
		at: shownAt,
		rows,
		moments: moments.sort((a, b) => a.at - b.at),
	};
}

function trailView({ targets, axis, site }: Evaluation): TrailView | undefined {
	const target = targets?.value?.find((one) => one?.tracked && one.limits && one.lens);
	if (!target?.limits || !axis || !site || !target.entry.exposure) return undefined;
	const { limits } = target;
	const [first] = target.trails?.() ?? [];
	if (!first || !Number.isFinite(limits.trail)) return undefined;
	return {
		target: target.name,
		exposure: exposureText(target.entry.exposure),
		limit: target.trailLimit,
		median: limits.trail,
		most: limits.trail95,
		perfect: limits.floor,
		chance: limits.chance,
		stars: displacementsFor(first, axis.budget),
	};
}
