/**
 * The model of a plan: every kind of cell, every key, its type, unit, range, default and words. Written once, here;
 * the reader, the JSON Schema, completion, hovers and the reference page are made from it.
 */

import {
	bearing,
	bodyName,
	clock,
	coordinate,
	type Decoded,
	date,
	either,
	type Field,
	flag,
	list,
	mapping,
	markdown,
	number,
	optional,
	path,
	pixelCount,
	quantity,
	reference,
	required,
	type Shape,
	sensorSize,
	skyPoint,
	starName,
	text,
	whole,
	word,
	zone,
} from "../notation/shape.ts";
import type { Projection } from "../optics/camera.ts";

const plan = mapping("The plan itself", {
	title: required(text(), {
		doc: "What the night is for, in a few words. It heads the page and the card.",
		example: "Core over the roofless chapel",
	}),
	format: optional(whole({ min: 1, max: 1 }), {
		doc: "Version of the plan format. This is version 1.",
		example: "1",
		otherwise: "1",
	}),
	summary: optional(text(), {
		doc: "A sentence or two for those who get the plan.",
		example: "Two hours under the gable, then home.",
	}),
});

const landmark = mapping("A nameable thing with a bearing", {
	name: required(text(), { doc: "What the plan and the card call it.", example: "water tower" }),
	latitude: optional(coordinate("latitude"), { doc: "Latitude of the landmark, WGS 84.", example: "32.4391 S" }),
	longitude: optional(coordinate("longitude"), { doc: "Longitude of the landmark, WGS 84.", example: "20.8102 E" }),
	elevation: optional(quantity("length", { min: -500, max: 9000 }), {
		doc: "Height above sea level of the point that is sighted.",
		example: "1492 m",
		otherwise: "the site's",
	}),
	bearing: optional(bearing(), {
		doc: "Bearing measured from the stand, where the landmark has no coordinates. `134` is true, `134°M` magnetic.",
		example: "134°M",
		otherwise: "reckoned from the coordinates",
	}),
	altitude: optional(quantity("angle", { min: -90, max: 90 }), {
		doc: "Altitude measured from the stand, where the landmark has no coordinates.",
		example: "2.5°",
		otherwise: "reckoned from the coordinates",
	}),
});

const opening = mapping("A window of visible sky in an enclosed stand", {
	name: required(text(), { doc: "What the plan and the card call it.", example: "west window" }),
	outline: required(list(skyPoint(), { min: 3, max: 500 }), {
		doc: "Corners of the window as seen from the stand: pairs of true bearing and altitude in degrees, in order around it.",
		example: "[[150, 5], [210, 5], [205, 48], [155, 50]]",
	}),
});

const site = mapping("The stand", {
	from: optional(path(), {
		doc: "Another plan whose cell of this kind is taken; keys of this cell override. A relative path inside the workspace.",
		example: "../stands/chapel.lode.yaml",
		otherwise: "nothing is taken",
	}),
	name: required(text(), { doc: "Name of the stand.", example: "Roofless chapel" }),
	latitude: required(coordinate("latitude"), {
		doc: "Latitude of the stand, WGS 84: signed decimal degrees (north positive), `32.4123 S`, or `32° 24′ 44″ S`.",
		example: "32.4123 S",
	}),
	longitude: required(coordinate("longitude"), {
		doc: "Longitude of the stand, WGS 84: signed decimal degrees (east positive), `20.8431 E`, or `20° 50′ 35″ E`.",
		example: "20.8431 E",
	}),
	elevation: optional(quantity("length", { min: -500, max: 9000 }), {
		doc: "Height above sea level.",
		example: "1450 m",
		otherwise: "0 m",
	}),
	timezone: optional(zone(), {
		doc: "IANA name of the zone whose clock times the plan is written in.",
		example: "Africa/Johannesburg",
		otherwise: "found from the coordinates",
	}),
	skyline: optional(list(skyPoint(), { min: 1, max: 2000 }), {
		doc: "Height of the horizon all round: pairs of true bearing and altitude in degrees, linear between, wrapping past north.",
		example: "[[0, 4], [90, 12], [180, 49], [270, 20]]",
		otherwise: "flat, at 0°",
	}),
	openings: optional(list(opening, { min: 1, max: 50 }), {
		doc: "For a cave, an arch, a ruin with a roof: only what lies in one of these windows, and above the skyline, is visible.",
		example: "[{ name: mouth, outline: [[150, 0], [210, 0], [180, 45]] }]",
		otherwise: "open sky above the skyline",
	}),
	landmarks: optional(list(landmark, { max: 200 }), {
		doc: "Nameable things with a known place, to take bearings from.",
		example: "[{ name: water tower, latitude: 32.4391 S, longitude: 20.8102 E, elevation: 1492 m }]",
		otherwise: "none",
	}),
	temperature: optional(quantity("temperature", { min: -60, max: 60 }), {
		doc: "Air temperature, for refraction.",
		example: "10 °C",
		otherwise: "10 °C",
	}),
	pressure: optional(quantity("pressure", { min: 400, max: 1100 }), {
		doc: "Air pressure at the stand, for refraction.",
		example: "860 hPa",
		otherwise: "the standard atmosphere at the site's elevation",
	}),
});

const night = mapping("The night", {
	date: required(date(), {
		doc: "The evening's date, `YYYY-MM-DD`. Times before noon belong to the next morning.",
		example: "2027-06-05",
	}),
	arrive: optional(clock(), { doc: "Clock time of arriving at the stand.", example: '"17:00"', otherwise: "noon" }),
	leave: optional(clock(), {
		doc: "Clock time of leaving the stand.",
		example: '"02:00"',
		otherwise: "noon of the next day",
	}),
	"sun-below": optional(quantity("angle", { min: 0, max: 30 }), {
		doc: "How far the Sun must be below the horizon for the plan to call it dark.",
		example: "18°",
		otherwise: "18° (astronomical twilight)",
	}),
	"moon-allowed": optional(quantity("share", { min: 0, max: 100 }), {
		doc: "Lit share of the Moon up to which moonlight does not spoil the plan.",
		example: "15 %",
		otherwise: "0 %: the Moon must be down",
	}),
});

/** Projections of lenses. */
export const PROJECTIONS = {
	rectilinear: "Straight lines stay straight: nearly every lens that is not a fisheye.",
	equisolid: "Most fisheyes: r = 2 f sin(θ/2).",
	equidistant: "Some fisheyes: r = f θ.",
} as const satisfies Readonly<Record<Projection, string>>;

const lens = mapping("A lens on a camera", {
	from: optional(path(), {
		doc: "Another plan whose cell of this kind is taken; keys of this cell override. A relative path inside the workspace.",
		example: "../stands/chapel.lode.yaml",
		otherwise: "nothing is taken",
	}),
	name: optional(text(), {
		doc: "Name by which targets refer to it. Needed when there are several lenses.",
		example: "wide",
		otherwise: "`lens`",
	}),
	"focal-length": required(quantity("focal-length", { above: 0, max: 5000 }), {
		doc: "Real focal length, not the equivalent for another format.",
		example: "24 mm",
	}),
	"f-number": optional(number({ above: 0, max: 128 }), {
		doc: "Aperture the frames are taken at.",
		example: "2",
		otherwise: "2.8",
	}),
	sensor: required(sensorSize(), {
		doc: "Width and height of the sensor, or the name of a format: `full-frame`, `aps-c`, `micro-four-thirds`, `medium-format-44x33`, `one-inch`.",
		example: "36 x 24 mm",
	}),
	pixels: optional(pixelCount(), {
		doc: "Width and height of a frame in pixels. This or `pixel-pitch`.",
		example: "6000 x 4000",
		otherwise: "from the pixel pitch",
	}),
	"pixel-pitch": optional(quantity("pixel-pitch", { above: 0.3, max: 100 }), {
		doc: "Distance between neighbouring pixels. This or `pixels`.",
		example: "6 µm",
		otherwise: "from the sensor and its pixels",
	}),
	projection: optional(word(PROJECTIONS), {
		doc: "How the lens maps angles to the frame.",
		example: "rectilinear",
		otherwise: "rectilinear",
	}),
});

/** Heads under a tracker. */
export const HEADS = {
	geared: "Geared head: scales for tilt and pan, moves one axis at a time.",
	"pan-tilt": "Pan-tilt head: scales for tilt and pan.",
	wedge: "Wedge: scales for tilt and pan, made for trackers.",
	ball: "Ball head: no scales, and it moves every way at once when loosened.",
} as const;

const tracker = mapping("The tracker and its head", {
	from: optional(path(), {
		doc: "Another plan whose cell of this kind is taken; keys of this cell override. A relative path inside the workspace.",
		example: "../stands/chapel.lode.yaml",
		otherwise: "nothing is taken",
	}),
	name: optional(text(), { doc: "What you call it.", example: "the small tracker", otherwise: "`tracker`" }),
	head: optional(word(HEADS), { doc: "What the tracker stands on.", example: "geared", otherwise: "geared" }),
	rate: optional(
		word({ sidereal: "Follows the stars.", half: "Half the stars' rate: sky and ground both trail a little." }),
		{
			doc: "Rate it turns at.",
			example: "sidereal",
			otherwise: "sidereal",
		},
	),
	"tilt-scale": optional(quantity("angle", { min: 0, max: 45 }), {
		doc: "How well the tilt is set, one standard deviation: scale, levelling fore and aft, sag.",
		example: "± 1°",
		otherwise: "± 1° (common practice)",
	}),
	level: optional(quantity("angle", { min: 0, max: 45 }), {
		doc: "How level the head is set sideways, one standard deviation.",
		example: "± 0.3°",
		otherwise: "± 0.3° (common practice)",
	}),
	"pan-scale": optional(quantity("angle", { min: 0, max: 45 }), {
		doc: "How well a turn of the pan is read, one standard deviation.",
		example: "± 1°",
		otherwise: "± 1° (common practice)",
	}),
	"periodic-error": optional(
		mapping("Periodic error of the drive", {
			amplitude: required(quantity("angle", { min: 0, max: 5 }), {
				doc: "Half of peak to peak.",
				example: "40 arcsec",
			}),
			period: required(quantity("duration", { above: 0, max: 86400 }), {
				doc: "One turn of the worm.",
				example: "10 min",
			}),
		}),
		{
			doc: "The drive's slow swing to and fro about the true rate.",
			example: "{ amplitude: 40 arcsec, period: 10 min }",
			otherwise: "none",
		},
	),
	"turn-limit": optional(quantity("duration", { above: 0, max: 86400 }), {
		doc: "How long it can run before it must be turned back.",
		example: "2 h",
		otherwise: "no limit",
	}),
	"tilt-zero": optional(quantity("angle", { min: -45, max: 45 }), {
		doc: "Constant error of the tilt scale, found from the log: what the scale shows less the true tilt.",
		example: "0.4°",
		otherwise: "0°",
	}),
	"pan-zero": optional(quantity("angle", { min: -45, max: 45 }), {
		doc: "Constant error of the bearing set, found from the log, clockwise positive.",
		example: "-0.8°",
		otherwise: "0°",
	}),
});

/** Kinds of method: what is set by what. */
export const METHOD_KINDS = {
	"pole-sighting":
		"The axis is put on the pole through the polar scope or sight hole, by the pole star's place beside the pole.",
	compass: "Tilt by scale, bearing by magnetic compass.",
	"sky-bearing": "Tilt by scale, bearing by turning the pan from a star, a planet, the Moon or the Sun's shadow.",
	"landmark-bearing": "Tilt by scale, bearing by turning the pan from a landmark.",
	"square-laser":
		"A laser laid across the tracker, at right angles to the axis and in its vertical plane, is put on a guide star.",
	"star-sweep": "A pointer fixed square to the axis on the turning plate must meet two stars as the plate turns.",
	phone: "A phone's inclinometer and compass laid along the axis.",
	drift: "The axis is corrected from the drift of test frames in two places of the sky.",
} as const;
export type MethodKind = keyof typeof METHOD_KINDS;

/** Error sources by name: what `uncertainty:` may override. */
export const SOURCES = {
	"tilt-scale": "How well the tilt is set by scale, levelling fore and aft included.",
	level: "How far the head is tilted sideways.",
	roll: "How far the laser is rolled about the axis.",
	"pan-scale": "How well a turn of the pan is read.",
	compass: "How well the compass is read, local iron and rock included.",
	"magnetic-model": "How far the magnetic model may be off here.",
	clock: "How far the watch is off, or the hand late.",
	aim: "How well the pointer, sight or frame is put on its mark.",
	squareness: "How far the right angle (or the scope's axis) is off.",
	landmark: "How well the landmark's place is known, across the line of sight.",
	body: "How well the star's or body's own place is known.",
} as const;
export type SourceName = keyof typeof SOURCES;

const uncertainty = mapping(
	"The ± of each error source",
	Object.fromEntries(
		Object.entries(SOURCES).map(([name, doc]) => {
			const shape: Shape<number> =
				name === "clock"
					? quantity("duration", { min: 0, max: 3600 })
					: name === "landmark"
						? quantity("length", { min: 0, max: 100000 })
						: quantity("angle", { min: 0, max: 45 });
			const example = name === "clock" ? "± 5 s" : name === "landmark" ? "± 10 m" : "± 0.5°";
			return [
				name,
				optional(shape, {
					doc: `${doc} One standard deviation; zero switches the source off.`,
					example,
					otherwise: "common practice",
				}),
			];
		}),
	) as Record<SourceName, Field<number>>,
);

const test = mapping("A test frame for the drift", {
	star: required(starName(), { doc: "Star (or the middle of the frame) whose drift is measured.", example: "Spica" }),
	at: required(clock(), { doc: "Clock time of the frame's middle.", example: '"21:10"' }),
	frame: optional(quantity("duration", { above: 0, max: 7200 }), {
		doc: "How long the frame runs.",
		example: "4 min",
		otherwise: "4 min",
	}),
});

const method = mapping("A way to align the axis", {
	kind: required(word(METHOD_KINDS), { doc: "What is set by what.", example: "square-laser" }),
	at: optional(clock(), {
		doc: "Clock time at which it is done.",
		example: '"20:01"',
		otherwise: "the best time of the stay",
	}),
	star: optional(starName(), {
		doc: "`pole-sighting`: the pole star.",
		example: "Polaris",
		otherwise: "Polaris in the north, σ Octantis in the south",
	}),
	body: optional(bodyName(), {
		doc: "`sky-bearing`: star, planet, Moon, or the Sun (by its shadow only).",
		example: "Jupiter",
	}),
	landmark: optional(reference("landmark"), {
		doc: "`landmark-bearing`: name of a landmark of the site.",
		example: "water tower",
	}),
	"guide-star": optional(starName(), { doc: "`square-laser`: the star the laser is put on.", example: "eta Virginis" }),
	offset: optional(quantity("angle", { above: 0, max: 179 }), {
		doc: "`square-laser`, `star-sweep`: angle between the axis and the laser or pointer.",
		example: "90°",
		otherwise: "90°",
	}),
	reach: optional(quantity("angle", { above: 0, max: 30 }), {
		doc: "`square-laser`, `star-sweep`: how far from the aim point a guide star may pass and still serve.",
		example: "1°",
		otherwise: "1°",
	}),
	stars: optional(list(starName(), { min: 2, max: 2 }), {
		doc: "`star-sweep`: the two stars.",
		example: "[Spica, eta Virginis]",
	}),
	declination: optional(quantity("angle", { min: -180, max: 180 }), {
		doc: "`compass`: magnetic declination, east positive, checked against the model.",
		example: "-24.1°",
		otherwise: "from the World Magnetic Model",
	}),
	reads: optional(word({ true: "The phone shows true bearings.", magnetic: "The phone shows magnetic bearings." }), {
		doc: "`phone`: which north its compass shows. Look in its settings.",
		example: "magnetic",
		otherwise: "magnetic",
	}),
	first: optional(test, {
		doc: "`drift`: the first test frame.",
		example: '{ star: Spica, at: "21:10", frame: 4 min }',
	}),
	second: optional(test, {
		doc: "`drift`: the second, some six hours of hour angle from the first.",
		example: '{ star: Altair, at: "21:20", frame: 4 min }',
	}),
	"local-rules-checked": optional(flag(), {
		doc: "Laser methods: say `true` once you know that a laser is allowed there, of which class, and who may be disturbed.",
		example: "true",
		otherwise: "false",
	}),
	uncertainty: optional(uncertainty, {
		doc: "The ± of each error source, one standard deviation.",
		example: "{ compass: ± 3°, clock: ± 2 s }",
		otherwise: "common practice for each",
	}),
});

const aim = either(
	bodyName(),
	mapping(
		"A fixed direction",
		{
			azimuth: required(bearing(), { doc: "Bearing of the middle of the frame.", example: "95" }),
			altitude: required(quantity("angle", { min: -30, max: 90 }), {
				doc: "Altitude of the middle of the frame.",
				example: "12",
			}),
		},
		{ offered: "{ azimuth: 90, altitude: 10 }" },
	),
	mapping("A place in the sky, J2000", {
		"right-ascension": required(quantity("angle", { min: 0, max: 360 }), {
			doc: "Right ascension in degrees, J2000.",
			example: "266.4°",
		}),
		declination: required(quantity("angle", { min: -90, max: 90 }), {
			doc: "Declination in degrees, J2000.",
			example: "-29.0°",
		}),
	}),
);

const target = mapping("A target", {
	name: required(text(), { doc: "What the plan and the card call it.", example: "core over the gable" }),
	aim: required(aim, {
		doc: "What the frame is centred on: `galactic-centre`, a star, a planet, the Moon; `{ azimuth, altitude }` for a fixed direction; `{ right-ascension, declination }` for a place in the sky.",
		example: "galactic-centre",
	}),
	lens: optional(reference("lens"), { doc: "Name of the lens.", example: "wide", otherwise: "the only lens" }),
	at: optional(clock(), { doc: "Clock time of the first frame.", example: '"18:10"' }),
	from: optional(clock(), { doc: "Clock time of the first frame of a series. The same as `at`.", example: '"20:30"' }),
	until: optional(clock(), {
		doc: "Clock time at which the series must have ended.",
		example: '"22:00"',
		otherwise: "when the frames are done",
	}),
	exposure: required(quantity("duration", { above: 0, max: 86400 }), {
		doc: "How long one frame is exposed.",
		example: "180 s",
	}),
	frames: optional(whole({ min: 1, max: 100000 }), { doc: "How many frames.", example: "12", otherwise: "1" }),
	gap: optional(quantity("duration", { min: 0, max: 86400 }), {
		doc: "Pause between two frames.",
		example: "5 s",
		otherwise: "0 s",
	}),
	trail: optional(quantity("pixels", { above: 0, max: 1000 }), {
		doc: "Longest trail of a star that still looks sharp to you.",
		example: "1.5 px",
		otherwise: "1.5 px",
	}),
	tracked: optional(flag(), { doc: "Whether the tracker runs.", example: "false", otherwise: "true" }),
	opening: optional(reference("opening"), {
		doc: "Name of the opening the target must stay in.",
		example: "west window",
		otherwise: "any opening",
	}),
	orientation: optional(word({ horizontal: "Long side level.", vertical: "Long side upright." }), {
		doc: "How the frame is held.",
		example: "vertical",
		otherwise: "horizontal",
	}),
	extent: optional(quantity("angle", { above: 0, max: 180 }), {
		doc: "How wide the thing is on the sky, to check that it fits the frame.",
		example: "20°",
		otherwise: "not checked",
	}),
	companion: optional(flag(), {
		doc: "Whether an untracked frame of the foreground is taken too.",
		example: "true",
		otherwise: "false",
	}),
});

const solvedFrame = mapping("A frame whose stars were identified", {
	at: required(clock(), { doc: "Clock time of the frame's middle.", example: '"21:30"' }),
	"right-ascension": required(quantity("angle", { min: 0, max: 360 }), {
		doc: "Right ascension of the middle of the frame, degrees, J2000.",
		example: "266.41°",
	}),
	declination: required(quantity("angle", { min: -90, max: 90 }), {
		doc: "Declination of the middle of the frame, degrees, J2000.",
		example: "-29.01°",
	}),
	"position-angle": required(quantity("angle", { min: -360, max: 360 }), {
		doc: "Direction of the frame's up, degrees from north through east on the sky.",
		example: "12.4°",
	}),
});

const logEntry = mapping("What happened", {
	date: optional(date(), { doc: "The evening's date.", example: "2027-06-05", otherwise: "the plan's" }),
	at: optional(clock(), { doc: "Clock time of the frame's middle. Needed with `drift`.", example: '"21:12"' }),
	frame: optional(quantity("duration", { above: 0, max: 86400 }), {
		doc: "How long the frame ran. Needed with `drift`.",
		example: "120 s",
	}),
	lens: optional(reference("lens"), { doc: "Name of the lens.", example: "wide", otherwise: "the only lens" }),
	star: optional(bodyName(), { doc: "Star whose trail was measured. Needed with `drift`.", example: "theta Scorpii" }),
	drift: optional(
		mapping("Drift of the star over the frame, as it stands on the ground: up is toward the zenith", {
			right: required(quantity("pixels"), { doc: "To the right, as one faces the star.", example: "2.5 px" }),
			up: required(quantity("pixels"), { doc: "Upward, toward the zenith.", example: "-6 px" }),
		}),
		{
			doc: "How far the star drifted from the frame's first moment to its last, camera level.",
			example: "{ right: 2.5 px, up: -6 px }",
		},
	),
	solved: optional(list(solvedFrame, { min: 2, max: 2 }), {
		doc: "Two frames whose stars were identified, taken before and after a turn of the plate, or at two times of a tracked run. The camera must not have been moved on the plate between them.",
		example:
			'[{ at: "21:30", right-ascension: 266.4°, declination: -29.0°, position-angle: 12.4° }, { at: "21:50", right-ascension: 266.3°, declination: -28.8°, position-angle: 12.1° }]',
	}),
	note: optional(text(), { doc: "Anything else.", example: "wind got up" }),
});

/** A kind of cell: its shape, whether a plan needs one, and whether it may stand more than once. */
export interface CellKind<T = unknown> {
	readonly shape: Shape<T>;
	readonly doc: string;
	readonly required: boolean;
	readonly many: boolean;
}
const kind = <T>(shape: Shape<T>, doc: string, { required = false, many = false } = {}): CellKind<T> => ({
	shape,
	doc,
	required,
	many,
});

/** Every kind of cell. A new kind is a line here. */
export const CELL_KINDS = {
	plan: kind(plan, "The title of the plan and the format it is written in.", { required: true }),
	site: kind(site, "The stand: where it is, what it hides and what it shows.", { required: true }),
	night: kind(night, "The evening's date and the clock times of arriving and leaving.", { required: true }),
	lens: kind(lens, "A lens on a camera. Several lenses need names.", { required: true, many: true }),
	tracker: kind(tracker, "The tracker, its head, and how well they are set."),
	method: kind(method, "A way to align the axis. The first is the plan, the others are ranked fall-backs.", {
		required: true,
		many: true,
	}),
	targets: kind(list(target, { min: 1, max: 500 }), "What is photographed, when, with which lens and for how long.", {
		required: true,
	}),
	note: kind(markdown(), "Markdown for those who go: what to bring, where to walk, what to mind.", { many: true }),
	log: kind(
		list(logEntry, { max: 1000 }),
		"What happened: drifts measured on frames, from which the axis error follows.",
	),
} as const satisfies Record<string, CellKind>;

export type CellKindName = keyof typeof CELL_KINDS;
/** Their names, in the order in which a plan is written. */
export const CELL_KIND_NAMES = Object.keys(CELL_KINDS) as readonly CellKindName[];
export type CellContent<K extends CellKindName> = Decoded<(typeof CELL_KINDS)[K]["shape"]>;

export type PlanContent = CellContent<"plan">;
export type SiteContent = CellContent<"site">;
export type LandmarkEntry = Decoded<typeof landmark>;
export type OpeningEntry = Decoded<typeof opening>;
export type NightContent = CellContent<"night">;
export type LensContent = CellContent<"lens">;
export type TrackerContent = CellContent<"tracker">;
export type MethodContent = CellContent<"method">;
export type TestFrame = Decoded<typeof test>;
export type TargetEntry = Decoded<typeof target>;
export type Aim = NonNullable<TargetEntry["aim"]>;
export type LogEntry = Decoded<typeof logEntry>;
export type SolvedFrame = Decoded<typeof solvedFrame>;

/** Keys of a method that belong to certain kinds only; the others belong to all. */
export const METHOD_KEYS: Readonly<Record<string, readonly MethodKind[]>> = {
	star: ["pole-sighting"],
	body: ["sky-bearing"],
	landmark: ["landmark-bearing"],
	"guide-star": ["square-laser"],
	offset: ["square-laser", "star-sweep"],
	reach: ["square-laser", "star-sweep"],
	stars: ["star-sweep"],
	declination: ["compass"],
	reads: ["phone"],
	first: ["drift"],
	second: ["drift"],
	"local-rules-checked": ["square-laser", "star-sweep"],
};
