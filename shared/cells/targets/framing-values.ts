/** The values of how a target lies in its frame, how much it takes of it, and of the Moon meanwhile. */
import { degrees } from "../../notation/angle.ts";
import { type Dated, nightClock, nightInterval } from "../../notation/night-clock.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { fieldAcross, pixelScaleArcsec } from "../../optics/camera.ts";
import { type Phrase, sentences, told } from "../../text/sentence.ts";
import type { Framed } from "./framing.ts";
import { sidesOf } from "./framing.ts";
import type { Foreground, TargetEntry } from "./keys.ts";
import type { TargetMoon } from "./moon.ts";
import { sizeOf } from "./size.ts";
import { type EvaluatedTarget, exposureSeconds, foregroundOf } from "./target.ts";

const words = sentences("value.framing", {
	never: "never",
	neverDark: "never while it is dark",
	upright: "upright",
	level: "level",
	leansRight: "leans {angle} to the right",
	leansLeft: "leans {angle} to the left",
	top: "to the top",
	upperRight: "to the upper right",
	right: "to the right",
	lowerRight: "to the lower right",
	bottom: "to the bottom",
	lowerLeft: "to the lower left",
	left: "to the left",
	upperLeft: "to the upper left",
	pointing: "{side}, {angle} {turn} from the top",
	clockwise: "clockwise",
	anticlockwise: "anticlockwise",
	inFrame: "in the frame",
	ahead: "ahead, outside the frame",
	sideLeft: "to the left of the frame",
	sideRight: "to the right of the frame",
	behind: "behind the camera",
	hidden: "{place}, hidden from the spot",
	rises: "{place}; rises at {time}",
	sets: "{place}; sets at {time}",
	both: "{place}; rises at {rise}, sets at {set}",
	down: "down",
});

const AT = ["aim", "name", "orientation"] as const;
const SIZE = ["aim", "name", "extent", "lens"] as const;

/** Those of a foreground, which may be a flag too, are not among those of an entry. */
type Path = PathOf<TargetEntry> | `foreground.${PathOf<Foreground>}`;

export const FRAMING_VALUES = valuesFor<Path>()("target", {
	"exposure-total": {
		is: "duration",
		label: "Total exposure",
		how: "Frames · exposure, as planned; of all panels of a panorama.",
		at: ["exposure", "frames", "name"],
	},
	"darks-total": {
		is: "duration",
		label: "Time for the dark frames",
		how: "Dark frames · exposure.",
		at: ["darks"],
	},
	"roll-start": {
		is: "side",
		plus: "clockwise, seen from behind the camera",
		minus: "anticlockwise, seen from behind the camera",
		label: "Camera's roll at the start",
		how: "The camera is set level.",
		at: AT,
	},
	"roll-end": {
		is: "side",
		plus: "clockwise, seen from behind the camera",
		minus: "anticlockwise, seen from behind the camera",
		label: "Camera's roll at the end",
		how: "How far the camera is rolled when the last frame ends.",
		at: AT,
	},
	"ground-start": {
		is: "number",
		unit: "%",
		places: 0,
		label: "Ground in the frame at the start",
		how: "Part of the frame in which something hides the sky, to about two per cent.",
		at: AT,
	},
	"ground-end": {
		is: "number",
		unit: "%",
		places: 0,
		label: "Ground in the frame at the end",
		how: "Part of the frame in which something hides the sky, when the last frame ends.",
		at: AT,
	},
	"ground-fits": {
		is: "text",
		label: "Target and ground fit together",
		how: `Dark times when a level frame centred on the target shows all of it, with ground at the frame's lower
			edge.`,
		at: [...AT, "extent"],
	},
	"north-start": {
		is: "text",
		label: "North in the frame at the start",
		how: "Where the celestial north pole is, seen from the target: up on maps of the sky.",
		at: AT,
	},
	"north-end": {
		is: "text",
		label: "North in the frame at the end",
		how: "Where the celestial north pole is, seen from the target, when the last frame ends.",
		at: AT,
	},
	"milky-way-start": {
		is: "text",
		label: "Milky Way in the frame at the start",
		how: "How its middle line runs past the target.",
		at: AT,
	},
	"milky-way-end": {
		is: "text",
		label: "Milky Way in the frame at the end",
		how: "How its middle line runs past the target when the last frame ends.",
		at: AT,
	},
	"tail-start": {
		is: "text",
		label: "Tail points",
		how: "Away from the Sun, at the first frame; a dust tail may lag behind that.",
		at: AT,
	},
	"size-in-frame": {
		is: "number",
		unit: "%",
		places: 0,
		label: "Size in the frame",
		how: "The target's longer side ({size}) over the frame's shorter one ({high}): {pixels} px in its middle.",
		at: SIZE,
	},
	"moon-place": {
		is: "text",
		label: "Moon",
		how: `While the frames are taken: in the frame at its start, middle or end, otherwise by its bearing half-way
			through.`,
		at: ["aim", "name", "from", "at"],
	},
	"moon-illumination": {
		is: "number",
		unit: "%",
		places: 0,
		label: "Moon illumination",
		how: "While it is up during the frames.",
		at: ["name", "moon-allowed"],
	},
	"moon-altitude-start": {
		is: "angle",
		label: "Moon's altitude when first up",
		how: "When it is first up during the frames.",
		at: ["name", "moon-allowed"],
	},
	"moon-azimuth-start": {
		is: "bearing",
		label: "Moon's bearing at the start",
		how: "True, when it is first up during the frames.",
		at: ["name", "moon-allowed"],
	},
	"moon-altitude-end": {
		is: "angle",
		label: "Moon's altitude at the end",
		how: "When it is last up during the frames.",
		at: ["name", "moon-allowed"],
	},
	"moon-azimuth-end": {
		is: "bearing",
		label: "Moon's bearing at the end",
		how: "True, when it is last up during the frames.",
		at: ["name", "moon-allowed"],
	},
	"moon-away": {
		is: "angle",
		label: "Moon from the middle of the frame",
		how: "When it is first up during the frames.",
		at: ["name", "moon-allowed"],
	},
	moonlight: {
		is: "text",
		label: "Moon lights the ground",
		how: "From the side asked for, seen from the spot, between civil dusk and civil dawn.",
		at: ["foreground", "foreground.light", "foreground.lit-from"],
	},
});

const values = FRAMING_VALUES;

/** Frames and darks in minutes, the Moon, and for a target of the sky how it lies in the frame. */
export function framingValues(target: EvaluatedTarget, night: Dated): readonly Value[] {
	const { name: of, entry, framing, ofTheSky } = target;
	const { exposure = 0, darks } = entry;
	return [
		values["exposure-total"](exposureSeconds(target), { of }),
		...(darks === undefined ? [] : [values["darks-total"](darks * exposure, { of })]),
		...moonValues(target, night),
		...(framing && ofTheSky ? [...sizeValues(target), ...lyingValues(target, night)] : []),
	];
}

function moonValues({ name: of, moon, moonlight, entry }: EvaluatedTarget, night: Dated): readonly Value[] {
	const during = moon();
	const lights = moonlight && foregroundOf(entry) ? [values.moonlight(intervalsText(moonlight(), night), { of })] : [];
	if (!during) return [values["moon-place"](told(words.down()), { of }), ...lights];
	const { start, end, illumination, away } = during;
	return [
		values["moon-place"](told(moonPlace(during, night)), { of }),
		values["moon-illumination"](illumination * 100, { of }),
		values["moon-altitude-start"](start.altitude, { of }),
		values["moon-azimuth-start"](start.azimuth, { of }),
		values["moon-altitude-end"](end.altitude, { of }),
		values["moon-azimuth-end"](end.azimuth, { of }),
		values["moon-away"](away, { of }),
		...lights,
	];
}

const intervalsText = (
	list: readonly { from: number; until: number }[],
	night: Dated,
	never = words.never(),
): string => (list.length === 0 ? told(never) : list.map((one) => nightInterval(night, one)).join(", "));

/** Whether the Moon is in the frame or where beside it, and whether it rises or sets meanwhile. */
export function moonPlace({ side, hidden, rises, sets }: TargetMoon, night: Dated): Phrase {
	const at = {
		"in-frame": words.inFrame,
		ahead: words.ahead,
		left: words.sideLeft,
		right: words.sideRight,
		behind: words.behind,
	}[side]();
	const place = [hidden ? words.hidden({ place: [at] }) : at];
	const clock = (moment: number): string => nightClock(night, moment);
	if (rises !== undefined && sets !== undefined) return words.both({ place, rise: clock(rises), set: clock(sets) });
	if (rises !== undefined) return words.rises({ place, time: clock(rises) });
	return sets === undefined ? (place[0] as Phrase) : words.sets({ place, time: clock(sets) });
}

function sizeValues(target: EvaluatedTarget): readonly Value[] {
	const { lens, entry, name: of } = target;
	const size = sizeOf(target);
	if (!lens || size === undefined) return [];
	const [width, height] = sidesOf(lens.camera, entry.orientation === "portrait");
	const high = Math.min(fieldAcross(lens.camera, width), fieldAcross(lens.camera, height));
	return [
		values["size-in-frame"]((size / high) * 100, {
			of,
			fill: {
				size: degrees(size),
				high: degrees(high),
				pixels: ((size * 3600) / pixelScaleArcsec(lens.camera)).toFixed(0),
			},
		}),
	];
}

function lyingValues(
	{ framing, name: of, tracked, series, entry, needsDark }: EvaluatedTarget,
	night: Dated,
): readonly Value[] {
	if (!framing) return [];
	const [start, end] = [framing.start(), framing.end()];
	const slant = (id: "north-start" | "north-end" | "tail-start", angle: number | undefined): readonly Value[] =>
		angle === undefined ? [] : [values[id](told(pointingIn(angle)), { of })];
	const band = (id: "milky-way-start" | "milky-way-end", { milkyWay }: Framed): readonly Value[] =>
		milkyWay === undefined ? [] : [values[id](told(leaning(milkyWay)), { of })];
	const isOne = (entry.frames ?? 1) === 1 && series.until - series.from < 600_000;
	return [
		values["roll-start"](start.roll, { of }),
		...(tracked ? [values["roll-end"](end.roll, { of })] : []),
		values["ground-start"](start.ground * 100, { of }),
		...(tracked ? [values["ground-end"](end.ground * 100, { of })] : []),
		values["ground-fits"](intervalsText(framing.fits(), night, needsDark ? words.neverDark() : words.never()), { of }),
		...band("milky-way-start", start),
		...(isOne ? [] : band("milky-way-end", end)),
		...slant("tail-start", start.tail),
		...slant("north-start", start.north),
		...(isOne ? [] : slant("north-end", end.north)),
	];
}

/** Degrees from upright and from level within which a slant is not told. */
const STRAIGHT = 5;

/** How a line runs through the frame: upright, level, or leaning to a side. */
export function leaning(angle: number): Phrase {
	if (Math.abs(angle) <= STRAIGHT) return words.upright();
	if (Math.abs(angle) >= 90 - STRAIGHT) return words.level();
	const by = { angle: degrees(Math.abs(angle), 0) };
	return angle > 0 ? words.leansRight(by) : words.leansLeft(by);
}

const EIGHTHS = ["top", "upperRight", "right", "lowerRight", "bottom", "lowerLeft", "left", "upperLeft"] as const;

/** Where something points to in the frame, by its angle clockwise from the top. */
export function pointingIn(angle: number): Phrase {
	const side = words[EIGHTHS[Math.round(((angle + 360) % 360) / 45) % 8] ?? "top"]();
	return words.pointing({
		side: [side],
		angle: degrees(Math.abs(angle), 0),
		turn: [angle < 0 ? words.anticlockwise() : words.clockwise()],
	});
}
