/**
 * Where to look to read the axis error off the drift of one star, and what to turn for it: a table instead of a computer.
 *
 * A star's drift across its path is its drift in declination, −ω (s · along · sin H + across · cos H) (`drift.ts`); the
 * drive's own errors move it along the path. On the meridian, H = 0, it shows `across` alone, which the pan takes away;
 * once that is done, a star far from the meridian shows `along`, which the tilt does. Refraction is left out: at an
 * altitude of 25° or more it moves a star by less than 5″ in four minutes, as an axis 0.1° off would.
 */
import { type Direction, toDirection } from "../sky/horizontal.ts";
import { RAD, type Vector } from "../sky/vector.ts";
import { hemisphere } from "./axis-error.ts";
import { correctionOf, declinationDrift, northOnFrame } from "./drift.ts";

/** Between the two frames that are compared, seconds. */
export const DRIFT_SECONDS = 240;

/** A place to look at. */
export interface DriftField {
	/** What takes away the error that shows there. */
	readonly turns: "pan" | "tilt";
	readonly direction: Direction;
	/** The way to the celestial north pole on a level frame: to the right and up, of length 1. */
	readonly north: { readonly right: number; readonly up: number };
	/** How far to turn for one arcsecond that a star moved toward north in `DRIFT_SECONDS`, degrees: the pan to the right as one faces the pole, the tilt up. */
	readonly perArcsec: number;
}

/** Lowest and highest place to look at, degrees: refraction below, a camera on its back above. */
const LOWEST = 25;
const HIGHEST = 70;

/** Hour angles away from the meridian, the most telling that is still high first; declinations toward the elevated pole, degrees. */
const HOUR_ANGLES = [60, 70, 50, 80, 45, 90, 40];
const DECLINATIONS = [0, 10, 20, 30, 40];

/** The place on the meridian and the one away from it that can be seen, as near to the celestial equator as may be; none where nothing can. */
export function driftFields(latitude: number, isClear: (direction: Direction) => boolean): readonly DriftField[] {
	const s = hemisphere(latitude);
	const onMeridian = [0, 10, -10, 20, -20, 30, -30, 40, 50, 60].map((declination) => ({
		hourAngle: 0,
		declination: s * declination,
	}));
	const away = HOUR_ANGLES.flatMap((hourAngle) =>
		DECLINATIONS.flatMap((declination) =>
			[-hourAngle, hourAngle].map((signed) => ({ hourAngle: signed, declination: s * declination })),
		),
	);
	const seen = (place: HourPlace): boolean => {
		const direction = directionOf(latitude, place);
		return direction.altitude >= LOWEST && direction.altitude <= HIGHEST && isClear(direction);
	};
	return [
		...onMeridian
			.filter(seen)
			.slice(0, 1)
			.map((place) => fieldAt(latitude, "pan", place)),
		...away
			.filter(seen)
			.slice(0, 1)
			.map((place) => fieldAt(latitude, "tilt", place)),
	];
}

/** Degrees, hour angle west positive. */
interface HourPlace {
	readonly hourAngle: number;
	readonly declination: number;
}

function fieldAt(latitude: number, turns: DriftField["turns"], place: HourPlace): DriftField {
	const drift = declinationDrift(latitude, place.hourAngle);
	const part = turns === "pan" ? "across" : "along";
	const error = { along: 0, across: 0, [part]: 1 / (drift[part] * DRIFT_SECONDS) };
	return {
		turns,
		direction: directionOf(latitude, place),
		north: northOnFrame(latitude, place.hourAngle, place.declination),
		perArcsec: correctionOf(latitude, error)[turns],
	};
}

function directionOf(latitude: number, { hourAngle, declination }: HourPlace): Direction {
	const [phi, delta, hour] = [latitude * RAD, declination * RAD, hourAngle * RAD];
	const [s, c] = [Math.sin(phi), Math.cos(phi)];
	const toSouth = Math.cos(delta) * Math.cos(hour);
	const vector: Vector = [
		-Math.cos(delta) * Math.sin(hour),
		c * Math.sin(delta) - s * toSouth,
		s * Math.sin(delta) + c * toSouth,
	];
	return toDirection(vector);
}
