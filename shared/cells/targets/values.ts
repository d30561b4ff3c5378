/** The values of a target: where it is, when it is usable, how long a frame holds. */
import { SHARP_ABOVE } from "../../alignment/frame-stars.ts";
import { WANTED_CHANCE } from "../../alignment/longest-exposure.ts";
import type { MagneticField } from "../../earth/magnetism.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { chanceText } from "../../notation/chance.ts";
import { type Dated, nightClock, nightInterval } from "../../notation/night-clock.ts";
import { objectName, objectOf, objectText } from "../../notation/sky-object.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { coveredBy } from "../../optics/panorama-rows.ts";
import { HALF_BAND } from "../../sky/arch.ts";
import { SKY_RATE_ARCSEC } from "../../sky/frame.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { totalMinutes } from "../../sky/intervals.ts";
import { turn } from "../../sky/vector.ts";
import { type Phrase, sentences, told } from "../../text/sentence.ts";
import { ARCH_OVERLAP, type TargetArch } from "./arch.ts";
import { cometValues } from "./comet-values.ts";
import { framingValues } from "./framing-values.ts";
import type { TargetEntry } from "./keys.ts";
import type { TargetLimits } from "./limits.ts";
import type { TargetPanorama } from "./panorama.ts";
import { showerValues } from "./shower-values.ts";
import { type EvaluatedTarget, isOfArcs } from "./target.ts";

/** Paths inside an entry; every value is also shown at the entry itself. */
type Path = PathOf<TargetEntry>;

const words = sentences("value.target", {
	asWritten: "As the plan says.",
	usableStart: "Start of the longest usable stretch.",
	seen: "As seen, with refraction.",
	never: "never",
	ground: "no sky in the middle of the frame",
	anyTime: "A frame of the ground, not of the sky: usable all of the time on site.",
	inViewDark: "In view, dark and moonless, while you are on site.",
	inView: "In view, while you are on site.",
	trail: "Trail",
	trailMedian: "Trail, median",
	untracked: "Worst star of the frame, untracked: {where}.",
	tracked: "Worst star of the frame, over all likely axis errors and all phases of the drive: {where}.",
	where: "{place}, altitude {altitude}, bearing {bearing}",
	later: "{place} of the frame at {time}, altitude {altitude}, bearing {bearing}",
	axis: "the alignment",
	drive: "the drive's periodic error",
	refraction: "refraction",
	rate: "the tracker's rate",
	topLeft: "upper left",
	top: "top",
	topRight: "upper right",
	left: "left",
	middle: "middle",
	right: "right",
	bottomLeft: "lower left",
	bottom: "bottom",
	bottomRight: "lower right",
	archBelow: "its top is below the skyline",
	archHour: "{time} from {left} to {right}, top {altitude} at {top}",
	archPanels: "{columns} × {rows}, {held}: {frames} frames",
	archTooMany: "more frames than a panorama has",
	archEnough: "the planned {columns} × {rows} panels cover it",
	archShort: "the planned {columns} × {rows} panels leave out {share} % of it; enough: {enough}",
	landscape: "landscape",
	portrait: "portrait",
});

const PLACES = ["aim", "name", "from", "at"] as const satisfies readonly Path[];
const TIMES = ["from", "at", "frames", "gap", "exposure", "until", "name"] as const satisfies readonly Path[];
const SHARP = ["exposure", "trail", "lens", "name"] as const satisfies readonly Path[];
const SEEN = told(words.seen());

export const TARGET_VALUES = valuesFor<Path>()("target", {
	start: { is: "time", label: "First frame", how: "{how}", at: TIMES },
	end: { is: "time", label: "Last frame ends", how: "From the first frame, all frames and gaps later.", at: TIMES },
	duration: {
		is: "duration",
		label: "Frames and gaps",
		how: `Frames · exposure + (frames − 1) · gap; for a panorama, that time for each panel and the time to turn from
			one to the next.`,
		at: TIMES,
	},
	"altitude-start": { is: "angle", label: "Altitude at the start", how: SEEN, at: PLACES },
	"azimuth-start": { is: "bearing", label: "Bearing at the start", how: "True.", at: PLACES },
	"compass-bearing-start": {
		is: "magnetic",
		label: "Compass reading at the start",
		how: "True bearing minus the magnetic declination.",
		at: PLACES,
	},
	"altitude-middle": { is: "angle", label: "Altitude in the middle", how: SEEN, at: PLACES },
	"azimuth-middle": { is: "bearing", label: "Bearing in the middle", how: "True.", at: PLACES },
	"altitude-end": { is: "angle", label: "Altitude at the end", how: SEEN, at: PLACES },
	"azimuth-end": { is: "bearing", label: "Bearing at the end", how: "True.", at: PLACES },
	"in-view": {
		is: "text",
		label: "In view",
		how: "Above the skyline and in its opening, behind no obstruction, while you are on site.",
		at: ["aim", "opening", "name"],
	},
	object: {
		is: "text",
		label: "What it is",
		how: "Type, size on maps and total magnitude; J2000.",
		at: ["aim", "name"],
	},
	"arch-left": {
		is: "bearing",
		label: "Arch meets the skyline on the left",
		how: `Where the galactic equator meets the skyline, left as you face the arch's top, at the first frame;
			altitude {altitude}.`,
		at: ["aim", "name"],
	},
	"arch-right": {
		is: "bearing",
		label: "Arch meets the skyline on the right",
		how: `Where the galactic equator meets the skyline, right as you face the arch's top, at the first frame;
			altitude {altitude}.`,
		at: ["aim", "name"],
	},
	"arch-top-altitude": {
		is: "angle",
		label: "Top of the arch",
		how: "As seen, at the first frame.",
		at: ["aim", "name"],
	},
	"arch-top-azimuth": {
		is: "bearing",
		label: "Bearing of the arch's top",
		how: "True, at the first frame.",
		at: ["aim", "name"],
	},
	"arch-turn": {
		is: "angle",
		label: "Arch turns during the frames",
		how: "Angle between its planes at the first frame and at the end of the last.",
		at: ["aim", "name", "frames"],
	},
	"arch-whole": {
		is: "text",
		label: "Arch whole and dark",
		how: `When the top is above the skyline, both feet come at least half-way down, and nothing but the skyline
			hides what is between them; dark and moonless, while you are on site.`,
		at: ["aim", "name"],
	},
	"arch-hours": {
		is: "text",
		label: "Arch over the night",
		how: "Bearings of its left and right foot, altitude and bearing of its top, hour by hour while it is whole.",
		at: ["aim", "name"],
	},
	"arch-panorama": {
		is: "text",
		label: "Panorama the arch needs",
		how: `Columns × rows of level frames that cover it and {margin} on both sides at the first frame, {overlap} %
			overlap.`,
		at: ["aim", "name", "lens", "orientation"],
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
		limit: true,
		label: "Untracked, {limit} px of trail",
		how: `Exact motion of the sky in the lens's projection, for the worst star that the frame shows above an altitude of
			{lowest}.`,
		at: ["exposure", "trail", "tracked", "name"],
	},
	"untracked-npf-full": {
		is: "duration",
		limit: true,
		label: "Untracked, full NPF rule",
		how: "For the declination in the frame that is nearest the celestial equator.",
		at: ["exposure", "tracked"],
	},
	"tracked-limit": {
		is: "duration",
		limit: true,
		label: "Tracked, {limit} px of trail, {chance} % sure",
		how: `Axis error of the first method that works (its whole ellipse), periodic error at any phase, rate and
			refraction; worst star that the frame shows. Wind, focus and sag are not included.`,
		at: SHARP,
	},
	"axis-error-allowed": {
		is: "error",
		limit: true,
		places: 2,
		label: "Axis error allowed",
		how: "In the worst direction, for {limit} px over this exposure, the drive's periodic error left out.",
		at: SHARP,
	},
	trail: { is: "number", unit: "px", places: 1, label: "{label}", how: "{how}", at: SHARP },
	"trail-95": {
		is: "number",
		unit: "px",
		places: 1,
		label: "Trail, 95th percentile",
		how: "Worst star of the frame, over all likely axis errors and all phases of the drive.",
		at: SHARP,
	},
	"trail-centre": {
		is: "number",
		unit: "px",
		places: 1,
		label: "Trail in the middle of the frame",
		how: "With the axis where it is expected; the drive's periodic error left out.",
		at: SHARP,
	},
	"trail-worst-altitude": {
		is: "angle",
		label: "Altitude of the worst star",
		how: "As seen: {place} of the frame.",
		at: SHARP,
	},
	"trail-worst-azimuth": { is: "bearing", label: "Bearing of the worst star", how: "True.", at: SHARP },
	"trail-source": {
		is: "text",
		label: "Trails come mostly from",
		how: "The largest part of the worst star's trail: alignment, drive, refraction or rate.",
		at: SHARP,
	},
	"trail-drive": {
		is: "number",
		unit: "px",
		places: 1,
		label: "Trail from the drive alone",
		how: `From the drive's periodic error: half of the frames trail by more than this; one in 20 by {most} px or
			more.`,
		at: SHARP,
	},
	arc: {
		is: "angle",
		label: "Length of the arcs",
		how: "How far the sky turns from the first frame to the end of the last.",
		at: ["exposure", "frames", "stars", "name"],
	},
	"gap-trail": {
		is: "number",
		unit: "px",
		places: 1,
		label: "Gaps in the arcs",
		how: "How far the fastest star of the frame moves in the pause between two frames.",
		at: ["gap", "stars", "name"],
	},
	chance: {
		is: "number",
		unit: "%",
		places: 0,
		label: "Chance of a sharp frame",
		how: `That no star of a frame trails by more than {limit} px, if your ± are right. Wind, focus and sag are not
			included.`,
		at: SHARP,
	},
	"trail-without-axis-error": {
		is: "number",
		unit: "px",
		places: 1,
		label: "Trail with a perfect axis",
		how: "Rate and refraction alone, with the drive's periodic error (not exceeded 19 times in 20).",
		at: SHARP,
	},
	"field-rotation": {
		is: "number",
		unit: "′",
		places: 2,
		label: "Field rotation",
		how: "About the middle of the frame over one exposure, root mean square.",
		at: SHARP,
	},
	"ground-trail": {
		is: "number",
		unit: "px",
		places: 0,
		label: "Trail of the ground",
		how: "While the tracker runs, in the middle of a frame aimed at the celestial equator.",
		at: ["exposure", "foreground", "tracked"],
	},
});

const values = TARGET_VALUES;

/** Values of a target: where it is, when it is usable, how long a frame holds. */
export function targetValues(
	target: EvaluatedTarget,
	field: MagneticField | undefined,
	night: Dated,
): readonly Value[] {
	const { index, limits } = target;
	return [
		...cometValues(target),
		...placeValues(target, field, night),
		...showerValues(target, night),
		...framingValues(target, night),
		...(limits ? limitValues(target, limits, night) : []),
	].map((value) => ({
		...value,
		at: [`${index}`, ...value.at.map((path) => `${index}.${path}`)],
	}));
}

function placeValues(
	{
		name: of,
		body,
		arch,
		entry,
		directionAt,
		series,
		usable,
		inView,
		seconds,
		timed,
		needsDark,
		ofTheSky,
		panorama,
	}: EvaluatedTarget,
	field: MagneticField | undefined,
	night: Dated,
): readonly Value[] {
	const { from, until } = series;
	const [start, middle, end] = [directionAt(from), directionAt((from + until) / 2), directionAt(until)];
	const compass = ({ azimuth }: Direction): number | undefined => field && turn(azimuth - field.declination);
	const view = !ofTheSky
		? told(words.ground())
		: inView.length === 0
			? told(words.never())
			: inView.map((one) => nightInterval(night, one)).join(", ");
	const object = objectOf(body);
	return [
		...(arch ? archValues(arch, of, entry.orientation === "portrait", panorama, night) : []),
		...(object ? [values.object(`${objectName(object)}: ${objectText(object)}`, { of })] : []),
		values.start({ night, at: from }, { of, fill: { how: timed ? words.asWritten() : words.usableStart() } }),
		values.end({ night, at: until }, { of }),
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
			fill: { how: !ofTheSky ? words.anyTime() : needsDark ? words.inViewDark() : words.inView() },
		}),
	];
}

/** Feet and top of the arch, when it is whole, how it turns, the panorama it needs. */
function archValues(
	arch: TargetArch,
	of: string,
	portrait: boolean,
	planned: TargetPanorama | undefined,
	night: Dated,
): readonly Value[] {
	const { top, left, right } = arch.start();
	const whole = arch.whole();
	const foot = (make: "arch-left" | "arch-right", direction: Direction | undefined): readonly Value[] =>
		direction ? [values[make](direction.azimuth, { of, fill: { altitude: degrees(direction.altitude) } })] : [];
	const hours = arch.hours().flatMap(({ at, arch: { top, left, right } }) =>
		left && right
			? told(
					words.archHour({
						time: nightClock(night, at),
						left: bearingText(left.azimuth),
						top: bearingText(top.azimuth),
						altitude: degrees(top.altitude),
						right: bearingText(right.azimuth),
					}),
				)
			: [],
	);
	return [
		...foot("arch-left", left),
		...foot("arch-right", right),
		values["arch-top-altitude"](top.altitude, { of }),
		values["arch-top-azimuth"](top.azimuth, { of }),
		values["arch-turn"](arch.turn(), { of }),
		values["arch-whole"](
			whole.length > 0
				? whole.map((one) => nightInterval(night, one)).join(", ")
				: told(left ? words.never() : words.archBelow()),
			{ of },
		),
		...(hours.length > 0 ? [values["arch-hours"](hours.join("; "), { of })] : []),
		...(arch.grid && left
			? [
					values["arch-panorama"](archPanoramaText(arch, portrait, planned), {
						of,
						fill: { margin: degrees(HALF_BAND, 0), overlap: ARCH_OVERLAP * 100 },
					}),
				]
			: []),
	];
}

/** What covers the arch; where the plan has a panorama of it, whether that does, and else what it leaves out. */
function archPanoramaText(arch: TargetArch, portrait: boolean, planned: TargetPanorama | undefined): string {
	const grid = arch.grid?.();
	const enough = grid
		? words.archPanels({
				columns: grid.columns,
				rows: grid.rows,
				held: [portrait ? words.portrait() : words.landscape()],
				frames: grid.columns * grid.rows,
			})
		: words.archTooMany();
	if (!planned) return told(enough);
	const { band } = arch.start();
	const isShown = coveredBy(planned.rows, planned.held);
	const missing = band.filter((direction) => !isShown(direction)).length / Math.max(1, band.length);
	const panels = { columns: planned.columns, rows: planned.rows.length };
	return told(
		missing === 0
			? words.archEnough(panels)
			: words.archShort({ ...panels, share: Math.max(1, Math.round(missing * 100)), enough: told(enough) }),
	);
}

function limitValues(target: EvaluatedTarget, limits: TargetLimits, night: Dated): readonly Value[] {
	const { name: of, trailLimit: limit, tracked, entry } = target;
	const { npfFull, axisErrorAllowed, fieldRotation, worst, drive } = limits;
	const { star, frame } = worst;
	const place = placeInFrame(star.place);
	const where = (frame.at === target.series.from ? words.where : words.later)({
		place,
		time: nightClock(night, frame.at),
		altitude: degrees(star.seen.altitude),
		bearing: bearingText(star.seen.azimuth),
	});
	const worstValues = [
		values["trail-worst-altitude"](star.seen.altitude, { of, fill: { place } }),
		values["trail-worst-azimuth"](star.seen.azimuth, { of }),
	];
	if (isOfArcs(entry))
		return [
			values.arc((SKY_RATE_ARCSEC / 3600) * target.seconds, { of }),
			...(entry.frames !== undefined && entry.frames > 1 ? [values["gap-trail"](limits.gap, { of })] : []),
			...worstValues,
		];
	const untracked = [
		values["untracked-limit"](limits.untracked, {
			of,
			fill: { limit, lowest: degrees(entry["sharp-above"] ?? SHARP_ABOVE) },
		}),
		...(npfFull === undefined ? [] : [values["untracked-npf-full"](npfFull, { of })]),
	];
	if (!tracked)
		return [
			...untracked,
			values.trail(limits.trail, { of, fill: { label: words.trail(), how: words.untracked({ where }) } }),
			...(limits.centre === undefined ? [] : [values["trail-centre"](limits.centre, { of })]),
			...worstValues,
		];
	return [
		...untracked,
		values["tracked-limit"](limits.tracked, { of, fill: { limit, chance: WANTED_CHANCE * 100 } }),
		values["axis-error-allowed"](axisErrorAllowed === undefined ? undefined : Math.max(0, axisErrorAllowed), {
			of,
			fill: { limit },
		}),
		values.trail(limits.trail, { of, fill: { label: words.trailMedian(), how: words.tracked({ where }) } }),
		values["trail-95"](limits.trail95, { of }),
		...(limits.centre === undefined ? [] : [values["trail-centre"](limits.centre, { of })]),
		...worstValues,
		values["trail-source"](told(words[limits.source]()), { of }),
		certain(values.chance(limits.chance * 100, { of, fill: { limit } }), limits.chance),
		values["trail-without-axis-error"](limits.floor, { of }),
		...(drive ? [values["trail-drive"](drive.median, { of, fill: { most: drive.most.toFixed(1) } })] : []),
		values["field-rotation"](fieldRotation === undefined ? undefined : fieldRotation * 60, { of }),
		values["ground-trail"](limits.ground, { of }),
	];
}

/** A chance is told as one: never as a certainty. */
const certain = (value: Value, chance: number): Value =>
	Number.isFinite(chance) ? { ...value, text: chanceText(chance) } : value;

const NINTHS = [
	["bottomLeft", "bottom", "bottomRight"],
	["left", "middle", "right"],
	["topLeft", "top", "topRight"],
] as const;

/** Which ninth of the frame a place is in, as the picture shows it. */
export function placeInFrame([right, up]: readonly [number, number]): Phrase {
	const third = (x: number): 0 | 1 | 2 => (x < -1 / 3 ? 0 : x > 1 / 3 ? 2 : 1);
	return words[NINTHS[third(up)][third(right)]]();
}
