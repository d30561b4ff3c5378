/** Angles: `1.5°`, `40 arcsec`, `0.3 mrad`; a bare number is in degrees. */
import { sentences, told } from "../text/sentence.ts";
import { dimension } from "./dimension.ts";

const words = sentences("notation.angle", {
	angle: "an angle",
	anyDirection: "any direction",
	right: "{angle} to the right",
	left: "{angle} to the left",
});

/** Degrees. */
export const ANGLE = dimension(
	words.angle,
	"°",
	{
		"°": 1,
		arcmin: 1 / 60,
		arcsec: 1 / 3600,
		deg: 1,
		"′": 1 / 60,
		"″": 1 / 3600,
		"'": 1 / 60,
		'"': 1 / 3600,
		degree: 1,
		degrees: 1,
		rad: 180 / Math.PI,
		mrad: 0.18 / Math.PI,
	},
	1,
);

/** `51.0°`, `0.4°`, `−3.2°`; two places under one degree. More than a full turn is none that could be meant. */
export function degrees(value: number, places = Math.abs(value) < 1 && value !== 0 ? 2 : 1): string {
	if (!(Math.abs(value) <= 360)) return told(words.anyDirection());
	return `${value.toFixed(places).replace("-", "−")}°`;
}

/** Whether an angle between two directions, or a spread of one, says something: beyond half a turn it is any direction. */
export const isErrorAngle = (value: number): boolean => Math.abs(value) <= 180;

/** How far a direction may be from where it should be, as `degrees` has it. */
export const errorDegrees = (value: number, places?: number): string =>
	isErrorAngle(value) ? degrees(value, places) : told(words.anyDirection());

/** A turn of the pan, clockwise seen from above where it is positive: `24.1° to the right`, `3.0° to the left`. */
export function turnText(value: number): string {
	const angle = degrees(Math.abs(value), 1);
	return told(value >= 0 ? words.right({ angle }) : words.left({ angle }));
}
