/** What a lens sees when a target's first frame begins: its stars, what hides, the target's extent, the worst star's place. */
import { outward } from "../../alignment/attitude.ts";
import type { Shot } from "../../alignment/frame-stars.ts";
import type { EvaluatedNight } from "../../cells/night/night.ts";
import { type EvaluatedTarget, isOfArcs } from "../../cells/targets/target.ts";
import { placeInFrame } from "../../cells/targets/values.ts";
import type { MagneticField } from "../../earth/magnetism.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { rememberedBy } from "../../memory/memory.ts";
import { degrees } from "../../notation/angle.ts";
import { fieldAcross, pointOf, pointScale, rayOf } from "../../optics/camera.ts";
import { frameNear, siderealRad } from "../../sky/frame.ts";
import { toDirection, toVector } from "../../sky/horizontal.ts";
import { apparentDirection, hourPlaceOf } from "../../sky/place.ts";
import { starAt, starColumns, starVector } from "../../sky/stars.ts";
import { dot, fromAngles, RAD, type Vector } from "../../sky/vector.ts";
import { told } from "../../text/sentence.ts";
import { nightClock } from "../clock.ts";
import { panelName } from "../panels.ts";
import { pointingOf, pointingText } from "../pointing.ts";
import { words } from "./words.ts";

/** Places are parts of the frame: 0 at its left and its top, 1 at its right and its bottom. */
type Place = readonly [x: number, y: number];

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
	/** Where stars trail most; undefined where arcs are wanted. */
	readonly worst: Place | undefined;
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
	const [width, height] = sidesOf(shot);
	const { from } = target.series;
	const { extent } = target.entry;
	const [panel] = target.panorama?.panels ?? [];
	const panelled = panel ? panelName(panel.row, panel.column, target.name) : target.name;
	const worst = isOfArcs(target.entry) ? undefined : target.limits?.worst;
	// The frame rolls with the sky: what trails most later is elsewhere in this one.
	const place = worst?.frame.at === frame.at ? worst.star.place : undefined;
	return {
		name: target.name,
		line,
		shape: height / width,
		stars: starsIn(shot, from),
		hidden: hiddenIn(shot),
		extent: extent === undefined ? undefined : extentOf(shot, extent) / width,
		worst: place && [(1 + place[0]) / 2, (1 - place[1]) / 2],
		alternative: told(
			words.frame({
				name: panelled,
				clock: nightClock(night, from),
				wide: degrees(fieldAcross(shot.camera, width), 0),
				high: degrees(fieldAcross(shot.camera, height), 0),
				pointing: pointingText(pointingOf(panel?.direction ?? target.directionAt(from), { field })),
				worst: !worst
					? ""
					: place
						? words.frameWorst({ place: placeInFrame(place) })
						: words.frameWorstLater({
								place: placeInFrame(worst.star.place),
								time: nightClock(night, worst.frame.at),
							}),
			}),
		),
	};
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
	const { magnitude } = starColumns();
	const frame = frameNear(at);
	const [width, height] = sidesOf(shot);
	const nearest = Math.cos((fieldAcross(camera, Math.hypot(width, height)) / 2 + 1) * RAD);
	const middle = equatorialOf(attitude.forward, shot, at);
	const found: { readonly at: Place; readonly magnitude: number }[] = [];
	magnitude.forEach((one, index) => {
		if (one > FAINTEST || dot(starVector(index, frame), middle) < nearest) return;
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
function hiddenIn(shot: Shot): FrameView["hidden"] {
	const [width, height] = sidesOf(shot);
	const isSky = (x: number, y: number): boolean => {
		const ray = rayOf(shot.camera, (x - 0.5) * width, (0.5 - y) * height);
		return shot.sky.isSky(toDirection(outward(shot.attitude, ray)));
	};
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
