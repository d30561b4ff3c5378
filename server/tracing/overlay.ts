/** Tonight's sky, and what the plan says of the site, as lines in a photo. */
import { seenPole } from "../../shared/alignment/pole.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { exactNightClock } from "../../shared/notation/night-clock.ts";
import { trackOf } from "../../shared/outputs/page/view.ts";
import type { Attitude, Photo } from "../../shared/photo/attitude.ts";
import type { PhotoPoint, SkyLine } from "../../shared/protocol/tracing.ts";
import { apart, type Direction } from "../../shared/sky/horizontal.ts";
import type { SkyPoint } from "../../shared/sky/outline.ts";
import { turn } from "../../shared/sky/vector.ts";
import { told } from "../../shared/text/sentence.ts";
import { words } from "./words.ts";

interface Labelled {
	readonly direction: SkyPoint;
	readonly text: string;
}

/** Whatever of it falls into the photo. */
export function skyOver(photo: Photo, attitude: Attitude, evaluation: Evaluation): readonly SkyLine[] {
	const { site, night, aligned, targets } = evaluation;
	if (!site) return [];
	const drawn = (
		kind: SkyLine["kind"],
		line: readonly SkyPoint[],
		labels: readonly Labelled[] = [],
	): readonly SkyLine[] => inPhoto(photo, attitude, kind, line, labels);
	const { cover, spot, content } = site;
	const pole = seenPole(spot);
	const guide = aligned?.setUp.marks.find(({ body }) => body !== undefined);
	return [
		...drawn(
			"horizon",
			round(() => 0),
			bearingLabels(),
		),
		...(content.skyline
			? drawn(
					"skyline",
					round((bearing) => cover.skylineAt(bearing)),
				)
			: []),
		...[...(cover.openings ?? []), ...cover.obstructions].flatMap(({ name, outline: { corners } }) =>
			drawn("outline", closed(corners), labelOf(corners[0], name)),
		),
		...cover.obstructions.flatMap(({ window }) => (window ? drawn("outline", closed(window.corners)) : [])),
		...(targets?.value ?? []).flatMap((target) =>
			target && night
				? trackOf(target, night).flatMap(({ name, points, hours }) =>
						drawn(
							"target",
							points.map(({ azimuth, altitude }): SkyPoint => [azimuth, altitude]),
							trackLabels(name, points, hours),
						),
					)
				: [],
		),
		...(guide && aligned?.setUp.at !== undefined && night
			? drawn(
					"guide",
					[],
					labelOf(
						[guide.direction.azimuth, guide.direction.altitude],
						told(words.guide({ name: guide.name, clock: exactNightClock(night, aligned.setUp.at) })),
					),
				)
			: []),
		...drawn("pole", [], labelOf([pole.azimuth, pole.altitude], told(words.pole()))),
	];
}

/** Its name where it comes into view, and the hours; an hour that is there is told with it. */
function trackLabels(
	name: string,
	points: readonly Direction[],
	hours: readonly (Direction & { readonly clock: string })[],
): readonly Labelled[] {
	const [start] = points;
	if (!start) return [];
	const labelled = (direction: Direction, text: string): Labelled => ({
		direction: [direction.azimuth, direction.altitude],
		text,
	});
	const [first, ...later] = hours;
	const isThere = first !== undefined && apart(first, start) < TOGETHER;
	return [
		labelled(start, isThere ? told(words.guide({ name, clock: told(words.hour({ clock: first.clock })) })) : name),
		...(isThere ? later : hours).map((hour) => labelled(hour, told(words.hour({ clock: hour.clock })))),
	];
}

/** Labels nearer than this are one, degrees. */
const TOGETHER = 2;

const labelOf = (direction: SkyPoint | undefined, text: string): readonly Labelled[] =>
	direction ? [{ direction, text }] : [];

const round = (altitude: (bearing: number) => number): readonly SkyPoint[] =>
	Array.from({ length: 721 }, (_, i): SkyPoint => [i / 2, altitude(i / 2)]);

const closed = (corners: readonly SkyPoint[]): readonly SkyPoint[] => [...corners, ...corners.slice(0, 1)];

const bearingLabels = (): readonly Labelled[] =>
	Array.from({ length: 36 }, (_, i) => ({ direction: [10 * i, 0] as const, text: `${10 * i}°` }));

/** Steps of a line at most, degrees. */
const STEP = 1;

/** A line's stretches in the photo; those outside of it are left out, and so are jumps to its other edge. */
function inPhoto(
	{ width, height }: Photo,
	{ place }: Attitude,
	kind: SkyLine["kind"],
	line: readonly SkyPoint[],
	labels: readonly Labelled[],
): readonly SkyLine[] {
	const isNear = ([x, y]: PhotoPoint, margin: number): boolean =>
		x >= -margin * width && x <= (1 + margin) * width && y >= -margin * height && y <= (1 + margin) * height;
	const placed = ([bearing, altitude]: SkyPoint): PhotoPoint | undefined => {
		const point = place(turn(bearing), Math.max(-90, Math.min(90, altitude)));
		return point && isNear(point, MARGIN)
			? [Math.round(point[0] * 10) / 10, Math.round(point[1] * 10) / 10]
			: undefined;
	};
	const stretches: PhotoPoint[][] = [[]];
	for (const direction of stepped(line)) {
		const point = placed(direction);
		const last = stretches.at(-1) as PhotoPoint[];
		const before = last.at(-1);
		if (!point || (before && Math.abs(point[0] - before[0]) > width / 2)) stretches.push(point ? [point] : []);
		else last.push(point);
	}
	const shown = labels.flatMap(({ direction, text }) => {
		const at = placed(direction);
		return at && isNear(at, 0) ? [{ at, text }] : [];
	});
	const long = stretches.filter(({ length }) => length > 1);
	if (long.length === 0) return shown.length > 0 ? [{ kind, points: [], labels: shown }] : [];
	return long.map((points, i) => ({ kind, points, labels: i === 0 ? shown : [] }));
}

/** How far beside the photo a line still goes, in its sides. */
const MARGIN = 0.1;

/** A line with points so near to each other that it is not seen to be bent. */
function* stepped(line: readonly SkyPoint[]): Generator<SkyPoint> {
	for (const [i, [bearing, altitude]] of line.entries()) {
		const before = line[i - 1];
		const steps = before
			? Math.ceil(Math.max(Math.abs(bearing - before[0]), Math.abs(altitude - before[1])) / STEP)
			: 0;
		for (let k = 1; before && k < Math.min(steps, 360); k++)
			yield [before[0] + ((bearing - before[0]) * k) / steps, before[1] + ((altitude - before[1]) * k) / steps];
		yield [bearing, altitude];
	}
}
