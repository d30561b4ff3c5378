/** What a panel sends, taken as it may be: whatever is not as promised is left out. */
import type { PhotoPoint, Trace } from "../../shared/protocol/tracing.ts";
import { TRACED_PARTS } from "../../shared/protocol/tracing.ts";

const MOST_MARKS = 60;
const MOST_LINES = 100;
/** Places of all lines together. */
const MOST_PLACES = 5_000;
const LONGEST_TEXT = 200;
const LONGEST_SIDE = 100_000;

export function traceGiven(given: unknown): Trace {
	const { photo, marks, lines } = fields(given);
	const { name, width, height, time, projection, focalLength, sensor } = fields(photo);
	let left = MOST_PLACES;
	return {
		photo: {
			name: text(name),
			width: side(width),
			height: side(height),
			time: text(time),
			projection: text(projection),
			focalLength: text(focalLength),
			sensor: text(sensor),
		},
		marks: list(marks, MOST_MARKS).flatMap((mark) => {
			const { at, what } = fields(mark);
			const point = pointGiven(at);
			return point ? [{ at: point, what: text(what) }] : [];
		}),
		lines: list(lines, MOST_LINES).flatMap((line) => {
			const { part, name, points } = fields(line);
			const known = TRACED_PARTS.find((one) => one === part);
			if (!known) return [];
			const places = list(points, left)
				.map(pointGiven)
				.filter((point) => point !== undefined);
			left -= places.length;
			return [{ part: known, name: text(name), points: places }];
		}),
	};
}

/** A place in the photo. */
export function pointGiven(given: unknown): PhotoPoint | undefined {
	const [x, y] = list(given, 2);
	return typeof x === "number" && typeof y === "number" && Number.isFinite(x) && Number.isFinite(y)
		? [x, y]
		: undefined;
}

const fields = (given: unknown): Readonly<Record<string, unknown>> =>
	typeof given === "object" && given !== null ? (given as Record<string, unknown>) : {};

const list = (given: unknown, most: number): readonly unknown[] => (Array.isArray(given) ? given.slice(0, most) : []);

const text = (given: unknown): string => (typeof given === "string" ? given.slice(0, LONGEST_TEXT) : "");

const side = (given: unknown): number =>
	typeof given === "number" && given >= 1 && given <= LONGEST_SIDE ? Math.round(given) : 1;
