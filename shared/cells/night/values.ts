/** The values of a night: the Sun's and the Moon's times, dark minutes. */
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { longest, totalMinutes } from "../../sky/intervals.ts";
import { SUNSET_ALTITUDE, type TwilightName } from "../../sky/night.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { NightContent } from "./keys.ts";
import type { EvaluatedNight } from "./night.ts";

type Path = PathOf<NightContent>;

const words = sentences("value.night", {
	staysUp: "none: the Sun does not set",
	none: "none tonight",
	limb: "Upper limb on a level horizon, 34′ of refraction (USNO's convention).",
	centre: "The Sun's centre 6° (civil), 12° (nautical) or 18° (astronomical) below the horizon, without refraction.",
	moon: "Upper limb on a level horizon, first after noon.",
	asWritten: "As the plan says.",
});

const atDate: readonly Path[] = ["date", ""];
const limb = (label: string) => ({ is: "time", label, how: told(words.limb()), at: atDate }) as const;
const centre = (label: string) => ({ is: "time", label, how: told(words.centre()), at: atDate }) as const;
const moon = (label: string) => ({ is: "time", label, how: told(words.moon()), at: atDate }) as const;

const SUN = {
	sunset: limb("Sunset"),
	"civil-dusk": centre("Civil dusk"),
	"nautical-dusk": centre("Nautical dusk"),
	"astronomical-dusk": centre("Astronomical dusk"),
	"astronomical-dawn": centre("Astronomical dawn"),
	"nautical-dawn": centre("Nautical dawn"),
	"civil-dawn": centre("Civil dawn"),
	sunrise: limb("Sunrise"),
} as const satisfies Readonly<Record<TwilightName, object>>;

export const NIGHT_VALUES = valuesFor<Path>()("night", {
	...SUN,
	moonrise: moon("Moonrise"),
	moonset: moon("Moonset"),
	"moon-illumination": {
		is: "number",
		unit: "%",
		places: 0,
		label: "Moon illumination",
		how: "Illuminated part of the disc in the middle of the night.",
		at: ["date", "moon-allowed", ""],
	},
	"dark-minutes": {
		is: "number",
		unit: "min",
		places: 0,
		label: "Dark while on site",
		how: "Sun far enough below the horizon, from arriving to leaving.",
		at: ["arrive", "leave", "sun-below", ""],
	},
	"moonless-minutes": {
		is: "number",
		unit: "min",
		places: 0,
		label: "Dark and moonless while on site",
		how: "Dark minutes on site with the Moon down, or with less of it lit than the plan allows.",
		at: ["arrive", "leave", "moon-allowed", ""],
	},
	"dark-from": {
		is: "time",
		label: "Dark and moonless from",
		how: "Start of the longest dark and moonless stretch on site.",
		at: ["arrive"],
	},
	"dark-until": {
		is: "time",
		label: "Dark and moonless until",
		how: "End of the longest dark and moonless stretch on site.",
		at: ["leave"],
	},
	"sun-lowest": {
		is: "side",
		plus: "above the horizon",
		minus: "below the horizon",
		label: "Sun's lowest altitude (centre, no refraction)",
		how: "The lowest point of the whole night.",
		at: ["date", "sun-below"],
	},
	"stay-from": { is: "time", label: "On site from", how: "As the plan says.", at: [] },
	"stay-until": { is: "time", label: "On site until", how: "As the plan says.", at: [] },
});

/** Values of a night: the Sun's and the Moon's times, dark minutes. */
export function nightValues(night: EvaluatedNight): readonly Value[] {
	const { sky, dark, moonless, onSite } = night;
	const absent = { otherwise: told(sky.sunRange().lowest > SUNSET_ALTITUDE ? words.staysUp() : words.none()) };
	const none = { otherwise: told(words.none()) };
	const longestDark = longest(moonless);
	const values = NIGHT_VALUES;
	const time = (at: number | undefined) => ({ night, at });
	return [
		...(Object.keys(SUN) as TwilightName[]).map((name) => values[name](time(sky.sun[name]), absent)),
		values.moonrise(time(sky.moonrise[0]), none),
		values.moonset(time(sky.moonset[0]), none),
		values["moon-illumination"](sky.moonIllumination * 100),
		values["dark-minutes"](totalMinutes(dark)),
		values["moonless-minutes"](totalMinutes(moonless)),
		values["dark-from"](time(longestDark?.from)),
		values["dark-until"](time(longestDark?.until)),
		values["sun-lowest"](sky.sunRange().lowest),
		values["stay-from"](time(onSite.from)),
		values["stay-until"](time(onSite.until)),
	];
}
