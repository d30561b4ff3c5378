/**
 * Where things of the sky are drawn on the all-sky chart at an instant. The page's script moves them with the same
 * functions that drew them.
 */
import type { Direction } from "../../sky/horizontal.ts";
import { halfTurn, RAD } from "../../sky/vector.ts";
import { shortened } from "./shortened.ts";
import { between, oneDigit, type PanoramaFrame, type SkyArea, type SkyPlace, seenAll, seenAt } from "./sky-paths.ts";

/** The zenith, in both directions, of a chart that is 300 wide. */
export const MIDDLE = 150;
/** How far from it the horizon is. */
export const RADIUS = 126;
const LONGEST_NAME = 19;

type ChartPlace = readonly [x: number, y: number];

const px = (value: number): number => Math.round(value * 10) / 10;

/** Where a direction is on the chart of one who faces a bearing. */
export const onChart = (facing: number, { azimuth, altitude }: Direction): ChartPlace =>
	placeOf(facing, azimuth, altitude);

function placeOf(facing: number, azimuth: number, altitude: number): ChartPlace {
	const far = (RADIUS * (90 - altitude)) / 90;
	const angle = (azimuth - facing) * RAD;
	return [px(MIDDLE + Math.sin(angle) * far), px(MIDDLE + Math.cos(angle) * far)];
}

/** The same as in a path. */
function writtenPlace(facing: number, azimuth: number, altitude: number): string {
	const far = (RADIUS * (90 - altitude)) / 90;
	const angle = (azimuth - facing) * RAD;
	return `${oneDigit(MIDDLE + Math.sin(angle) * far)} ${oneDigit(MIDDLE + Math.cos(angle) * far)}`;
}

/** The direction that is at a place of the chart. */
export const fromChart = (facing: number, x: number, y: number): Direction => ({
	azimuth: facing + Math.atan2(x - MIDDLE, y - MIDDLE) / RAD,
	altitude: 90 - (90 * Math.hypot(x - MIDDLE, y - MIDDLE)) / RADIUS,
});

/** A path through directions; empty without any. */
export const chartLine = (facing: number, directions: readonly Direction[]): string =>
	directions.length === 0
		? ""
		: `M${directions.map(({ azimuth, altitude }) => writtenPlace(facing, azimuth, altitude)).join("L")}`;

/** A closed outline of places, such as a frame's edge. */
export const chartOutlineAt = (frame: PanoramaFrame, places: readonly SkyPlace[], at: number): string =>
	`${chartLine(
		frame.centre,
		places.map((place) => seenAt(frame, place, at)),
	)}Z`;

/** An area of the sky by its quarters; what is wholly below the horizon is left out. */
export function chartAreaAt(frame: PanoramaFrame, { ends, links }: SkyArea, at: number): string {
	const seen = seenAll(ends, frame, at);
	let path = "";
	for (let i = 0; i < links.length; i += 2) {
		const [one, other] = [4 * (links[i] ?? 0), 4 * (links[i + 1] ?? 0)];
		const corners = [one, other, other + 2, one + 2];
		if (corners.some((k) => (seen[k + 1] ?? 0) >= 0))
			path += `M${corners.map((k) => writtenPlace(frame.centre, seen[k] ?? 0, seen[k + 1] ?? 0)).join("L")}Z`;
	}
	return path;
}

/** Lines between places of the sky as far as they are above the horizon; each list has right ascension and declination in turn. */
export function chartLinesAt(frame: PanoramaFrame, lines: readonly (readonly number[])[], at: number): string {
	let path = "";
	for (const line of lines) {
		const seen = seenAll(line, frame, at);
		let isOn = false;
		for (let i = 0; i < seen.length; i += 2) {
			const altitude = seen[i + 1] ?? 0;
			if (altitude > 0) path += `${isOn ? "L" : "M"}${writtenPlace(frame.centre, seen[i] ?? 0, altitude)}`;
			isOn = altitude > 0;
		}
	}
	return path;
}

/** Dots of stars as lines of no length. `places`: right ascension and declination in turn. */
export function chartStarsAt(frame: PanoramaFrame, places: readonly number[], at: number): string {
	const seen = seenAll(places, frame, at);
	let path = "";
	for (let i = 0; i < seen.length; i += 2) {
		const altitude = seen[i + 1] ?? 0;
		if (altitude > 0) path += `M${writtenPlace(frame.centre, seen[i] ?? 0, altitude)}h0`;
	}
	return path;
}

/** Which way on the chart is up at a direction, toward the zenith: degrees clockwise from the chart's top. */
export function turnOnChart(facing: number, { azimuth, altitude }: Direction): number {
	const [x, y] = placeOf(facing, azimuth, Math.min(altitude, 89));
	return Math.atan2(MIDDLE - x, y - MIDDLE) / RAD;
}

type Points = readonly (readonly [at: number, azimuth: number, altitude: number])[];

/** What has a name on the chart. */
export interface NamedSky {
	readonly frame: PanoramaFrame;
	readonly skyline: readonly (readonly [bearing: number, altitude: number])[];
	readonly places: readonly { readonly name: string; readonly place: SkyPlace }[];
	readonly bodies: readonly { readonly name: string; readonly points: Points }[];
	readonly pole: Direction;
}

/** A name beside its mark. */
export interface ChartLabel {
	readonly name: string;
	readonly x: number;
	readonly y: number;
	readonly isRight: boolean;
}

/** What is drawn of the chart's marks at an instant; what is not up has no direction. */
export interface ChartMarks {
	readonly places: readonly (Direction | undefined)[];
	readonly bodies: readonly (Direction | undefined)[];
	/** Of places, of bodies and of the pole, in this order; undefined where there is no mark. */
	readonly labels: readonly (ChartLabel | undefined)[];
}

/** `pole`: its name. */
export function chartMarksAt(sky: NamedSky, pole: string, at: number): ChartMarks {
	const { frame } = sky;
	const places = sky.places.map(({ place }) => {
		const direction = seenAt(frame, place, at);
		return direction.altitude < 0 ? undefined : direction;
	});
	// Whose middle the skyline hides is not drawn: nothing would be left of it but half a name.
	const bodies = sky.bodies.map(({ points }) => {
		const direction = between(points, at);
		const lowest = direction && Math.max(0, skylineNear(sky, direction.azimuth));
		return lowest !== undefined && direction && direction.altitude > lowest ? direction : undefined;
	});
	const names = [...sky.places, ...sky.bodies, { name: pole }].map(({ name }) => name);
	const marks = [...places, ...bodies, sky.pole].map((one) => one && onChart(frame.centre, one));
	// A body's name is cut at the rim and lies behind the ground, as the body does.
	const isBody = (i: number): boolean => i >= places.length && i < places.length + bodies.length;
	const isInSky = ([x, y]: ChartPlace): boolean => {
		const { azimuth, altitude } = fromChart(frame.centre, x, y);
		return altitude > Math.max(0, skylineNear(sky, azimuth));
	};
	return { places, bodies, labels: labelsOf(names, marks, (i, corners) => !isBody(i) || corners.every(isInSky)) };
}

/** The skyline's altitude at the nearest bearing that it is known for. */
const skylineNear = ({ skyline }: NamedSky, bearing: number): number =>
	skyline.reduce(
		(best, one) => (Math.abs(halfTurn(one[0] - bearing)) < Math.abs(halfTurn(best[0] - bearing)) ? one : best),
		skyline[0] ?? ([0, 0] as const),
	)[1];

/** Of a line of text and of a letter, of the chart's own measure. */
const LINE = 13;
const LETTER = 7;

/** How near to a mark nothing is written. */
const MARK = 5;

/**
 * Names beside their marks, toward the middle, so that they stay inside, or on the other side where that covers another
 * mark or name and has room for it; what has no free side goes a line on. `fits`: whether the i-th may cover what is between corners.
 */
function labelsOf(
	names: readonly string[],
	marks: readonly (ChartPlace | undefined)[],
	fits: (i: number, corners: readonly ChartPlace[]) => boolean,
): readonly (ChartLabel | undefined)[] {
	const written: ChartLabel[] = [];
	const endsOf = ({ name, x, isRight }: ChartLabel): readonly [number, number] =>
		isRight ? [x - name.length * LETTER, x] : [x, x + name.length * LETTER];
	return marks.map((mark, i) => {
		if (!mark) return undefined;
		const [x, y] = mark;
		const name = shortened(names[i] ?? "", LONGEST_NAME);
		const places = [0, 1, -1, 2, -2].flatMap((by) =>
			[x > MIDDLE, x <= MIDDLE].map(
				(isRight): ChartLabel => ({
					name,
					x: px(isRight ? x - 9 : x + 9),
					y: px(y + 4 + by * LINE),
					isRight,
				}),
			),
		);
		const isFree = (one: ChartLabel): boolean => {
			const [from, until] = endsOf(one);
			// In a narrow pane letters are wider against the chart.
			if (from < name.length || until > 2 * MIDDLE - name.length) return false;
			const isOfOther = marks.some(
				(other, k) =>
					other &&
					k !== i &&
					other[0] > from - MARK &&
					other[0] < until + MARK &&
					Math.abs(other[1] + 4 - one.y) < LINE / 2 + MARK / 2,
			);
			const corners = [from, until].flatMap((x): ChartPlace[] => [
				[x, one.y - LINE * 0.75],
				[x, one.y + LINE * 0.25],
			]);
			return (
				!isOfOther &&
				fits(i, corners) &&
				written.every((before) => {
					const [start, end] = endsOf(before);
					return start > until || end < from || Math.abs(before.y - one.y) >= LINE;
				})
			);
		};
		const label = places.find(isFree) ?? (places[0] as ChartLabel);
		written.push(label);
		return label;
	});
}
