/** The keys of an entry of `targets`. */
import {
	bearing,
	bodyName,
	clock,
	cometLine,
	type Decoded,
	EXAMPLE_LINE,
	either,
	flag,
	list,
	mapping,
	number,
	optional,
	quantity,
	reference,
	required,
	showerName,
	text,
	whole,
	word,
} from "../../notation/shape.ts";
import { MOST_COLUMNS, MOST_ROWS } from "../../optics/panorama-rows.ts";
import { darkKeys } from "../night/keys.ts";
import { TAKEN_FROM } from "../taken.ts";

/** What a frame is centred on. */
const aim = either(
	bodyName(),
	mapping("A fixed direction", {
		azimuth: required(bearing(), { doc: "Bearing of the middle of the frame.", example: "95" }),
		altitude: required(quantity("angle", { min: -30, max: 90 }), {
			doc: "Altitude of the middle of the frame.",
			example: "12",
		}),
	}),
	mapping("A place in the sky, J2000", {
		"right-ascension": required(quantity("right-ascension", { min: 0, max: 360 }), {
			doc: "Right ascension, J2000: `5h 35m 17s`, `05:35:17` (hours), `12.5 h`, or degrees.",
			example: "5h 35m 17s",
		}),
		declination: required(quantity("declination", { min: -90, max: 90 }), {
			doc: "Declination, J2000: `-5° 23′ 28″`, `-05:23:28`, or degrees.",
			example: "-5° 23′ 28″",
		}),
	}),
	mapping("A place in galactic coordinates", {
		"galactic-longitude": required(quantity("angle", { min: -180, max: 360 }), {
			doc: "Angle along the Milky Way from its centre, toward Cygnus (IAU 1958).",
			example: "80°",
		}),
		"galactic-latitude": required(quantity("angle", { min: -90, max: 90 }), {
			doc: "Angle from the Milky Way's middle line, toward the north galactic pole.",
			example: "0°",
		}),
	}),
	mapping("A comet", {
		comet: required(cometLine(), {
			doc: "The comet's orbital elements in one line, as the Minor Planet Center publishes them (*Ephemerides and Orbital Elements*), in quotes and with all its spaces.",
			example: `"${EXAMPLE_LINE}"`,
		}),
	}),
	mapping("A range of bearing and altitude, for a panorama", {
		bearings: required(list(bearing(), { min: 2, max: 2 }), {
			doc: "Bearings of its left and its right end.",
			example: "[95, 215]",
		}),
		altitudes: required(list(quantity("angle", { min: -60, max: 90 }), { min: 2, max: 2 }), {
			doc: "Altitudes of its lower and its upper edge.",
			example: "[2, 40]",
		}),
	}),
);

const atBearing = mapping("When the target reaches a bearing", {
	bearing: required(bearing(), { doc: "Bearing of the target at the first frame.", example: "205" }),
});
const atAltitude = mapping("When the target reaches an altitude", {
	altitude: required(quantity("angle", { min: -2, max: 90 }), {
		doc: "Altitude of the target, as seen, at the first frame; while it rises, unless `setting` is true.",
		example: "20°",
	}),
	setting: optional(flag(), {
		doc: "Whether it is at that altitude as it sets.",
		example: "true",
		otherwise: "false",
	}),
});

/** When frames of the ground are taken. */
export const LIGHTS = {
	dusk: "From sunset to nautical dusk, or from nautical dawn to sunrise.",
	dark: "While it is dark.",
	moon: "By the light of the Moon.",
	lamp: "By a lamp, at any time after civil dusk.",
} as const;

const counts = {
	columns: whole({ min: 1, max: MOST_COLUMNS }),
	rows: whole({ min: 1, max: MOST_ROWS }),
	overlap: quantity("share", { min: 0, max: 90 }),
	order: word({
		rows: "A row from left to right, then the row above it.",
		columns: "A column from its lowest panel up, then the column to its right.",
		"setting-first": `Column by column, each from its lowest panel up, starting where the sky sets: what sets first is taken
				first.`,
	}),
};
const OVERLAP = {
	doc: "How much of a frame its neighbour shows as well.",
	example: "30 %",
	otherwise: "30 % (common practice)",
};
const ORDER = { doc: "In which order its panels are taken.", example: "columns", otherwise: "rows" };

/** Frames joined side by side. */
const panorama = mapping("Frames joined side by side", {
	columns: optional(counts.columns, {
		doc: "How many panels side by side.",
		example: "6",
		otherwise: "as many as the range, or the Milky Way's arch, needs; 3 around another aim",
	}),
	rows: optional(counts.rows, {
		doc: "How many rows of panels, one above the other.",
		example: "2",
		otherwise: "as many as the range, or the Milky Way's arch, needs; 1 around another aim",
	}),
	overlap: optional(counts.overlap, OVERLAP),
	order: optional(counts.order, ORDER),
});

/** The row of the ground that is joined to a panorama of the sky. */
const groundPanorama = mapping("Panels of the ground, to be joined to a panorama of the sky", {
	columns: optional(counts.columns, {
		doc: "How many panels side by side.",
		example: "5",
		otherwise: "as many as the lowest row of the sky needs",
	}),
	rows: optional(counts.rows, { doc: "How many rows of panels.", example: "1", otherwise: "1" }),
	overlap: optional(counts.overlap, { ...OVERLAP, otherwise: "like the sky's" }),
	order: optional(counts.order, ORDER),
	bearing: optional(bearing(), {
		doc: "Bearing of its middle.",
		example: "155",
		otherwise: "the middle of the sky's lowest row at its first frame",
	}),
	altitude: optional(quantity("angle", { min: -60, max: 60 }), {
		doc: "Altitude of the middle of its upper row.",
		example: "-8°",
		otherwise: "one step below the lowest row of the sky, or higher, as far as the skyline rises, but never above 0°",
	}),
});
/** From where the Moon shines, as one faces a frame. */
export const SIDES = {
	left: "From the left, as you face the frame.",
	right: "From the right, as you face the frame.",
	behind: "From behind the camera.",
	ahead: "From ahead: the foreground is seen against the light.",
} as const;

/** Frames of the ground. */
const foreground = mapping("Untracked foreground frames", {
	exposure: optional(quantity("duration", { min: 1e-5, max: 86400 }), {
		doc: "How long one frame is exposed.",
		example: "120 s",
		otherwise: "like the sky's",
	}),
	frames: optional(whole({ min: 1, max: 1000 }), {
		doc: "How many frames; for a panorama, how many per panel.",
		example: "3",
		otherwise: "1",
	}),
	panorama: optional(groundPanorama, {
		doc: `The row of ground under a panorama of the sky, untracked. Its bearings must cover those of the sky's
			lowest row at the first frame of the sky.`,
		example: "{ columns: 5, altitude: -8° }",
		otherwise: "as many panels as the sky's lowest row needs, where the sky is a panorama",
	}),
	light: optional(word(LIGHTS), {
		doc: "The light they are taken in.",
		example: "dusk",
		otherwise: "as dark as the sky's frames need for exposures of 10 s or more, otherwise any time after sunset",
	}),
	"lit-from": optional(word(SIDES), {
		doc: `The side from which the Moon should light the ground; it implies \`light: moon\` where \`light\` is left
			out.`,
		example: "left",
		otherwise: "from any side",
	}),
	"focused-at": optional(quantity("length", { min: 0.05, max: 100_000 }), {
		doc: "Distance that the ground is focused at, where that is not the stars' infinity. The lens is then focused again before the next frames of the sky.",
		example: "3 m",
		otherwise: "focused like the sky",
	}),
	at: optional(clock(), {
		doc: "Clock time of the first frame.",
		example: '"18:20"',
		otherwise: "right after the sky frames if there is time, otherwise before them",
	}),
});

/** A target. */
export const target = mapping("A target", {
	name: required(text(), { doc: "What the plan and the card call it.", example: "core over the gable" }),
	aim: required(aim, {
		doc: `What the frame is centred on: \`galactic-centre\`, a star, a planet, the Moon; \`M42\`, \`NGC 7000\`,
			\`Pleiades\` and other objects by number or name; a constellation; \`north-celestial-pole\`;
			\`milky-way-arch\` (its top at the first frame; a running tracker then follows the stars); \`{ azimuth,
			altitude }\` for a fixed direction (a running tracker then follows the stars); \`{ right-ascension,
			declination }\` or \`{ galactic-longitude, galactic-latitude }\` for a place in the sky; \`{ comet }\` for
			a comet by its line of orbital elements; \`{ bearings: [95, 215], altitudes: [2, 40] }\` for a panorama
			over a range.`,
		example: "galactic-centre",
	}),
	panorama: optional(panorama, {
		doc: `Frames joined side by side, around the aim, over a range, or over the whole arch of the Milky Way.
			Tracked, its panels keep their places among the stars: they are laid out level at the first frame, and the
			camera is turned from one to the next on the running tracker. Untracked, they keep their places over the
			ground. \`frames\` is per panel.`,
		example: "{ columns: 6, rows: 2, overlap: 30 %, order: columns }",
		otherwise: "one picture; over a range, the panorama it needs",
	}),
	shower: optional(showerName(), {
		doc: `A meteor shower to show with the target, whatever the aim: its peak, and how high its radiant is during
			the frames. Meteors are longest far from the radiant, so the frame is not centred on it.`,
		example: "Geminids",
		otherwise: "none",
	}),
	lens: optional(reference("lens"), { doc: "Name of the lens.", example: "wide", otherwise: "the only lens" }),
	at: optional(either(clock(), atBearing, atAltitude), {
		doc: `Clock time of the first frame; or when the target reaches a direction: \`{ bearing: 205 }\`, \`{
			altitude: 20° }\` as it rises, \`{ altitude: 20°, setting: true }\`. The clock time then follows the date,
			and the picture is the same on another night.`,
		example: '"18:10"',
		otherwise: "as early as the target is usable and the evening has time for it",
	}),
	from: optional(clock(), { doc: "Clock time of the first frame of a series. The same as `at`.", example: '"20:30"' }),
	until: optional(clock(), {
		doc: "Clock time at which the series must have ended.",
		example: '"22:00"',
		otherwise: "when the frames are done",
	}),
	exposure: required(quantity("duration", { min: 1e-5, max: 86400 }), {
		doc: "How long one frame is exposed.",
		example: "180 s",
	}),
	iso: optional(whole({ min: 1, max: 10_000_000 }), {
		doc: "ISO that the camera is set to; shown in the shot list.",
		example: "1600",
		otherwise: "not shown",
	}),
	"f-number": optional(number({ min: 0.5, max: 128 }), {
		doc: "Aperture of this target's frames.",
		example: "2.8",
		otherwise: "the lens cell's",
	}),
	frames: optional(whole({ min: 1, max: 100000 }), {
		doc: "How many frames; for a panorama, how many per panel.",
		example: "12",
		otherwise: "1",
	}),
	gap: optional(quantity("duration", { min: 0, max: 86400 }), {
		doc: "Pause between two frames.",
		example: "5 s",
		otherwise: "0 s",
	}),
	trail: optional(quantity("pixels", { min: 0.01, max: 1000 }), {
		doc: "Longest star trail that still looks sharp to you.",
		example: "1.5 px",
		otherwise: "1.5 px",
	}),
	"sharp-above": optional(quantity("angle", { min: 0, max: 60 }), {
		doc: `Lowest altitude at which stars should be sharp. Lower ones are dimmed and blurred by the air anyway:
			below this they count less and less, and from 2° lower not at all.`,
		example: "10°",
		otherwise: "5°",
	}),
	stars: optional(word({ sharp: "Points: trails are kept within `trail`.", trails: "Arcs on purpose: no limit." }), {
		doc: "Whether stars should be points or arcs.",
		example: "trails",
		otherwise: "sharp",
	}),
	tracked: optional(flag(), {
		doc: "Whether the tracker runs.",
		example: "false",
		otherwise: "true; false for `stars: trails`",
	}),
	opening: optional(reference("opening"), {
		doc: "Name of the opening in which the target must stay.",
		example: "west window",
		otherwise: "any opening",
	}),
	orientation: optional(word({ landscape: "Long side level.", portrait: "Long side upright." }), {
		doc: "How the camera is held.",
		example: "portrait",
		otherwise: "landscape",
	}),
	extent: optional(quantity("angle", { min: 0.001, max: 180 }), {
		doc: "How wide the target is on the sky, to check that it fits the frame.",
		example: "20°",
		otherwise: "the size of a known object; otherwise not checked",
	}),
	foreground: optional(either(flag(), foreground), {
		doc: "Whether untracked foreground frames are taken too, and how. `true`: one, exposed like the sky.",
		example: '{ exposure: 120 s, frames: 3, light: dusk, at: "18:20" }',
		otherwise: "false",
	}),
	...darkKeys({ sunBelow: "the night's", moonAllowed: "the night's" }),
	darks: optional(whole({ min: 1, max: 10000 }), {
		doc: "How many dark frames of the same exposure, with the lens cap on.",
		example: "10",
		otherwise: "none",
	}),
	tripod: optional(word({ moved: "It is carried to another place, set up and aligned again." }), {
		doc: "Whether the tripod is moved before this target.",
		example: "moved",
		otherwise: "it stays where it was",
	}),
});

/** A place on a target's path. */
export type Composition = Decoded<typeof atBearing> | Decoded<typeof atAltitude>;
/** The targets of another plan, with more behind them. */
export const TARGETS_OF_ANOTHER = {
	title: "The targets of another plan, and more",
	from: {
		...TAKEN_FROM,
		doc: `Another plan, from which the targets are taken: a relative path inside the workspace. The entries of
			\`add\` come after them.`,
		example: "../workshop.lode.yaml",
	},
	example: "{ name: mine, aim: galactic-centre, exposure: 60 s }",
};

export type Foreground = Decoded<typeof foreground>;
export type PanoramaEntry = Decoded<typeof panorama>;
export type TargetEntry = Decoded<typeof target>;
export type Aim = NonNullable<TargetEntry["aim"]>;
