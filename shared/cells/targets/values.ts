/** The values of a target: where it stands, when it is usable, how long a frame holds. */
import { WANTED_CHANCE } from "../../alignment/trail.ts";
import type { MagneticField } from "../../earth/magnetism.ts";
import { intervalText } from "../../notation/interval.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { totalMinutes } from "../../sky/intervals.ts";
import { turn } from "../../sky/vector.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { TargetEntry } from "./keys.ts";
import type { EvaluatedTarget, TargetLimits } from "./target.ts";

/** Paths inside an entry; every value is also shown at the entry itself. */
type Path = PathOf<TargetEntry>;

const words = sentences("value.target", {
	asWritten: "As the plan says.",
	usableStart: "The start of the longest usable stretch.",
	seen: "As seen, refraction included.",
	never: "never",
	inViewDark: "In view, dark and moonless, over the stay.",
	inView: "In view, over the stay.",
	trail: "Trail",
	trailMedian: "Trail, median",
	untracked: "Worst star of the frame, untracked.",
	tracked: "Worst star of the frame, over the axis-error ellipse.",
});

const PLACES = ["aim", "name", "from", "at"] as const satisfies readonly Path[];
const TIMES = ["from", "at", "frames", "gap", "exposure", "until", "name"] as const satisfies readonly Path[];
const SHARP = ["exposure", "trail", "lens", "name"] as const satisfies readonly Path[];
const SEEN = told(words.seen());

export const TARGET_VALUES = valuesFor<Path>()("target", {
	start: { is: "time", label: "First frame", how: "{how}", at: TIMES },
	end: { is: "time", label: "Last frame ends", how: "Frames and gaps from the first frame on.", at: TIMES },
	duration: {
		is: "duration",
		label: "Frames and gaps",
		how: "Frames · exposure + (frames − 1) · gap.",
		at: TIMES,
	},
	"altitude-start": { is: "angle", label: "Altitude at the start", how: SEEN, at: PLACES },
	"azimuth-start": { is: "bearing", label: "Bearing at the start", how: "True.", at: PLACES },
	"compass-bearing-start": {
		is: "magnetic",
		label: "Compass reading at the start",
		how: "True bearing less magnetic declination.",
		at: PLACES,
	},
	"altitude-middle": { is: "angle", label: "Altitude in the middle", how: SEEN, at: PLACES },
	"azimuth-middle": { is: "bearing", label: "Bearing in the middle", how: "True.", at: PLACES },
	"altitude-end": { is: "angle", label: "Altitude at the end", how: SEEN, at: PLACES },
	"azimuth-end": { is: "bearing", label: "Bearing at the end", how: "True.", at: PLACES },
	"in-view": {
		is: "text",
		label: "In view",
		how: "Above the skyline and in its opening, over the stay.",
		at: ["aim", "opening", "name"],
	},
	"minutes-usable": {
		is: "number",
		unit: "min",
		places: 0,
		label: "Usable",
		how: "{how}",
		at: ["aim", "opening", "name", "frames"],
	},
	"untracked-limit": {
		is: "duration",
		label: "Untracked, {limit} px",
		how: `Exact turn of the sky in the lens's projection, worst of the frame's stars: middle and sides, from the skyline
			to the top.`,
		at: ["exposure", "trail", "tracked", "name"],
	},
	"untracked-npf-full": {
		is: "duration",
		label: "Untracked, NPF full",
		how: "For the declination in the frame that is nearest the equator.",
		at: ["exposure", "tracked"],
	},
	"tracked-limit": {
		is: "duration",
		label: "Tracked, {limit} px, {chance} % sure",
		how: `Axis error of the first method that works (its whole ellipse), periodic error at its worst phase, rate and
			refraction; worst place of the frame. Not wind, not sag.`,
		at: SHARP,
	},
	"axis-error-allowed": {
		is: "error",
		places: 2,
		label: "Axis error allowed",
		how: "In the worst direction, for {limit} px over this exposure.",
		at: SHARP,
	},
	trail: { is: "number", unit: "px", places: 2, label: "{label}", how: "{how}", at: SHARP },
	"trail-95": {
		is: "number",
		unit: "px",
		places: 2,
		label: "Trail, 95th percentile",
		how: "Worst star of the frame, over the axis-error ellipse.",
		at: SHARP,
	},
	chance: {
		is: "number",
		unit: "%",
		places: 0,
		label: "Chance of a sharp frame",
		how: "That no star of a frame trails by more than {limit} px.",
		at: SHARP,
	},
	"trail-without-axis-error": {
		is: "number",
		unit: "px",
		places: 2,
		label: "Trail with a perfect axis",
		how: "Periodic error, rate and refraction alone.",
		at: SHARP,
	},
	"field-rotation": {
		is: "number",
		unit: "′",
		places: 2,
		label: "The field turns by",
		how: "About the middle of the frame over one exposure, one standard deviation.",
		at: SHARP,
	},
	"ground-trail": {
		is: "number",
		unit: "px",
		places: 0,
		label: "The ground trails by",
		how: "While the tracker turns: on the equator, in the middle of the frame.",
		at: ["exposure", "companion", "tracked"],
	},
});

const values = TARGET_VALUES;

/** Values of a target: where it stands, when it is usable, how long a frame holds. */
export function targetValues(
	target: EvaluatedTarget,
	field: MagneticField | undefined,
	zone: string,
): readonly Value[] {
	const { index, limits } = target;
	return [...placeValues(target, field, zone), ...(limits ? limitValues(target, limits) : [])].map((value) => ({
		...value,
		at: [`${index}`, ...value.at.map((path) => `${index}.${path}`)],
	}));
}

function placeValues(
	{ name: of, directionAt, series, usable, inView, seconds, timed, needsDark }: EvaluatedTarget,
	field: MagneticField | undefined,
	zone: string,
): readonly Value[] {
	const { from, until } = series;
	const [start, middle, end] = [directionAt(from), directionAt((from + until) / 2), directionAt(until)];
	const compass = ({ azimuth }: Direction): number | undefined => field && turn(azimuth - field.declination);
	const view = inView.length === 0 ? told(words.never()) : inView.map((one) => intervalText(zone, one)).join(", ");
	return [
		values.start({ zone, at: from }, { of, fill: { how: timed ? words.asWritten() : words.usableStart() } }),
		values.end({ zone, at: until }, { of }),
		values.duration(seconds, { of }),
		values["altitude-start"](start.altitude, { of }),
		values["azimuth-start"](start.azimuth, { of }),
		values["compass-bearing-start"](compass(start), { of }),
		values["altitude-middle"](middle.altitude, { of }),
		values["azimuth-middle"](middle.azimuth, { of }),
		values["altitude-end"](end.altitude, { of }),
		values["azimuth-end"](end.azimuth, { of }),
		values["in-view"](view, { of }),
		values["minutes-usable"](totalMinutes(usable), {
			of,
			fill: { how: needsDark ? words.inViewDark() : words.inView() },
		}),
	];
}

function limitValues(
	{ name: of, trailLimit: limit, tracked }: EvaluatedTarget,
	limits: TargetLimits,
): readonly Value[] {
	const { npfFull, axisErrorAllowed, fieldRotation } = limits;
	const untracked = [
		values["untracked-limit"](limits.untracked, { of, fill: { limit } }),
		...(npfFull === undefined ? [] : [values["untracked-npf-full"](npfFull, { of })]),
	];
	if (!tracked)
		return [...untracked, values.trail(limits.trail, { of, fill: { label: words.trail(), how: words.untracked() } })];
	return [
		...untracked,
		values["tracked-limit"](limits.tracked, { of, fill: { limit, chance: WANTED_CHANCE * 100 } }),
		values["axis-error-allowed"](axisErrorAllowed === undefined ? undefined : Math.max(0, axisErrorAllowed), {
			of,
			fill: { limit },
		}),
		values.trail(limits.trail, { of, fill: { label: words.trailMedian(), how: words.tracked() } }),
		values["trail-95"](limits.trail95, { of }),
		values.chance(limits.chance * 100, { of, fill: { limit } }),
		values["trail-without-axis-error"](limits.floor, { of }),
		values["field-rotation"](fieldRotation === undefined ? undefined : fieldRotation * 60, { of }),
		values["ground-trail"](limits.ground, { of }),
	];
}
