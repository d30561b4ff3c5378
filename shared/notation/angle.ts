/** Angles: `1.5°`, `40 arcsec`, `0.3 mrad`; a bare number is in degrees. */
import { sentences, told } from "../text/sentence.ts";
import { dimension } from "./dimension.ts";

const words = sentences("notation.angle", {
	angle: "an angle",
	rightAscension: "a right ascension",
	declination: "a declination",
	anyDirection: "any direction",
	clockwise: "{angle} clockwise",
	anticlockwise: "{angle} anticlockwise",
});

/** Degrees, by the spellings of their units. */
const DEGREES = {
	"°": 1,
	arcmin: 1 / 60,
	arcsec: 1 / 3600,
	deg: 1,
	"′": 1 / 60,
	"″": 1 / 3600,
	"'": 1 / 60,
	'"': 1 / 3600,
	"’": 1 / 60,
	"”": 1 / 3600,
	degree: 1,
	degrees: 1,
};

/** Degrees of right ascension in hours, minutes and seconds: a full turn in 24 hours. */
const HOURS = { h: 15, m: 15 / 60, min: 15 / 60, s: 15 / 3600 };

/** Degrees. */
export const ANGLE = dimension(words.angle, "°", { ...DEGREES, rad: 180 / Math.PI, mrad: 0.18 / Math.PI }, 1, [
	DEGREES,
]);

/** Degrees, as an angle or in hours. */
export const RIGHT_ASCENSION = dimension(
	words.rightAscension,
	"°",
	{ ...DEGREES, h: HOURS.h },
	1,
	[HOURS, DEGREES],
	HOURS.h,
);

/** Degrees north of the celestial equator. */
export const DECLINATION = dimension(words.declination, "°", { ...DEGREES }, 1, [DEGREES], 1);

/** `51.0°`, `0.4°`, `−3.2°`; two places under one degree. More than a full turn is none that could be meant. */
export function degrees(value: number, places = Math.abs(value) < 1 && value !== 0 ? 2 : 1): string {
	if (!(Math.abs(value) <= 360)) return told(words.anyDirection());
	return `${signed(value, places)}°`;
}

/** A number with its places and a proper minus, which nothing that rounds to zero has. */
export function signed(value: number, places: number): string {
	const text = value.toFixed(places);
	return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
}

/** The largest angle that still holds, as `degrees` has it: never rounded up past itself. */
export function largestDegrees(value: number, places = Math.abs(value) < 1 && value !== 0 ? 2 : 1): string {
	return degrees(Math.floor(value * 10 ** places + 1e-6) / 10 ** places, places);
}

/** Whether an angle between two directions, or a spread of one, says something: beyond half a turn it is any direction. */
export const isErrorAngle = (value: number): boolean => Math.abs(value) <= 180;

/** How far a direction may be from where it should be, as `degrees` has it. */
export const errorDegrees = (value: number, places?: number): string =>
	isErrorAngle(value) ? degrees(value, places) : told(words.anyDirection());

/** A turn of the pan: `24.1° clockwise`, `3.0° anticlockwise`. */
export function turnText(value: number): string {
	const angle = degrees(Math.abs(value), 1);
	return told(value >= 0 ? words.clockwise({ angle }) : words.anticlockwise({ angle }));
}
