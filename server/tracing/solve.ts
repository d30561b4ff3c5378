/** What follows from marks and lines on a photo: where the camera looked, and what is where. */
import type { EpochMs } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { readQuantity } from "../../shared/notation/quantity.ts";
import { readSensor } from "../../shared/notation/sensor.ts";
import { directionsAlong } from "../../shared/photo/along.ts";
import {
	type Attitude,
	type AttitudeProblem,
	PHOTO_PROJECTIONS,
	type Photo,
	type PhotoDirection,
	solveAttitude,
} from "../../shared/photo/attitude.ts";
import type { PhotoPoint, Trace, TracedLine, TracedPhoto } from "../../shared/protocol/tracing.ts";
import type { Phrase } from "../../shared/text/sentence.ts";
import { type KnownDirection, knownDirection, photoTime } from "./known-direction.ts";
import { words } from "./words.ts";

/** A mark: what it is, or why that is not known, and how far the photo shows it from there, degrees. */
export interface SolvedMark {
	readonly at: PhotoPoint;
	readonly known: KnownDirection | undefined;
	readonly problem: Phrase | undefined;
	readonly residual: number | undefined;
	readonly disagrees: boolean;
}

/** A line with its directions, or why it has none. */
export interface SolvedLine extends TracedLine {
	readonly directions: readonly PhotoDirection[];
	readonly problem: Phrase | undefined;
}

/** A trace with all that follows from it. */
export interface Solved {
	/** When the photo was taken. */
	readonly at: EpochMs | undefined;
	readonly photo: Photo | undefined;
	readonly attitude: Attitude | undefined;
	readonly marks: readonly SolvedMark[];
	readonly lines: readonly SolvedLine[];
	/** What is wrong with the photo's own values, or why there is no attitude. */
	readonly problems: readonly Phrase[];
}

/** Degrees by which a plan's straight lines may leave those of the photo. */
const TOLERANCE = 0.03;
/** No plan takes what is lower, degrees. */
export const LOWEST = -30;

/** Solves a trace for a plan. */
export function solveTrace(trace: Trace, evaluation: Evaluation): Solved {
	const zone = evaluation.site?.zone;
	const at = zone === undefined ? undefined : photoTime(trace.photo.time, zone);
	const problems: Phrase[] = [];
	if (at === undefined && trace.photo.time.trim() !== "" && zone !== undefined)
		problems.push(words.badTime({ text: trace.photo.time }));
	const lens = lensOf(trace.photo);
	if ("key" in lens) problems.push(lens);
	const known = trace.marks.map(({ what }) => knownDirection(what, evaluation, at));
	const usable = known.flatMap((direction, index) => ("key" in direction ? [] : [{ direction, index }]));
	const solution =
		"key" in lens || usable.length === 0
			? undefined
			: solveAttitude(
					lens,
					usable.map(({ direction: { bearing, altitude }, index }) => {
						const [x, y] = trace.marks[index]?.at ?? [0, 0];
						return { x, y, bearing, altitude };
					}),
				);
	const attitude = solution && !("code" in solution) ? solution : undefined;
	if (solution && "code" in solution)
		problems.push(
			attitudeProblem(
				solution,
				usable.map(({ index }) => index),
				lens as Photo,
			),
		);
	else if (!solution && !("key" in lens)) problems.push(words.marksNeeded());
	return {
		at,
		photo: "key" in lens ? undefined : lens,
		attitude,
		problems,
		marks: trace.marks.map(({ at: place }, i): SolvedMark => {
			const direction = known[i] as KnownDirection | Phrase;
			const used = usable.findIndex(({ index }) => index === i);
			return {
				at: place,
				known: "key" in direction ? undefined : direction,
				problem: "key" in direction ? direction : undefined,
				residual: used < 0 ? undefined : attitude?.residuals[used],
				disagrees: used >= 0 && (attitude?.disagree.includes(used) ?? false),
			};
		}),
		lines: trace.lines.map((line): SolvedLine => {
			if (!attitude) return { ...line, directions: [], problem: undefined };
			const along = directionsAlong(attitude, line.points, TOLERANCE, line.part !== "skyline");
			if ("code" in along) return { ...line, directions: [], problem: words.noSky({ number: along.index + 1 }) };
			const low = along.find(({ altitude }) => altitude < LOWEST);
			return { ...line, directions: along, problem: low && words.low({ altitude: -Math.round(low.altitude) }) };
		}),
	};
}

/** The photo's lens as it is given; without a focal length the marks tell. */
function lensOf({ width, height, projection: named, focalLength, sensor }: TracedPhoto): Photo | Phrase {
	const projection = PHOTO_PROJECTIONS.find((one) => one === named) ?? "rectilinear";
	const photo = { width, height, projection };
	if (projection === "equirectangular" || focalLength.trim() === "") return photo;
	const typed = focalLength.trim();
	const length = readQuantity(/^[\d.]+$/.test(typed) ? `${typed} mm` : typed, "focal-length");
	if (!length.ok || !(length.value >= 1 && length.value <= 5000)) return words.badFocalLength({ text: typed });
	const size = readSensor(sensor);
	if (!size) return sensor.trim() === "" ? words.noSensor() : words.badSensor({ text: sensor });
	return { ...photo, scale: (length.value * Math.max(width, height)) / Math.max(...size) };
}

function attitudeProblem(problem: AttitudeProblem, indices: readonly number[], { scale, projection }: Photo): Phrase {
	switch (problem.code) {
		case "few":
			return scale === undefined && projection !== "equirectangular"
				? words.fewFree({ found: problem.found })
				: words.few({ found: problem.found });
		case "together":
			return words.together();
		case "outside":
			return words.outside({ number: (indices[problem.index] ?? problem.index) + 1 });
		case "undetermined":
			return words.undetermined();
	}
}
