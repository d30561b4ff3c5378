/** What is written on the panorama, and where: on the whole picture and on each part that is cut out of it. */
import { rememberedBy } from "../../memory/memory.ts";
import { degrees } from "../../notation/angle.ts";
import type { SkyPoint } from "../../sky/outline.ts";
import { halfTurn } from "../../sky/vector.ts";
import { told } from "../../text/sentence.ts";
import {
	areaOf,
	aroundMark,
	type Box,
	boxOf,
	NAME_SIZE,
	type Name,
	type NamePlace,
	placedNames,
	placesAround,
	sharedArea,
} from "./names.ts";
import { between, seenAt, xOf, yOf } from "./sky-paths.ts";
import type { PanoramaView } from "./view.ts";
import { words } from "./words.ts";

/** Altitudes that have a line. */
export const RULED = [15, 30, 45, 60, 75] as const;
/** Places of corners on a frame's edge, which begins at the top left and goes round to the right. */
const CORNERS = { topLeft: 0, topRight: 8, bottomRight: 16, bottomLeft: 24 } as const;

interface Written extends Name {
	readonly isQuiet?: boolean;
	/** What it is written beside; a part of the picture has the names of the marks in it. */
	readonly mark: readonly [x: number, y: number];
}

/** A name that stands still, in its place. */
export interface StillName extends NamePlace {
	readonly text: string;
	readonly isQuiet: boolean;
}

/** A name that goes with its mark: where it is from there, and which end of it. */
export type MovingName = NamePlace;

export interface MovingNames {
	readonly places: readonly MovingName[];
	readonly bodies: readonly MovingName[];
	/** What they and the marks cover. */
	readonly taken: readonly Box[];
}

/** Of marks that turn with the sky, as they are at the minute first shown. */
export function movingNames(view: PanoramaView, cuts: readonly (readonly Box[])[]): MovingNames {
	const { frame, at } = view;
	const places = view.places.map(({ name, kind, place }) => {
		const { azimuth, altitude } = seenAt(frame, place, at);
		const [x, y] = [xOf(frame, azimuth), yOf(frame, altitude)];
		const first = (
			{ guide: ["left"], core: ["below right"], target: ["above right"], radiant: ["above right"] } as const
		)[kind];
		return { text: name, isUp: altitude > -5, x, y, places: placesAround(x, y, kind === "guide" ? 12 : 10, first) };
	});
	const bodies = view.bodies.map(({ name, points }) => {
		const seen = between(points, at);
		const [x, y] = seen ? [xOf(frame, seen.azimuth), yOf(frame, seen.altitude)] : [0, 0];
		// Above it: what hides half of a body would cut the name beside it.
		const above = placesAround(x, y, 10, ["above", "above right", "above left"]);
		return { text: name, isUp: seen !== undefined && seen.altitude > -3, x, y, places: above };
	});
	const all = [...places, ...bodies];
	const up = all.filter(({ isUp }) => isUp);
	const marks = [...up.map(({ x, y }) => aroundMark(x, y, 6)), ...stillMarks(view)];
	const found = new Map(placedNames(up, marks, cuts, NAME_SIZE).map((place, i) => [up[i], place]));
	const from = (one: (typeof all)[number]): MovingName => {
		const place = found.get(one) ?? one.places[0] ?? { x: one.x, y: one.y, anchor: "start" };
		return { x: px(place.x - one.x), y: px(place.y - one.y), anchor: place.anchor };
	};
	const covered = up.flatMap((one) => {
		const place = found.get(one);
		return place ? [boxOf(one.text, place, NAME_SIZE)] : [];
	});
	return { places: places.map(from), bodies: bodies.map(from), taken: [...marks, ...covered] };
}

/** Of all that stands still, on the picture or on a part of it. `by`: the part is drawn so far to the right of what it shows. */
export function stillNames(view: PanoramaView, taken: readonly Box[], window: Box): readonly StillName[] {
	const { width } = view.frame;
	const isIn = ({ mark: [x, y] }: Written): boolean => x >= window.left && x <= window.right && y <= window.bottom;
	const shifts = window.right > width ? [0, width] : [0];
	const names = shifts.flatMap((by) => written(view).map((name) => shifted(name, by))).filter(isIn);
	const all = [...names, ...altitudes(view, window)];
	const there = shifts.flatMap((by) => taken.map((box) => ({ ...box, left: box.left + by, right: box.right + by })));
	return placedNames(all, there, [[window]], NAME_SIZE).flatMap((place, i) => {
		const name = all[i];
		return name && place
			? [{ text: name.text, isQuiet: name.isQuiet === true, x: px(place.x), y: px(place.y), anchor: place.anchor }]
			: [];
	});
}

const px = (value: number): number => Math.round(value * 10) / 10;

const shifted = (name: Written, by: number): Written =>
	by === 0
		? name
		: {
				...name,
				mark: [name.mark[0] + by, name.mark[1]],
				places: name.places.map((place) => ({ ...place, x: place.x + by })),
			};

const stillMarks = ({ frame, pole, aim, landmarks }: PanoramaView): readonly Box[] => [
	...poleAt({ frame, pole }).map(([x, y]) => aroundMark(x, y, 8)),
	...(aim ? [aroundMark(xOf(frame, aim.azimuth), yOf(frame, aim.altitude), 12)] : []),
	...landmarks.map(({ azimuth, altitude }) => aroundMark(xOf(frame, azimuth), yOf(frame, altitude) - 6, 5)),
];

/** In the middle of the picture or at both of its ends. */
export function poleAt({ frame, pole }: Pick<PanoramaView, "frame" | "pole">): readonly (readonly [number, number])[] {
	const x = xOf(frame, pole.azimuth);
	const y = yOf(frame, pole.altitude);
	return x < 1 || x > frame.width - 1
		? [
				[0, y],
				[frame.width, y],
			]
		: [[x, y]];
}

/** What stands still, what matters most first: the later has what place is left. The picture and all its parts ask for it. */
const written = rememberedBy(writtenOf, 1);

function writtenOf(view: PanoramaView): readonly Written[] {
	const { frame, pole, aim } = view;
	const x = (bearing: number): number => xOf(frame, bearing);
	const y = (altitude: number): number => yOf(frame, altitude);
	const poleName = told(words[pole.hidden ? "poleHidden" : "pole"]({ altitude: degrees(pole.altitude) }));
	const names: Written[] = poleAt(view)
		.slice(0, 1)
		.map((mark) => ({ text: poleName, mark, places: placesAround(...mark, 13, ["right"]) }));
	if (aim) {
		const mark = [x(aim.azimuth), y(aim.altitude)] as const;
		const places = placesAround(...mark, 14, ["below right", "above right", "below left", "above left"]);
		names.push({ text: told(words.aim({ altitude: degrees(aim.altitude) })), mark, places });
	}
	for (const { name, azimuth, altitude } of view.landmarks) {
		const mark = [x(azimuth), y(altitude)] as const;
		names.push({
			text: name,
			mark,
			places: [8, 24, 44].flatMap((by) => placesAround(mark[0], mark[1] - 6, by, ["right", "left"])),
		});
	}
	for (const { name, corners } of view.obstructions) names.push(outlined(name, corners, view, [-5, 16]));
	for (const { name, corners } of view.openings) names.push(outlined(name, corners, view, [16, -5]));
	for (const { text, isLast, edge } of view.ends) {
		const [own, ...others] = isLast
			? [CORNERS.topRight, CORNERS.bottomRight, CORNERS.bottomLeft, CORNERS.topLeft]
			: [CORNERS.topLeft, CORNERS.bottomLeft, CORNERS.bottomRight, CORNERS.topRight];
		const places = [own, ...others].flatMap((corner) => inCorner(view, edge[corner], corner));
		const mark = places[0];
		if (mark) names.push({ text, isQuiet: true, mark: [mark.x, mark.y], places, canGo: true });
	}
	for (const { azimuth, altitude, clock } of hoursOf(view)) {
		const mark = [x(azimuth), y(altitude)] as const;
		const places = placesAround(...mark, 5, ["below", "left", "above", "right"]).slice(0, 4);
		names.push({ text: clock, isQuiet: true, mark, places, canGo: true });
	}
	// Of lines of the sky, where nothing hides it.
	const ofSky = (text: string, [mark, ...others]: readonly (readonly [number, number])[], by: number): void => {
		if (!mark) return;
		const places = [mark, ...others]
			.flatMap((one) =>
				placesAround(...one, by, ["below right", "below left", "above right", "above left"]).slice(0, 4),
			)
			.filter((place) => isOpenSky(view, boxOf(text, place, NAME_SIZE)));
		names.push({ text, isQuiet: true, mark, places, canGo: true });
	};
	const meridian = frame.width / 2;
	ofSky(
		told(words.meridian()),
		[3, 21, 39].map((down) => [meridian, down] as const),
		5,
	);
	const seen = view.equator.filter((one) => one.altitude > lowestAt(view, one.azimuth));
	const equator = [20, 30, 15, 40, 50, 60].flatMap((altitude) => {
		const near = seen.filter((one) => Math.abs(one.altitude - altitude) < 3);
		return [near[0], near.at(-1)].filter((one) => one !== undefined);
	});
	ofSky(
		told(words.equator()),
		equator.map((one) => [x(one.azimuth), y(one.altitude)] as const),
		6,
	);
	return names;
}

/** Whether nothing that hides the sky is where a name would be. */
function isOpenSky(view: PanoramaView, box: Box): boolean {
	const { frame, skyline, obstructions, openings } = view;
	const margin = 2 * frame.scale;
	const isOver = skyline.every(([bearing, altitude]) => {
		const x = xOf(frame, bearing);
		return x < box.left - margin || x > box.right + margin || yOf(frame, altitude) > box.bottom;
	});
	const extents = (outlines: readonly { readonly corners: readonly SkyPoint[] }[]): readonly Box[] =>
		outlines.flatMap(({ corners }) => {
			// Bearings run on over the seam: on the turn of the strip on either side too.
			const [first = 0] = corners[0] ?? [];
			const xs = corners.map(([bearing]) => xOf(frame, first) + (bearing - first) * frame.scale);
			const ys = corners.map(([, altitude]) => yOf(frame, altitude));
			return [-frame.width, 0, frame.width].map((by) => ({
				left: Math.min(...xs) + by,
				right: Math.max(...xs) + by,
				top: Math.min(...ys),
				bottom: Math.max(...ys),
			}));
		});
	return (
		isOver &&
		extents(obstructions).every((one) => sharedArea(box, one) === 0) &&
		(openings.length === 0 || extents(openings).some((one) => sharedArea(box, one) >= areaOf(box)))
	);
}

/** Hours on the ways of the targets; two targets of one thing have theirs once. */
function hoursOf({ tracks }: PanoramaView): PanoramaView["tracks"][number]["hours"] {
	const all = tracks.flatMap(({ hours }) => hours);
	return all.filter(
		(one, i) =>
			all.findIndex(
				({ clock, azimuth, altitude }) => clock === one.clock && azimuth === one.azimuth && altitude === one.altitude,
			) === i,
	);
}

/** The skyline's altitude near a bearing. */
const lowestAt = ({ skyline }: PanoramaView, azimuth: number): number =>
	Math.max(...skyline.filter(([bearing]) => Math.abs(halfTurn(bearing - azimuth)) < 3).map(([, altitude]) => altitude));

/** By an outline's top, over or under it as is said first. */
function outlined(
	text: string,
	corners: readonly SkyPoint[],
	{ frame }: PanoramaView,
	downs: readonly number[],
): Written {
	const top = yOf(frame, Math.max(...corners.map(([, altitude]) => altitude)));
	const xs = corners.map(([bearing]) => xOf(frame, bearing));
	const left = xs[0] ?? 0;
	const places = downs.flatMap((down) =>
		[left, ...xs].flatMap((x): NamePlace[] => {
			const y = Math.max(18, top + down);
			return [
				{ x: x + 6, y, anchor: "start" },
				{ x: x - 6, y, anchor: "end" },
			];
		}),
	);
	return { text, mark: [left, Math.max(0, top)], places };
}

/** In a corner of a frame, or just outside of it. */
function inCorner(
	{ frame }: PanoramaView,
	at: { readonly azimuth: number; readonly altitude: number } | undefined,
	corner: number,
): readonly NamePlace[] {
	if (!at) return [];
	const [x, y] = [xOf(frame, at.azimuth), yOf(frame, at.altitude)];
	const isTop = corner === CORNERS.topLeft || corner === CORNERS.topRight;
	const isRight = corner === CORNERS.topRight || corner === CORNERS.bottomRight;
	const [inside, outside] = isTop ? [y + 15, y - 5] : [y - 5, y + 15];
	return [inside, outside].map((line) => ({
		x: x + (isRight ? -4 : 4),
		y: line,
		anchor: isRight ? "end" : "start",
	}));
}

/** The altitudes at the left end of what is shown, or at its right one. */
const altitudes = ({ frame }: PanoramaView, { left, right }: Box): readonly Written[] =>
	RULED.map((altitude) => {
		const y = yOf(frame, altitude) - 3;
		return {
			text: `${altitude}°`,
			mark: [left, y],
			places: [
				{ x: left + 4, y, anchor: "start" },
				{ x: right - 4, y, anchor: "end" },
			],
			canGo: true,
		};
	});
