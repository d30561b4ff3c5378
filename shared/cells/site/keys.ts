/** The keys of a `site` cell: where it is, what it hides and what it shows. */
import { HIGHEST_GROUND, LOWEST_GROUND } from "../../earth/ground.ts";
import {
	bearing,
	coordinate,
	type Decoded,
	flag,
	list,
	mapping,
	optional,
	quantity,
	required,
	skyPoint,
	text,
	word,
	zone,
} from "../../notation/shape.ts";
import { TAKEN_FROM } from "../taken.ts";

/** A thing that is easy to recognise, with a known place. */
const landmark = mapping("A landmark with a known bearing", {
	name: required(text(), { doc: "What the plan and the card call it.", example: "water tower" }),
	latitude: optional(coordinate("latitude"), { doc: "Latitude of the landmark, WGS 84.", example: "32.4391 S" }),
	longitude: optional(coordinate("longitude"), { doc: "Longitude of the landmark, WGS 84.", example: "54.3951 W" }),
	elevation: optional(quantity("length", { min: LOWEST_GROUND, max: HIGHEST_GROUND }), {
		doc: "Elevation above sea level of the point that is sighted.",
		example: "187 m",
		otherwise: "the site's",
	}),
	bearing: optional(bearing(), {
		doc: "Bearing measured from the spot, for a landmark without coordinates. `134` is true, `134°M` magnetic.",
		example: "134°M",
		otherwise: "computed from the coordinates",
	}),
	altitude: optional(quantity("angle", { min: -90, max: 90 }), {
		doc: `Altitude measured from the spot. If the landmark has coordinates too, this altitude is used instead of the
			computed one, and the landmark counts as in view even if it is lower than the skyline.`,
		example: "2.5°",
		otherwise: "computed from the coordinates",
	}),
	lit: optional(flag(), {
		doc: "Whether it can be seen in the dark: a lamp or a lit window.",
		example: "true",
		otherwise: "false",
	}),
});

/** A window of visible sky in an enclosed site. */
const opening = mapping("A window of visible sky in an enclosed site", {
	name: required(text(), { doc: "What the plan and the card call it.", example: "west window" }),
	outline: required(list(skyPoint(), { min: 3, max: 500 }), {
		doc: "Corners of the window as seen from the spot: pairs of true bearing and altitude in degrees, in order around it.",
		example: "[[150, 5], [210, 5], [205, 48], [155, 50]]",
	}),
});

/** Something that hides a part of the sky. */
const obstruction = mapping("Something that hides a part of the sky", {
	name: required(text(), { doc: "What the plan and the card call it.", example: "arch" }),
	outline: required(list(skyPoint(), { min: 3, max: 500 }), {
		doc: `Corners as seen from the spot: pairs of true bearing and altitude in degrees, in order around it. It may
			cross north; if it goes all the way round the sky, it contains the zenith.`,
		example: "[[150, 0], [150, 40], [180, 52], [210, 40], [210, 0]]",
	}),
	window: optional(list(skyPoint(), { min: 3, max: 500 }), {
		doc: `Corners of the hole through which the sky is seen. A target can use the window as its \`opening\`, by the
			name above.`,
		example: "[[160, 0], [165, 30], [195, 30], [200, 0]]",
		otherwise: "there is none",
	}),
});

/** Kinds of place: each has dangers of its own. */
export const PLACES = {
	"sea-cave": "A cave that the sea reaches.",
	shore: "Rocks, a beach, a skerry: where the tide comes.",
	cave: "A cave, a tunnel, an overhang above the spot.",
	gorge: "A gorge, a canyon, a dry river bed.",
	ruin: "Old walls, with a roof or without.",
	arch: "A natural arch or bridge.",
	cliff: "The foot or the edge of a cliff.",
	forest: "Among trees.",
	open: "None of these.",
} as const;

/** Where one photographs from. */
export const site = mapping("The site", {
	from: TAKEN_FROM,
	name: required(text(), { doc: "Name of the site.", example: "Roofless chapel" }),
	latitude: required(coordinate("latitude"), {
		doc: "Latitude of the site, WGS 84: signed decimal degrees (north positive), `32.4123 S`, or `32° 24′ 44″ S`.",
		example: "32.4123 S",
	}),
	longitude: required(coordinate("longitude"), {
		doc: "Longitude of the site, WGS 84: signed decimal degrees (east positive), `54.3622 W`, or `54° 21′ 44″ W`.",
		example: "54.3622 W",
	}),
	elevation: optional(quantity("length", { min: LOWEST_GROUND, max: HIGHEST_GROUND }), {
		doc: "Elevation above sea level.",
		example: "145 m",
		otherwise: "0 m",
	}),
	timezone: optional(zone(), {
		doc: "IANA name of the zone whose clock times the plan is written in.",
		example: "America/Montevideo",
		otherwise: "found from the coordinates",
	}),
	skyline: optional(list(skyPoint(), { min: 1, max: 2000 }), {
		doc: `Altitude of the visible horizon all round: pairs of true bearing and altitude in degrees, joined by
			straight lines, across north too.`,
		example: "[[0, 4], [90, 12], [180, 49], [270, 20]]",
		otherwise: "flat, at 0°",
	}),
	openings: optional(list(opening, { min: 1, max: 50 }), {
		doc: "For a cave, an arch, a ruin with a roof: only what lies in one of these windows, and above the skyline, is visible.",
		example: "[{ name: mouth, outline: [[150, 0], [210, 0], [180, 45]] }]",
		otherwise: "open sky above the skyline",
	}),
	obstructions: optional(list(obstruction, { min: 1, max: 50 }), {
		doc: "Things that hide a part of an open sky: an overhang, a branch, a free-standing arch with its window.",
		example: "[{ name: branch, outline: [[40, 35], [75, 50], [70, 30]] }]",
		otherwise: "none",
	}),
	landmarks: optional(list(landmark, { max: 200 }), {
		doc: "Easily recognised things in a known place, to take bearings from.",
		example: "[{ name: water tower, latitude: 32.4391 S, longitude: 54.3951 W, elevation: 187 m }]",
		otherwise: "none",
	}),
	place: optional(list(word(PLACES), { min: 1, max: 9 }), {
		doc: "What kind of place it is: decides which cautions are shown. A skyline does not show that.",
		example: "[sea-cave]",
		otherwise: "the cautions for any place",
	}),
	"way-open": optional(quantity("duration", { min: 600, max: 6 * 3600 }), {
		doc: "By the sea: how long before and after low water the way in and out can be walked, as seen on the spot.",
		example: "2 h",
		otherwise: "1 h (common practice)",
	}),
	temperature: optional(quantity("temperature", { min: -60, max: 60 }), {
		doc: "Air temperature, for refraction.",
		example: "10 °C",
		otherwise: "10 °C",
	}),
	pressure: optional(quantity("pressure", { min: 400, max: 1100 }), {
		doc: "Air pressure at the site, for refraction.",
		example: "860 hPa",
		otherwise: "the standard atmosphere at the site's elevation",
	}),
	extinction: optional(quantity("magnitudes", { min: 0, max: 2 }), {
		doc: "How much the air dims a star for each air mass: 0.15 mag in very clear air, 0.3 mag and more in haze.",
		example: "0.2 mag",
		otherwise: "0.2 mag at sea level, 0.12 mag from 2500 m (common practice)",
	}),
});

export type PlaceKind = keyof typeof PLACES;
export type SiteContent = Decoded<typeof site>;
export type LandmarkEntry = Decoded<typeof landmark>;
export type OpeningEntry = Decoded<typeof opening>;
