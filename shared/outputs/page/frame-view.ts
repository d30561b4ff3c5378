/**
 * What a lens sees when a target's first frame begins: its stars, what hides, the target's extent, the worst star's place;
 * of a panorama all of its panels, as they are laid out.
 */
import { heldLevel, outward } from "../../alignment/attitude.ts";
import type { Shot } from "../../alignment/frame-stars.ts";
import type { EvaluatedNight } from "../../cells/night/night.ts";
import { alongTail } from "../../cells/targets/framing.ts";
import type { TargetPanorama } from "../../cells/targets/panorama.ts";
import { type EvaluatedTarget, isOfArcs } from "../../cells/targets/target.ts";
import { placeInFrame } from "../../cells/targets/values.ts";
import type { MagneticField } from "../../earth/magnetism.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { rememberedBy } from "../../memory/memory.ts";
import { degrees } from "../../notation/angle.ts";
import { fieldAcross, pointOf, pointScale, rayOf } from "../../optics/camera.ts";
import { fieldOf, type Held, type PanoramaRow } from "../../optics/panorama-rows.ts";
import { frameNear, siderealRad } from "../../sky/frame.ts";
import { type Direction, toDirection, toVector } from "../../sky/horizontal.ts";
import { starsOut } from "../../sky/night.ts";
import { apparentDirection, hourPlaceOf } from "../../sky/place.ts";
import { starAt, starColumns, starVector } from "../../sky/stars.ts";
import { dot, fromAngles, halfTurn, RAD, turn, type Vector } from "../../sky/vector.ts";
import { told } from "../../text/sentence.ts";
import { nightClock } from "../clock.ts";
import { pointingOf, pointingText } from "../pointing.ts";
import { words } from "./words.ts";

/** Places are parts of the frame: 0 at its left and its top, 1 at its right and its bottom. */
type Place = readonly [x: number, y: number];

/** A panel of a panorama where it is laid out: its border, and how it is called. */
export interface PanelShape {
	readonly outline: readonly Place[];
	readonly label: string;
	readonly isGround: boolean;
}

export interface FrameView {
	readonly name: string;
	/** Line of the plan, from 1. */
	readonly line: number;
	/** Height over width. */
	readonly shape: number;
	readonly stars: readonly { readonly at: Place; readonly magnitude: number }[];
	/** Areas in which something hides the sky. */
	readonly hidden: readonly (readonly Place[])[];
	/** Radius of the target's extent over the frame's width; undefined where the plan does not say. */
	readonly extent: number | undefined;
	/** Where stars trail most; undefined where arcs are wanted, and by day. */
	readonly worst: Place | undefined;
	/** A comet's tail, away from the Sun: from its head, to where its extent ends or where that is not said; see `TAIL`. */
	readonly tail: readonly [head: Place, end: Place] | undefined;
	/** The Milky Way's middle line, where the target is its arch. */
	readonly arch: readonly (readonly Place[])[];
	/** Of a panorama, in the order in which they are taken; then those of its foreground. */
	readonly panels: readonly PanelShape[];
	readonly alternative: string;
}

/** Columns and rows of the frame that are looked at; between two rows the border is searched. */
const COLUMNS = 40;
const ROWS = 12;
const HALVINGS = 4;
/** Stars as faint as this are drawn. */
const FAINTEST = 5;

/** Undefined for a frame of the ground, and where lens or exposure are not known. */
export const frameView = rememberedBy(viewOf, 1);

function viewOf(
	target: EvaluatedTarget,
	night: EvaluatedNight,
	field: MagneticField | undefined,
	line: number,
): FrameView | undefined {
	const [frame] = target.frames?.() ?? [];
	if (!frame?.showsSky || !target.ofTheSky) return undefined;
	const { shot } = frame;
	if (target.panorama) return panoramaView(target, target.panorama, shot, night, line);
	const [width, height] = sidesOf(shot);
	const { from } = target.series;
	const { extent } = target.entry;
	const isStarry = starsOut(shot.spot, from);
	const worst = isOfArcs(target.entry) || !isStarry ? undefined : target.limits?.worst;
	// The frame rolls with the sky: what trails most later is elsewhere in this one.
	const place = worst?.frame.at === frame.at ? worst.star.place : undefined;
	return {
		name: target.name,
		line,
		shape: height / width,
		stars: isStarry ? starsIn(shot, from) : [],
		hidden: hiddenIn((x, y) => {
			const ray = rayOf(shot.camera, (x - 0.5) * width, (0.5 - y) * height);
			return shot.sky.isSky(toDirection(outward(shot.attitude, ray)));
		}),
		arch: inRuns(target.arch?.start().along ?? [], (one) => placeOf(shot, toVector(one))),
		tail: tailIn(target, width / height, extent === undefined ? undefined : extentOf(shot, extent) / width),
		panels: [],
		extent: extent === undefined ? undefined : extentOf(shot, extent) / width,
		worst: place && [(1 + place[0]) / 2, (1 - place[1]) / 2],
		alternative: told(
			words.frame({
				name: target.name,
				clock: nightClock(night, from),
				wide: degrees(fieldAcross(shot.camera, width), 0),
				high: degrees(fieldAcross(shot.camera, height), 0),
				pointing: pointingText(pointingOf(target.directionAt(from), { field })),
				worst: !worst
					? ""
					: place
						? words.frameWorst({ place: placeInFrame(place) })
						: words.frameWorstLater({
								place: placeInFrame(worst.star.place),
								time: nightClock(night, worst.frame.at),
							}),
				tail: target.framing?.start().tail === undefined ? "" : words.frameTail(),
			}),
		),
	};
}

/** How long a tail is drawn whose extent is not said, part of the frame's shorter side: its length is not computed. */
const TAIL = 0.25;

/** `ratio`: width over height. `extent`: radius, parts of the width. */
function tailIn({ framing }: EvaluatedTarget, ratio: number, extent: number | undefined): FrameView["tail"] {
	const { place, tail } = framing?.start() ?? {};
	if (!place || tail === undefined) return undefined;
	const length = extent ?? TAIL * Math.min(1, 1 / ratio);
	const head: Place = [(1 + place[0]) / 2, (1 - place[1]) / 2];
	const [x, y] = [length * Math.sin(tail * RAD), -length * ratio * Math.cos(tail * RAD)];
	return [head, [thousandths(head[0] + x), thousandths(head[1] + y)]];
}

/** Bearings across and altitudes up: what of a panorama is drawn, evenly. */
interface Window {
	readonly left: number;
	readonly low: number;
	readonly wide: number;
	readonly high: number;
}

/** Degrees that are drawn beside the outer panels. */
const MARGIN = 2;
/** Stars as faint as this are drawn in a panorama. */
const FAINTEST_OF_PANORAMA = 4;

function panoramaView(
	target: EvaluatedTarget,
	panorama: TargetPanorama,
	shot: Shot,
	night: EvaluatedNight,
	line: number,
): FrameView {
	const { name, arch } = target;
	const { from } = target.series;
	const { rows, held, panels, columns } = panorama;
	const outlines = (all: readonly PanoramaRow[]) =>
		all.map(({ altitude, bearings }) => bearings.map((bearing) => outlineOf(held, bearing, altitude)));
	const sky = outlines(rows);
	const ground = outlines(panorama.ground()?.rows ?? []).flat();
	const window = windowOf([...sky.flat(), ...ground].flat());
	const at = (bearing: number, altitude: number): Place => [
		thousandths((bearing - window.left) / window.wide),
		thousandths(1 - (altitude - window.low) / window.high),
	];
	const within = ({ azimuth, altitude }: Direction): Place | undefined => {
		const [x, y] = at(window.left + turn(azimuth - window.left), altitude);
		return x >= 0 && x <= 1 && y >= 0 && y <= 1 ? [x, y] : undefined;
	};
	const tail = tailOver(target, panorama, shot, at, within);
	const shape = (outline: Outline, label: string, isGround: boolean): PanelShape => ({
		outline: outline.map(([bearing, altitude]) => at(bearing, Math.min(90, altitude))),
		label,
		isGround,
	});
	const said = {
		name,
		clock: nightClock(night, from),
		ground: ground.length === 0 ? "" : words.panelsGround(),
		arch: arch ? words.panelsArch() : "",
		tail: tail ? words.frameTail() : "",
	};
	return {
		name,
		line,
		shape: window.high / (window.wide * Math.max(0.3, Math.cos((window.low + window.high / 2) * RAD))),
		stars: starsOut(shot.spot, from) ? starsOver(shot, from, within) : [],
		hidden: hiddenIn((x, y) =>
			shot.sky.isSky({
				azimuth: turn(window.left + x * window.wide),
				altitude: window.low + (1 - y) * window.high,
			}),
		),
		extent: undefined,
		tail,
		worst: undefined,
		arch: inRuns(arch?.start().along ?? [], within),
		panels: [
			...panels.flatMap(({ row, column }, i) => {
				const outline = sky[row - 1]?.[column - 1];
				return outline ? [shape(outline, `${i + 1}`, false)] : [];
			}),
			...ground.map((outline) => shape(outline, "", true)),
		],
		alternative: told(
			panels.length === 1 ? words.panelsOne(said) : words.panels({ ...said, columns, rows: rows.length }),
		),
	};
}

/** The same in a panorama; of a panel's shorter side where its extent is not said. */
function tailOver(
	{ body, entry: { extent }, series: { from }, directionAt }: EvaluatedTarget,
	{ held }: TargetPanorama,
	{ spot }: Shot,
	at: (bearing: number, altitude: number) => Place,
	within: (direction: Direction) => Place | undefined,
): FrameView["tail"] {
	if (body?.type !== "comet") return undefined;
	const comet = directionAt(from);
	const head = within(comet);
	if (!head) return undefined;
	const length = extent === undefined ? TAIL * Math.min(...fieldOf(held)) : extent / 2;
	const end = alongTail(body.elements, comet, length, spot, from);
	// From its head on: bearings run on over the picture's ends.
	const [own] = at(comet.azimuth, comet.altitude);
	const [x, y] = at(comet.azimuth + halfTurn(end.azimuth - comet.azimuth), Math.min(90, end.altitude));
	return [head, [thousandths(head[0] + x - own), y]];
}

/** Bearing, running on, and altitude of the border of a level frame, clockwise from its upper left corner. */
type Outline = readonly (readonly [bearing: number, altitude: number])[];

/** Pieces of each side of a panel. */
const PIECES = 16;

function outlineOf({ camera, width, height }: Held, bearing: number, altitude: number): Outline {
	const attitude = heldLevel({ azimuth: bearing, altitude });
	const corners = [
		[-1, 1],
		[1, 1],
		[1, -1],
		[-1, -1],
	] as const;
	return corners.flatMap(([x1, y1], side) => {
		const [x2, y2] = corners[(side + 1) % 4] ?? [x1, y1];
		return Array.from({ length: PIECES }, (_, k) => {
			const [x, y] = [x1 + ((x2 - x1) * k) / PIECES, y1 + ((y2 - y1) * k) / PIECES];
			const ray = rayOf(camera, (x * width) / 2, (y * height) / 2);
			const seen = toDirection(outward(attitude, ray));
			return [bearing + halfTurn(seen.azimuth - bearing), seen.altitude] as const;
		});
	});
}

/** All of a panorama's outlines with a margin, once around at most. */
function windowOf(points: Outline): Window {
	const ends = (values: readonly number[], least: number, most: number): readonly [number, number] => [
		Math.max(least, Math.min(...values) - MARGIN),
		Math.min(most, Math.max(...values) + MARGIN),
	];
	const [left, right] = ends(
		points.map(([bearing]) => bearing),
		Number.NEGATIVE_INFINITY,
		Number.POSITIVE_INFINITY,
	);
	const [low, top] = ends(
		points.map(([, altitude]) => altitude),
		-90,
		90,
	);
	const wide = Math.min(360, right - left);
	return { left: (left + right - wide) / 2, wide, low, high: top - low };
}

/** The places of a line, in as many pieces as it is seen in. */
function inRuns<T>(line: readonly T[], placeOf: (one: T) => Place | undefined): readonly (readonly Place[])[] {
	const runs: Place[][] = [];
	let before: Place | undefined;
	for (const one of line) {
		const place = placeOf(one);
		// What leaves a picture of the whole horizon on one side comes in on the other.
		const goesOn = place && before && Math.abs(place[0] - before[0]) < 0.5;
		if (place && goesOn) runs.at(-1)?.push(place);
		else if (place) runs.push([place]);
		before = place;
	}
	return runs.filter(({ length }) => length > 1);
}

/** The brighter stars that are seen where a panorama is drawn. */
function starsOver(shot: Shot, at: EpochMs, within: (direction: Direction) => Place | undefined): FrameView["stars"] {
	const frame = frameNear(at);
	const found: { readonly at: Place; readonly magnitude: number }[] = [];
	starColumns().magnitude.forEach((magnitude, index) => {
		if (magnitude > FAINTEST_OF_PANORAMA) return;
		const star = starAt(index);
		const direction = apparentDirection({ type: "star", name: star.name, star }, shot.spot, at, frame);
		const place = within(direction);
		if (place && shot.sky.isSky(direction)) found.push({ at: place, magnitude });
	});
	return found;
}

const sidesOf = ({ camera, vertical }: Shot): readonly [number, number] =>
	vertical ? [camera.sensor[1], camera.sensor[0]] : camera.sensor;

/** Millimetres from the middle to the edge of something so many degrees wide. */
function extentOf({ camera }: Shot, extent: number): number {
	const [across, z] = [Math.sin((extent / 2) * RAD), Math.cos((extent / 2) * RAD)];
	const radius = across * pointScale(camera, across, z);
	return Number.isFinite(radius) ? radius : 0;
}

/** Where a direction falls in the frame; undefined when it does not. */
function placeOf(shot: Shot, vector: Vector): Place | undefined {
	const { camera, attitude } = shot;
	const [width, height] = sidesOf(shot);
	const point = pointOf(camera, [dot(attitude.right, vector), dot(attitude.up, vector), dot(attitude.forward, vector)]);
	if (!point) return undefined;
	const [x, y] = [0.5 + point[0] / width, 0.5 - point[1] / height];
	return x >= 0 && x <= 1 && y >= 0 && y <= 1 ? [thousandths(x), thousandths(y)] : undefined;
}

const thousandths = (value: number): number => Math.round(value * 1000) / 1000;

/** Stars that are seen in the frame. */
function starsIn(shot: Shot, at: EpochMs): FrameView["stars"] {
	const { spot, attitude, camera, sky } = shot;
	const { magnitude, declination } = starColumns();
	const frame = frameNear(at);
	const [width, height] = sidesOf(shot);
	const far = fieldAcross(camera, Math.hypot(width, height)) / 2 + 1;
	const nearest = Math.cos(far * RAD);
	const middle = equatorialOf(attitude.forward, shot, at);
	const middleDeclination = Math.asin(middle[2]) / RAD;
	const found: { readonly at: Place; readonly magnitude: number }[] = [];
	magnitude.forEach((one, index) => {
		// The table's declinations are of J2000: precession moves them by less than a degree in a century and a half.
		if (one > FAINTEST || Math.abs((declination[index] ?? 0) - middleDeclination) > far + 1) return;
		if (dot(starVector(index, frame), middle) < nearest) return;
		const star = starAt(index);
		const direction = apparentDirection({ type: "star", name: star.name, star }, spot, at, frame);
		const place = placeOf(shot, toVector(direction));
		if (place && sky.isSky(direction)) found.push({ at: place, magnitude: one });
	});
	return found;
}

/** A direction of the spot as a vector of date: to leave out at once what is far from the frame. */
function equatorialOf(direction: Vector, { spot }: Shot, at: EpochMs): Vector {
	const { hourAngleRad, declinationRad } = hourPlaceOf(spot, toDirection(direction));
	const rightAscension = siderealRad(frameNear(at), at) + spot.longitude * RAD - hourAngleRad;
	return fromAngles(rightAscension, declinationRad);
}

/** What of the frame shows no sky, between each two of its columns. */
function hiddenIn(isSky: (x: number, y: number) => boolean): FrameView["hidden"] {
	const columns = Array.from({ length: COLUMNS + 1 }, (_, i) => hiddenColumn((y) => isSky(i / COLUMNS, y)));
	return columns.slice(1).flatMap((right, i) => {
		const left = columns[i] ?? [];
		const [from, until] = [thousandths(i / COLUMNS), thousandths((i + 1) / COLUMNS)];
		const middle = thousandths((i + 0.5) / COLUMNS);
		const area = (x1: number, a: Place, x2: number, b: Place): readonly Place[] => [
			[x1, a[0]],
			[x2, b[0]],
			[x2, b[1]],
			[x1, a[1]],
		];
		// Where something begins or ends between the two, each is taken to reach half of the way.
		return left.length === right.length
			? left.map((part, k) => area(from, part, until, right[k] ?? part))
			: [
					...left.map((part) => area(from, part, middle, part)),
					...right.map((part) => area(middle, part, until, part)),
				];
	});
}

/** Stretches of a column, from its top, in which no sky is seen. */
function hiddenColumn(isSky: (y: number) => boolean): readonly Place[] {
	const borders: number[] = [];
	let before = isSky(0);
	if (!before) borders.push(0);
	for (let row = 1; row <= ROWS; row++) {
		const now = isSky(row / ROWS);
		if (now !== before) borders.push(thousandths(borderBetween(isSky, (row - 1) / ROWS, row / ROWS, before)));
		before = now;
	}
	if (!before) borders.push(1);
	return Array.from({ length: borders.length / 2 }, (_, i) => [borders[2 * i] ?? 0, borders[2 * i + 1] ?? 1] as const);
}

function borderBetween(isSky: (y: number) => boolean, from: number, until: number, before: boolean): number {
	let [low, high] = [from, until];
	for (let i = 0; i < HALVINGS; i++) {
		const middle = (low + high) / 2;
		if (isSky(middle) === before) low = middle;
		else high = middle;
	}
	return (low + high) / 2;
}
