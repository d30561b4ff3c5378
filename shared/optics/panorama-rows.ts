/** The panels of a panorama in level rows, and how they overlap. Angles in degrees. */
import { type Direction, toVector } from "../sky/horizontal.ts";
import { cross, DEG, dot, halfTurn, RAD, type Vector } from "../sky/vector.ts";
import { type Camera, fieldAcross, pointOf, pointScale, rayOf } from "./camera.ts";

/** A lens as it is held for a panorama. */
export interface Held {
	readonly camera: Camera;
	/** Of the frame as it is held, millimetres. */
	readonly width: number;
	readonly height: number;
}

/** A row of a panorama: the altitude of its middle, and the bearings of its panels, running on from left to right. */
export interface PanoramaRow {
	readonly altitude: number;
	readonly bearings: readonly number[];
}

/** What a panorama is to cover; the right end's bearing runs on from the left one's. */
export interface SkyRange {
	readonly left: number;
	readonly right: number;
	readonly low: number;
	readonly high: number;
}

/** A lens on a camera that is held upright or not. */
export const heldAs = (camera: Camera, portrait: boolean): Held => {
	const [long, short] = camera.sensor;
	return portrait ? { camera, width: short, height: long } : { camera, width: long, height: short };
};

/** Angles across the frame as it is held. */
export const fieldOf = ({ camera, width, height }: Held): readonly [across: number, high: number] => [
	fieldAcross(camera, width),
	fieldAcross(camera, height),
];

/** Nothing is aimed higher: a panel at the zenith has no bearing. */
const HIGHEST = 89;

/** Bearing from one panel to the next in a row: it widens by 1 / cos(altitude). Never more than closes the circle. */
export function stepAt(altitude: number, columns: number, overlap: number, held: Held): number {
	const [across] = fieldOf(held);
	const cos = Math.max(Math.cos(altitude * RAD), 1e-3);
	return Math.min((across * (1 - overlap)) / cos, 360 / columns);
}

/** Rows around a direction, each with as many columns, that overlap by a share of the frame at their middles. */
export function rowsAround(
	middle: Direction,
	columns: number,
	rows: number,
	overlap: number,
	held: Held,
): readonly PanoramaRow[] {
	const [, high] = fieldOf(held);
	return Array.from({ length: rows }, (_, j) => {
		const altitude = clamped(middle.altitude + (j - (rows - 1) / 2) * high * (1 - overlap));
		const step = stepAt(altitude, columns, overlap, held);
		return { altitude, bearings: spread(middle.azimuth, step, columns) };
	});
}

/** How many panels a range takes: those asked for, else the fewest that overlap so much. However many these are. */
export function gridOver(
	range: SkyRange,
	columns: number | undefined,
	rows: number | undefined,
	overlap: number,
	held: Held,
): { readonly columns: number; readonly rows: number } {
	const [across, high] = fieldOf(held);
	const { left, right } = range;
	const reached = reachedBy(range, rows, overlap, held);
	const count = rows ?? rowsFor(reached, overlap, held);
	if (columns !== undefined) return { columns, rows: count };
	const up = stepUp(reached, count, rows !== undefined, overlap, high);
	// All rows have as many panels as that which needs most: it is near the horizon, wherever that is.
	const needed = altitudesOver(reached, Math.min(count, MOST_LOOKED_AT), up).map((altitude) => {
		const step = (across * (1 - overlap)) / Math.max(Math.cos(altitude * RAD), 1e-3);
		return 1 + Math.max(0, Math.ceil((right - left - 2 * halfBearing(altitude, held)) / step - 1e-9));
	});
	return { columns: Math.max(...needed), rows: count };
}

/**
 * The range with the altitudes that the outer rows reach at their middles if they are to reach its own at their sides: the
 * edge of a level frame is a great circle, tan(altitude) = tan(altitude at the middle) · cos(bearing from there), and comes
 * nearer to the horizon on both sides.
 */
function withSides(range: SkyRange, held: Held): SkyRange {
	const [, field] = fieldOf(held);
	const middleOf = (edge: number): number => {
		const side = (altitude: number): number =>
			Math.min(halfBearing(clamped(altitude), held), (range.right - range.left) / 2, 90);
		const from = edge - Math.sign(edge) * (field / 2);
		const at = (bearing: number): number => Math.atan2(Math.tan(edge * RAD), Math.cos(bearing * RAD)) * DEG;
		// The row is aimed farther up, and its frame reaches more bearings there.
		const first = at(side(from));
		return at(Math.max(side(from), side(first - Math.sign(edge) * (field / 2))));
	};
	return {
		...range,
		low: range.low < 0 ? middleOf(range.low) : range.low,
		high: range.high > 0 ? middleOf(range.high) : range.high,
	};
}

/** The altitudes that rows are laid over: from corner to corner, where so many rows reach that far. */
function reachedBy(range: SkyRange, rows: number | undefined, overlap: number, held: Held): SkyRange {
	const reached = withSides(range, held);
	return rows === undefined || rows >= rowsFor(reached, overlap, held) ? reached : range;
}

const rowsFor = ({ low, high: top }: SkyRange, overlap: number, held: Held): number => {
	const [, high] = fieldOf(held);
	return fewest(top - low, high, overlap);
};

/** More rows than this are too many anyway. */
const MOST_LOOKED_AT = 500;

const altitudesOver = ({ low, high }: SkyRange, rows: number, up: number): readonly number[] =>
	Array.from({ length: rows }, (_, j) => clamped((low + high) / 2 + (j - (rows - 1) / 2) * up));

/** Altitude from one row to the next: rows that are asked for though fewer would do keep their overlap and reach farther. */
function stepUp({ low, high: top }: SkyRange, rows: number, asked: boolean, overlap: number, high: number): number {
	const room = Math.max(0, top - low - high) / Math.max(1, rows - 1);
	return asked ? Math.max(room, high * (1 - overlap)) : room;
}

/** Rows over a range whose edges are those of the outer panels; as many as `gridOver` has. */
export function rowsOver(
	range: SkyRange,
	columns: number | undefined,
	rows: number | undefined,
	overlap: number,
	held: Held,
): readonly PanoramaRow[] {
	const [across, high] = fieldOf(held);
	const { left, right } = range;
	const { columns: most, rows: count } = gridOver(range, columns, rows, overlap, held);
	const reached = reachedBy(range, rows, overlap, held);
	const up = stepUp(reached, count, rows !== undefined, overlap, high);
	const wide = right - left;
	return altitudesOver(reached, count, up).map((altitude) => {
		const inset = Math.min(halfBearing(altitude, held), wide / 2);
		const needed = most === 1 ? 0 : (wide - 2 * inset) / (most - 1);
		// Columns that are asked for though fewer would do keep their overlap too.
		const widest = (across * (1 - overlap)) / Math.max(Math.cos(altitude * RAD), 1e-3);
		const asked = columns === undefined ? needed : Math.max(needed, widest);
		const step = wide >= 360 - 1e-9 ? 360 / most : Math.min(asked, 360 / most);
		return { altitude, bearings: spread((left + right) / 2, step, most) };
	});
}

/** A row whose panels cover bearings at an altitude. */
export function rowUnder(
	left: number,
	right: number,
	altitude: number,
	columns: number | undefined,
	middle: number | undefined,
	overlap: number,
	held: Held,
): PanoramaRow {
	const half = halfBearing(altitude, held);
	const [across] = fieldOf(held);
	const widest = (across * (1 - overlap)) / Math.max(Math.cos(altitude * RAD), 1e-3);
	const about = middle === undefined ? (left + right) / 2 : left + halfTurn(middle - left);
	const wide = middle === undefined ? right - left : 2 * Math.max(right - about, about - left);
	const count = Math.min(columns ?? 1 + Math.max(0, Math.ceil((wide - 2 * half) / widest - 1e-9)), MOST_COLUMNS);
	// A typed number of panels keeps its overlap; one that is not is spread over what it is to cover.
	const step =
		count === 1
			? 0
			: columns === undefined
				? Math.max(0, wide - 2 * half) / (count - 1)
				: Math.min(widest, 360 / count);
	return { altitude, bearings: spread(about, step, count) };
}

/** Columns that a plan may ask for. */
export const MOST_COLUMNS = 40;
/** Rows that a plan may ask for. */
export const MOST_ROWS = 12;

const fewest = (angle: number, field: number, overlap: number): number =>
	1 + Math.max(0, Math.ceil((angle - field) / (field * Math.max(0.1, 1 - overlap)) - 1e-9));

const clamped = (altitude: number): number => Math.max(-HIGHEST, Math.min(HIGHEST, altitude));

const spread = (middle: number, step: number, count: number): readonly number[] =>
	Array.from({ length: count }, (_, i) => middle + (i - (count - 1) / 2) * step);

/** How far to the side of its middle a level frame reaches at its lower, middle and upper edge, at the least. */
function halfBearing(altitude: number, held: Held): number {
	const { camera, width, height } = held;
	const axes = axesOf({ azimuth: 0, altitude });
	return Math.min(
		...[-1, 0, 1].map((up) => {
			const [east, north] = outwardOf(axes, rayOf(camera, width / 2, (up * height) / 2));
			return Math.abs(Math.atan2(east, north) * DEG);
		}),
	);
}

/** Right, up and forward of a level frame. */
export type Axes = readonly [right: Vector, up: Vector, forward: Vector];

/** The axes of a level frame that looks in a direction. */
export function axesOf({ azimuth, altitude }: Direction): Axes {
	const forward = toVector({ azimuth, altitude });
	const up = toVector({ azimuth, altitude: altitude + 90 });
	return [cross(forward, up), up, forward];
}

const outwardOf = ([right, up, forward]: Axes, [x, y, z]: Vector): Vector => [
	right[0] * x + up[0] * y + forward[0] * z,
	right[1] * x + up[1] * y + forward[1] * z,
	right[2] * x + up[2] * y + forward[2] * z,
];

/** Where a direction falls in a frame, millimetres right and up of its middle; undefined when not on the sensor's plane. */
const placeIn = (camera: Camera, [right, up, forward]: Axes, v: Vector): readonly [number, number] | undefined =>
	pointOf(camera, [dot(right, v), dot(up, v), dot(forward, v)]);

/** Whether a direction falls within a frame; asked very often, so that nothing is made for it. */
export function isInFrame({ camera, width, height }: Held, [right, up, forward]: Axes, v: Vector): boolean {
	const x = dot(right, v);
	const y = dot(up, v);
	const scale = pointScale(camera, Math.sqrt(x * x + y * y), dot(forward, v));
	return Math.abs(scale * x) <= width / 2 + 1e-9 && Math.abs(scale * y) <= height / 2 + 1e-9;
}

/** A place between panels that none of them shows. */
export interface Gap {
	readonly bearing: number;
	readonly altitude: number;
	/** How wide it is there, degrees along the horizon's parallel: bearing times cos(altitude). */
	readonly width: number;
	/** Between which columns and rows, from 1; the same row twice: within it. */
	readonly column: number;
	readonly row: number;
}

/** The least that two neighbours of a row share. */
export interface LeastOverlap {
	/** Of a frame's width, 0 … 1; negative for a gap. */
	readonly share: number;
	/** Row from 1, its altitude, and the altitude at which it is least. */
	readonly row: number;
	readonly altitude: number;
	readonly at: number;
}

/** What rows leave out above, below or between them, as far as it is to be covered: altitudes from and until. */
export interface RowGap {
	/** The row from 1 that is below it; 0 below the lowest. */
	readonly above: number;
	readonly from: number;
	readonly until: number;
}

/** Where an outer row reaches its edge of a range in the middle of a panel, and falls short of it at the panel's side. */
export interface ShortSide {
	readonly edge: "upper" | "lower";
	/** Where it falls short most, and at which altitude the row ends there. */
	readonly bearing: number;
	readonly ends: number;
	/** The range's. */
	readonly altitude: number;
}

export interface Coverage {
	/** The widest gap of each row that has any. */
	readonly gaps: readonly Gap[];
	/** What a range has below the lowest row and above the highest, and what is between rows of a single column. */
	readonly rowGaps: readonly RowGap[];
	/** At most one of each edge, and none where the row ends short of it in the middle too. */
	readonly shortSides: readonly ShortSide[];
	/** Undefined for a single column. */
	readonly least: LeastOverlap | undefined;
	/** Between two rows; undefined for a single one. */
	readonly between: number | undefined;
	/** Directions that were looked at, and how many of them some panel shows. */
	readonly looked: number;
	readonly shown: number;
}

/** Altitudes that are looked at within a row, and bearings between two of its panels. */
const LEVELS = 13;
const BETWEEN = 12;

/**
 * What the panels leave out, sampled over the sphere: the area between the outermost panels' middles, from half an
 * overlap within the lower edge of the lowest row to as far within the upper edge of the highest.
 */
export function coverageOf(rows: readonly PanoramaRow[], overlap: number, held: Held, range?: SkyRange): Coverage {
	const [, high] = fieldOf(held);
	const frames = rows.map(({ altitude, bearings }) => bearings.map((azimuth) => axesOf({ azimuth, altitude })));
	const gaps: Gap[] = [];
	let [looked, shown] = [0, 0];
	for (const [j, row] of rows.entries()) {
		const [below, above] = [rows[j - 1], rows[j + 1]];
		const edge = (high / 2) * (1 - overlap);
		const from = below ? (below.altitude + row.altitude) / 2 : row.altitude - edge;
		const until = above ? (row.altitude + above.altitude) / 2 : row.altitude + edge;
		let widest: Gap | undefined;
		for (let level = 0; level < LEVELS; level++) {
			const altitude = Math.min(HIGHEST, from + ((until - from) * level) / (LEVELS - 1));
			const cos = Math.cos(altitude * RAD);
			// The panels of a row are a step apart: what two neighbours show between them, all do.
			const [own = 0, beside = own] = row.bearings;
			const apart = (beside - own) / BETWEEN;
			const between = Array.from({ length: BETWEEN + 1 }, (_, k) => {
				const v = toVector({ azimuth: own + k * apart, altitude });
				return frames[j]?.slice(0, 2).some((axes) => isInFrame(held, axes, v)) === true;
			});
			for (const [i, first] of pairsOf(row)) {
				const next = i + 1 < row.bearings.length ? (row.bearings[i + 1] as number) : (row.bearings[0] as number) + 360;
				let missing = 0;
				let at = 0;
				for (let k = 0; k <= BETWEEN; k++) {
					looked++;
					const azimuth = first + ((next - first) * k) / BETWEEN;
					if (between[k] || isShown(toVector({ azimuth, altitude }), azimuth, j)) shown++;
					else {
						missing++;
						at += azimuth;
					}
				}
				const width = (missing / BETWEEN) * (next - first) * cos;
				if (missing > 0 && (!widest || width > widest.width))
					widest = { bearing: at / missing, altitude, width, column: i + 1, row: j + 1 };
			}
		}
		// A single column has no neighbour: what of the range it leaves out at its sides.
		if (range && row.bearings.length === 1) {
			const altitude = (from + until) / 2;
			const [left, right] = bearingsAt(
				{ azimuth: row.bearings[0] as number, altitude: row.altitude },
				held,
				altitude,
			) ?? [row.bearings[0] as number, row.bearings[0] as number];
			const missing = range.right - Math.max(right, range.left);
			const cos = Math.cos(altitude * RAD);
			if (left > range.left + 1e-6 && missing > 1e-6)
				widest = { bearing: right + missing / 2, altitude, width: missing * cos, column: 1, row: j + 1 };
		}
		if (widest) gaps.push(widest);
	}
	const altitudes = rows.map(({ altitude }) => altitude);
	const between = altitudes.slice(1).map((altitude, j) => 1 - (altitude - (altitudes[j] as number)) / high);
	const rowGaps = rowGapsOf(rows, high, range);
	return {
		gaps,
		rowGaps,
		shortSides: range ? [shortSide(range, "lower"), shortSide(range, "upper")].flatMap((one) => one ?? []) : [],
		least: leastOf(rows, overlap, held, frames),
		between: between.length === 0 ? undefined : Math.min(...between),
		looked,
		shown,
	};

	function shortSide({ left, right, low, high: top }: SkyRange, edge: ShortSide["edge"]): ShortSide | undefined {
		const outer = edge === "lower" ? 0 : rows.length - 1;
		if (rowGaps.some(({ above }) => above === (edge === "lower" ? 0 : rows.length))) return undefined;
		const altitude = Math.max(-HIGHEST, Math.min(HIGHEST, edge === "lower" ? low : top));
		const inside = rows[outer]?.altitude ?? altitude;
		const count = Math.max(1, Math.ceil((right - left) / EDGE_STEP));
		let most: ShortSide | undefined;
		for (let i = 0; i <= count; i++) {
			const azimuth = left + ((right - left) * i) / count;
			const shows = (there: number): boolean => isShown(toVector({ azimuth, altitude: there }), azimuth, outer);
			// What no panel shows at the row's own altitude is a gap between columns.
			if (shows(altitude) || !shows(inside)) continue;
			let [ends, beyond] = [inside, altitude];
			while (Math.abs(beyond - ends) > SLIVER / 4) {
				const middle = (ends + beyond) / 2;
				if (shows(middle)) ends = middle;
				else beyond = middle;
			}
			if (Math.abs(altitude - ends) > Math.max(SLIVER, most ? Math.abs(altitude - most.ends) + SLIVER : 0))
				most = { edge, bearing: azimuth, ends, altitude };
		}
		return most;
	}

	/** In its own row or a neighbouring one: whichever panels there look nearest to it. */
	function isShown(v: Vector, azimuth: number, row: number): boolean {
		for (let j = row - 1; j <= row + 1; j++) {
			const own = frames[j];
			if (!own) continue;
			const bearings = (rows[j] as PanoramaRow).bearings;
			const step = bearings.length > 1 ? (bearings[1] as number) - (bearings[0] as number) : 360;
			const nearest = Math.round(halfTurnFrom(azimuth - (bearings[0] as number), bearings, step) / (step || 1));
			for (let i = nearest - 1; i <= nearest + 1; i++) {
				const axes = own[((i % own.length) + own.length) % own.length];
				if (axes && isInFrame(held, axes, v)) return true;
			}
		}
		return false;
	}
}

/** Bearings at which a range's edge is looked at, degrees apart. */
const EDGE_STEP = 1;
/** Less than this is not told, degrees. */
const SLIVER = 0.1;

function rowGapsOf(rows: readonly PanoramaRow[], high: number, range: SkyRange | undefined): readonly RowGap[] {
	const isSingle = rows.every(({ bearings }) => bearings.length === 1);
	const ends = rows.map(({ altitude }): readonly [number, number] => [altitude - high / 2, altitude + high / 2]);
	const [first, last] = [ends[0], ends.at(-1)];
	if (!first || !last) return [];
	// Between rows of several columns the sampler looks.
	const between = isSingle
		? ends.slice(1).map(([from], j) => ({ above: j + 1, from: (ends[j] ?? first)[1], until: from }))
		: [];
	const beside = range
		? [
				{ above: 0, from: range.low, until: first[0] },
				{ above: rows.length, from: last[1], until: range.high },
			]
		: [];
	return [...beside, ...between].filter(({ from, until }) => until - from > SLIVER).sort((a, b) => a.from - b.from);
}

/** A bearing counted from a row's first panel, on the turn that is nearest to its middle. */
function halfTurnFrom(offset: number, bearings: readonly number[], step: number): number {
	const middle = ((bearings.length - 1) / 2) * step;
	return middle + halfTurn(offset - middle);
}

/** Panels of a row that have a neighbour to their right: the last too where the row closes the circle. */
function pairsOf({ bearings }: PanoramaRow): readonly (readonly [index: number, bearing: number])[] {
	const [first = 0, second = first] = bearings;
	const closed = bearings.length > 2 && Math.abs((second - first) * bearings.length - 360) < 1e-6;
	return bearings.flatMap((bearing, i) => (closed || i + 1 < bearings.length ? [[i, bearing] as const] : []));
}

/** Where along their sides two neighbours are compared: from half an overlap within the edges, in parts of the half. */
function leastOf(
	rows: readonly PanoramaRow[],
	overlap: number,
	{ camera, width, height }: Held,
	frames: readonly (readonly Axes[])[],
): LeastOverlap | undefined {
	let least: LeastOverlap | undefined;
	for (const [j, row] of rows.entries()) {
		const [left, right] = [frames[j]?.[0], frames[j]?.[1]];
		if (!left || !right) continue;
		for (let k = -4; k <= 4; k++) {
			// A point of the right panel's left side, in the left panel.
			const ray = rayOf(camera, -width / 2, ((k / 4) * (1 - overlap) * height) / 2);
			const v = outwardOf(right, ray);
			const point = placeIn(camera, left, v);
			const share = point ? (width / 2 - point[0]) / width : -1;
			if (!least || share < least.share)
				least = { share, row: j + 1, altitude: row.altitude, at: Math.asin(v[2]) * DEG };
		}
	}
	return least;
}

/** Whether a direction is in any panel. */
export function coveredBy(rows: readonly PanoramaRow[], held: Held): (direction: Direction) => boolean {
	const frames = rows.flatMap(({ altitude, bearings }) => bearings.map((azimuth) => axesOf({ azimuth, altitude })));
	return (direction) => {
		const v = toVector(direction);
		return frames.some((axes) => isInFrame(held, axes, v));
	};
}

/** The corners and sides of a level frame: bearings at which it begins and ends at an altitude; undefined where it does not reach. */
export function bearingsAt(
	direction: Direction,
	held: Held,
	altitude: number,
): readonly [left: number, right: number] | undefined {
	const axes = axesOf(direction);
	const isIn = (offset: number): boolean =>
		isInFrame(held, axes, toVector({ azimuth: direction.azimuth + offset, altitude }));
	if (!isIn(0)) return undefined;
	let [inside, outside] = [0, 180];
	if (isIn(180)) return [direction.azimuth - 180, direction.azimuth + 180];
	for (let i = 0; i < 24; i++) {
		const half = (inside + outside) / 2;
		if (isIn(half)) inside = half;
		else outside = half;
	}
	return [direction.azimuth - inside, direction.azimuth + inside];
}
