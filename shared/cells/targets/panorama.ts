/** What follows from a panorama: its panels, where and when each is taken and how it is turned, and what they cover. */
import { type Attitude, carried, heldLevel, rollOf } from "../../alignment/attitude.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { lazily } from "../../memory/memory.ts";
import { panoramaFor } from "../../optics/panorama.ts";
import {
	bearingsAt,
	type Coverage,
	coverageOf,
	coveredBy,
	fieldOf,
	gridOver,
	type Held,
	heldAs,
	isInFrame,
	MOST_COLUMNS,
	type PanoramaRow,
	rowsAround,
	rowsOver,
	rowUnder,
	type SkyRange,
} from "../../optics/panorama-rows.ts";
import type { Arch } from "../../sky/arch.ts";
import { type Cover, hiddenBy } from "../../sky/cover.ts";
import { type Direction, toDirection, toVector } from "../../sky/horizontal.ts";
import { DEG, dot, halfTurn, RAD, turn } from "../../sky/vector.ts";
import type { EvaluatedLens } from "../lens/lens.ts";
import type { Foreground, PanoramaEntry, TargetEntry } from "./keys.ts";

/** Seconds for turning the camera from one panel to the next: common practice, no source. */
export const PANEL_SECONDS = 20;
/** Share of a frame that neighbours overlap by: common practice, no source. */
export const OVERLAP = 0.3;
/** Columns around an aim when the plan does not say. */
const COLUMNS = 3;
/** More are not computed: nobody takes them in a night. */
export const MOST_PANELS = 200;

/** A panel of a panorama. Rows count from below, columns from the left, both from 1. */
export interface Panel {
	readonly row: number;
	readonly column: number;
	/** When its first frame begins and its last ends. */
	readonly at: EpochMs;
	readonly until: EpochMs;
	/** Where its middle looks then, and how it is held. */
	readonly direction: Direction;
	readonly attitude: Attitude;
	/** Degrees from level, clockwise as the camera looks. */
	readonly roll: number;
}

/** A row of the ground to be joined to the sky. */
export interface GroundRow {
	readonly rows: readonly PanoramaRow[];
	readonly panels: number;
	/** Stretches of bearing of the sky's lower edge that it does not show. */
	readonly missing: readonly { readonly from: number; readonly until: number }[];
	/** Degrees between the sky's lower edge and its own upper one, where they do not meet at their middles. */
	readonly apart: number;
	/** How many columns, at its middle and with its overlap, would do. */
	readonly needed: number;
}

/** Panels that are more than are computed. */
export interface TooManyPanels {
	readonly columns: number;
	readonly rows: number;
	/** Columns that are enough for what they are laid over, where the plan asks for more and these would be computed. */
	readonly enough: number | undefined;
}

export interface TargetPanorama {
	readonly columns: number;
	readonly rows: readonly PanoramaRow[];
	/** What they are laid over; undefined around an aim, and where they follow the arch. */
	readonly range: SkyRange | undefined;
	readonly overlap: number;
	readonly held: Held;
	/** As they are taken. */
	readonly panels: readonly Panel[];
	/** Frames of all panels. */
	readonly frames: number;
	readonly seconds: number;
	readonly coverage: () => Coverage;
	readonly ground: () => GroundRow | undefined;
	/** The same with its uppermost row at another altitude, and so many rows. */
	readonly groundAs: (altitude: number, rows: number) => GroundRow | undefined;
}

/** The panorama that an entry asks for, in the plan's words; undefined for a single picture. */
export function panoramaOf({ panorama, aim }: TargetEntry): PanoramaEntry | undefined {
	if (panorama) return panorama;
	return typeof aim === "object" && ("bearings" in aim || "altitudes" in aim) ? {} : undefined;
}

/** Where a panorama is laid out. */
export interface LaidAround {
	readonly middle: Direction;
	/** What it is to cover, where that is a range. */
	readonly range: SkyRange | undefined;
	readonly arch: Arch | undefined;
}

/**
 * `rate`: turns of the tracker for one of the sky; 0 untracked. `magnetic`: the magnetic declination, for a compass reading.
 * `skylineAt`: the skyline that a foreground is to reach.
 */
export function panoramaFrom(
	entry: TargetEntry,
	asked: PanoramaEntry,
	lens: EvaluatedLens,
	around: LaidAround,
	from: EpochMs,
	latitude: number,
	rate: number,
	magnetic: number,
	skylineAt: Cover["skylineAt"],
): TargetPanorama | TooManyPanels {
	const portrait = entry.orientation === "portrait";
	const held = heldAs(lens.camera, portrait);
	const overlap = asked.overlap === undefined ? OVERLAP : asked.overlap / 100;
	const laid = rowsOf(asked, around, held, portrait, overlap);
	if (!("laid" in laid)) return laid;
	const { laid: rows, range } = laid;
	const columns = rows[0]?.bearings.length ?? 0;
	const { exposure = 0, frames = 1, gap = 0 } = entry;
	const each = frames * exposure + (frames - 1) * gap;
	const places = inOrder(rows, asked.order ?? "rows");
	const panels = places.map(([row, column], i): Panel => {
		const own = rows[row] as PanoramaRow;
		const at = from + i * (each + PANEL_SECONDS) * 1000;
		const level = heldLevel({ azimuth: turn(own.bearings[column] as number), altitude: own.altitude });
		const attitude = carried(level, latitude, (at - from) / 1000, rate);
		return {
			row: row + 1,
			column: column + 1,
			at,
			until: at + each * 1000,
			direction: toDirection(attitude.forward),
			attitude,
			roll: rollOf(attitude),
		};
	});
	return {
		columns,
		rows,
		range,
		overlap,
		held,
		panels,
		frames: panels.length * frames,
		seconds: panels.length * each + (panels.length - 1) * PANEL_SECONDS,
		coverage: lazily(() => coverageOf(rows, overlap, held, range)),
		ground: lazily(() => groundRow(groundOf(entry), rows, overlap, held, magnetic, skylineAt)),
		groundAs: (altitude, count) =>
			groundRow({ ...groundOf(entry), altitude, rows: count }, rows, overlap, held, magnetic, skylineAt),
	};
}

type GroundPanorama = NonNullable<Foreground["panorama"]>;

/** What the plan says of the row of ground; undefined without one. */
const groundOf = ({ foreground }: TargetEntry): GroundPanorama | undefined =>
	foreground ? ((foreground === true ? undefined : (foreground as Foreground).panorama) ?? {}) : undefined;

type Order = NonNullable<PanoramaEntry["order"]>;

/** Rows and columns from 0, one after the other. */
function inOrder(rows: readonly PanoramaRow[], order: Order): readonly (readonly [row: number, column: number])[] {
	const columns = rows[0]?.bearings.length ?? 0;
	const fromRight = order === "setting-first" && setsOnTheRight(rows);
	return Array.from({ length: columns * rows.length }, (_, i) => {
		if (order === "rows") return [Math.floor(i / columns), i % columns] as const;
		const column = Math.floor(i / rows.length);
		return [i % rows.length, fromRight ? columns - 1 - column : column] as const;
	});
}

/** The sky rises in proportion to the sine of the bearing: it sets on the side where that is less. */
function setsOnTheRight([lowest]: readonly PanoramaRow[]): boolean {
	const [left = 0, right = left] = [lowest?.bearings[0], lowest?.bearings.at(-1)];
	return Math.sin(right * RAD) < Math.sin(left * RAD);
}

function rowsOf(
	{ columns, rows }: PanoramaEntry,
	{ middle, range, arch }: LaidAround,
	held: Held,
	portrait: boolean,
	overlap: number,
): { readonly laid: readonly PanoramaRow[]; readonly range: SkyRange | undefined } | TooManyPanels {
	const over = range ?? (arch && arch.band.length > 0 ? rangeOf(arch) : undefined);
	const needed =
		!range && over && columns === undefined && rows === undefined
			? panoramaFor(arch?.band ?? [], held.camera, portrait, overlap)
			: undefined;
	const grid =
		needed ?? (over ? gridOver(over, columns, rows, overlap, held) : { columns: columns ?? COLUMNS, rows: rows ?? 1 });
	if (grid.columns * grid.rows > MOST_PANELS) {
		const enough = over && gridOver(over, undefined, rows, overlap, held).columns;
		const fits = enough !== undefined && enough < grid.columns && enough * grid.rows <= MOST_PANELS;
		return { columns: grid.columns, rows: grid.rows, enough: fits ? enough : undefined };
	}
	if (needed)
		return { laid: needed.altitudes.map((altitude) => ({ altitude, bearings: needed.bearings })), range: undefined };
	return {
		laid: over
			? rowsOver(over, columns, rows, overlap, held)
			: rowsAround(middle, grid.columns, grid.rows, overlap, held),
		range: over,
	};
}

/** Bearings and altitudes of the arch's band. */
function rangeOf({ top, band }: Arch): SkyRange {
	const offsets = band.map(({ azimuth }) => halfTurn(azimuth - top.azimuth));
	const heights = band.map(({ altitude }) => altitude);
	return {
		left: top.azimuth + Math.min(...offsets),
		right: top.azimuth + Math.max(...offsets),
		low: Math.min(...heights),
		high: Math.max(...heights),
	};
}

/** How many panels the foreground has; 1 where the sky is no panorama. */
export const groundPanels = (panorama: TargetPanorama | undefined): number => panorama?.ground()?.panels ?? 1;

/** How long the frames of the ground take, turning from panel to panel included. `otherwise`: the exposure of the sky. */
export function groundSeconds(
	{ exposure, frames = 1 }: Foreground,
	otherwise: number | undefined,
	panorama: TargetPanorama | undefined,
): number {
	const panels = groundPanels(panorama);
	return panels * frames * (exposure ?? otherwise ?? 0) + (panels - 1) * PANEL_SECONDS;
}

/** How far a row of the ground goes over the skyline at the least, degrees: common practice, no source. */
const ABOVE_SKYLINE = 1;
/** Bearings of the sky's lower edge that are looked at, degrees apart. */
const JOIN_STEP = 0.5;
/** Where in what they share a row of the ground and the sky are joined, from the sky's lower edge: common practice, no source. */
const JOINS = [1 / 2, 3 / 8, 1 / 4] as const;

function groundRow(
	asked: GroundPanorama | undefined,
	sky: readonly PanoramaRow[],
	skyOverlap: number,
	held: Held,
	magnetic: number,
	skylineAt: Cover["skylineAt"],
): GroundRow | undefined {
	const [lowest] = sky;
	if (!asked || !lowest) return undefined;
	const overlap = asked.overlap === undefined ? skyOverlap : asked.overlap / 100;
	const [across, high] = fieldOf(held);
	const first = lowest.bearings[0] as number;
	const last = lowest.bearings[lowest.bearings.length - 1] as number;
	// Up to the skyline, since a tracked row blurs what ground is in it, but no higher than level: more is for another row.
	const step = Math.max(-60, lowest.altitude - high * (1 - overlap));
	const overSkyline = lazily(() => {
		const span = Math.min(last - first + across, 360);
		const heights = Array.from({ length: Math.floor(span) + 1 }, (_, i) => skylineAt((first + last - span) / 2 + i));
		return Math.min(89, Math.max(...heights) + ABOVE_SKYLINE);
	});
	const skyline = (): number => {
		// A level frame's upper edge is a plane through the eye: lower towards its corners than at its middle.
		const corner = Math.max(0.3, Math.cos((across / 2) * RAD));
		const height = overSkyline();
		return Math.atan(Math.tan(height * RAD) / (height > 0 ? corner : 1)) * DEG - high / 2;
	};
	const top = asked.altitude ?? Math.max(step, Math.min(0, skyline()));
	const [skyEdge, groundEdge] = [lowest.altitude - high / 2, top + high / 2];
	const shared = Math.max(0, Math.min(groundEdge - skyEdge, overlap * high));
	const bearing = asked.bearing && asked.bearing.degrees + (asked.bearing.north === "magnetic" ? magnetic : 0);
	const rowsUnder = ({ altitude, bearings }: PanoramaRow): readonly PanoramaRow[] =>
		Array.from({ length: asked.rows ?? 1 }, (_, i) => ({
			altitude: Math.max(-89, altitude - i * high * (1 - overlap)),
			bearings,
		})).reverse();
	/** The row as it is joined to the sky at an altitude. */
	const joinedAt = (join: number) => {
		const [left] = bearingsAt({ azimuth: first, altitude: lowest.altitude }, held, join) ?? [first];
		const [, right] = bearingsAt({ azimuth: last, altitude: lowest.altitude }, held, join) ?? [last, last];
		const end = Math.min(right, left + 360);
		// As it is where the two are joined: a level frame below the horizon is narrower at its upper edge.
		const under = (count: number | undefined): PanoramaRow => rowUnder(left, end, top, count, bearing, overlap, held);
		/** `isEnough`: whether the first of them ends the search. */
		const missingOf = (row: PanoramaRow, isEnough = false): readonly { from: number; until: number }[] => {
			const isShown = coveredBy(rowsUnder(row), held);
			const steps = Math.max(1, Math.ceil((end - left) / JOIN_STEP));
			const found: { from: number; until: number }[] = [];
			for (let i = 0; i <= steps; i++) {
				const azimuth = left + ((end - left) * i) / steps;
				if (isShown({ azimuth, altitude: join })) continue;
				const before = found[found.length - 1];
				if (before && azimuth - before.until <= 1.5 * JOIN_STEP) before.until = azimuth;
				else found.push({ from: azimuth, until: azimuth });
				if (isEnough && before && before.until - before.from > JOIN_STEP) break;
			}
			return found.filter(({ from, until }) => until - from > JOIN_STEP);
		};
		return { under, missingOf };
	};
	type Joined = ReturnType<typeof joinedAt>;
	const isWhole = ({ under, missingOf }: Joined, count: number): boolean => missingOf(under(count), true).length === 0;
	// As a rule in the middle of what they share; nearer to the sky's lower edge where a panel less does there, and no ground
	// is left to the tracked frames.
	const [usual, ...others] = JOINS.map((share) => skyEdge + share * shared);
	const middle = joinedAt(usual as number);
	const lower = others.map((join) => lazily(() => (join < overSkyline() ? undefined : joinedAt(join))));
	const fewest = (): { readonly row: PanoramaRow; readonly joined: Joined } => {
		let joined = middle;
		let count = joined.under(undefined).bearings.length;
		while (count < MOST_COLUMNS && !isWhole(joined, count)) count++;
		// Where no number does, it is the altitude that is wrong.
		if (count === MOST_COLUMNS) return { row: joined.under(undefined), joined };
		for (const join of lower) {
			const one = count > 1 ? join() : undefined;
			while (one && count > 1 && isWhole(one, count - 1)) {
				count--;
				joined = one;
			}
		}
		return { row: joined.under(count), joined };
	};
	const computed = lazily(fewest);
	const typed = (count: number): { readonly row: PanoramaRow; readonly joined: Joined } => {
		const enough = (one: Joined | undefined): one is Joined => one !== undefined && isWhole(one, count);
		const joined = enough(middle) ? middle : (lower.map((join) => join()).find(enough) ?? middle);
		return { row: joined.under(count), joined };
	};
	const { row: chosen, joined } = asked.columns === undefined ? computed() : typed(asked.columns);
	const rows = rowsUnder(chosen);
	return {
		rows,
		panels: rows.length * chosen.bearings.length,
		missing: joined.missingOf(chosen),
		apart: Math.max(0, skyEdge - groundEdge),
		needed: computed().row.bearings.length,
	};
}

/** A place of the arch that no panel shows at the time it is taken. */
export interface ArchLost {
	/** Parts of the arch, 0 … 1. */
	readonly share: number;
	/** The first such place from its left foot: where it was at the first frame. */
	readonly was: Direction;
	/** The panel that had it then, and where it is when that is taken; `hidden`: whether something hides it there. */
	readonly panel: Panel;
	readonly is: Direction;
	readonly hidden: boolean;
}

/** Which of the arch's places at the first frame no panel shows when it is taken; undefined where all are shown. */
export function archLost(
	{ panels, rows, held }: TargetPanorama,
	arch: Arch,
	cover: Cover,
	latitude: number,
): ArchLost | undefined {
	const [first] = panels;
	if (!first || arch.along.length === 0) return undefined;
	const frames = panels.map((panel) => {
		const { right, up, forward } = panel.attitude;
		return { panel, axes: [right, up, forward] as const };
	});
	const isCovered = coveredBy(rows, held);
	const laid = panels.map(({ attitude, at }) => carried(attitude, latitude, (first.at - at) / 1000, 1));
	let [missing, all] = [0, 0];
	let found: ArchLost | undefined;
	for (const was of arch.along) {
		const v = toVector(was);
		// What no panel was laid over is a gap, and told as one.
		if (!isCovered(was)) continue;
		const own = heldLevel(was);
		const placeAt = (at: EpochMs): Direction => toDirection(carried(own, latitude, (at - first.at) / 1000, 1).forward);
		all++;
		let reason: Omit<ArchLost, "share" | "was"> | undefined;
		const shown = frames.some(({ panel, axes }) => {
			const is = placeAt(panel.at);
			if (!isInFrame(held, axes, toVector(is))) return false;
			if (hiddenBy(cover, is) === undefined) return true;
			reason ??= { panel, is, hidden: true };
			return false;
		});
		if (shown) continue;
		missing++;
		if (found) continue;
		// What was nearest to it: by where the panels stood among the stars.
		const nearest = laid.reduce(
			(best, one, i) => (dot(one.forward, v) > dot((laid[best] as Attitude).forward, v) ? i : best),
			0,
		);
		const panel = panels[nearest] as Panel;
		found = { share: 0, was, ...(reason ?? { panel, is: placeAt(panel.at), hidden: false }) };
	}
	return found && { ...found, share: missing / all };
}
