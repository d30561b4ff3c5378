/**
 * Meteor showers: where their meteors seem to come from (the radiant), how it moves, and when most of them come.
 *
 * Numbers are facts and carry no licence; their sources are named. Radiants, the Sun's longitude they are for and their
 * motion: IAU Meteor Data Center, list of all showers, one published solution each (Jenniskens et al., *Icarus* 266 (2016)
 * 331; but ORI, QUA Jenniskens 2006, LEO Cook 1973, STA Porubčan & Kornoš 2002, KCG as of the IMO). Peaks and the
 * days of activity: the International Meteor Organization's working list; the longitudes of its peaks from memory. α
 * Centaurids and Puppid-Velids: radiant of the working list, longitude and motion from memory; northern Taurids: radiant of
 * the working list, motion of Porubčan & Kornoš.
 */
import type { EpochMs } from "../earth/zone.ts";
import { lazily } from "../memory/memory.ts";
import { GREEK } from "./catalogue/constellations.ts";
import { sunTrack } from "./track.ts";
import { DEG, halfTurn, RAD, turn } from "./vector.ts";

export interface Shower {
	readonly name: string;
	/** Three letters of the IAU. */
	readonly code: string;
	/** The Sun's longitude at which most meteors come, degrees; all longitudes are to the ecliptic J2000. */
	readonly peak: number;
	/** Degrees before and after the peak between which it is active. */
	readonly before: number;
	readonly after: number;
	/** The Sun's longitude for which the radiant is given. */
	readonly at: number;
	/** Degrees, J2000. */
	readonly rightAscension: number;
	readonly declination: number;
	/** Degrees for each degree of the Sun's longitude, which is nearly a day. */
	readonly motion: readonly [rightAscension: number, declination: number];
}

type Row = readonly [
	name: string,
	code: string,
	peak: number,
	before: number,
	after: number,
	at: number,
	rightAscension: number,
	declination: number,
	motionRightAscension: number,
	motionDeclination: number,
];

const ROWS: readonly Row[] = [
	["Quadrantids", "QUA", 283.15, 9, 8, 283.28, 230, 49.5, 0.4, -0.2],
	["alpha Centaurids", "ACE", 319.2, 11, 13, 319.2, 210, -59, 1.2, -0.3],
	["Lyrids", "LYR", 32.32, 6, 3, 32, 272, 33.4, 0.66, 0.02],
	["eta Aquariids", "ETA", 45.5, 16, 23, 46, 338.1, -0.8, 0.92, 0.37],
	["alpha Capricornids", "CAP", 127, 27, 16, 127, 306.5, -9.2, 0.97, 0.24],
	["southern delta Aquariids", "SDA", 128, 18, 24, 128, 341.3, -15.7, 0.95, 0.38],
	["Perseids", "PER", 140, 26, 12, 140, 48.2, 58.1, 1.4, 0.26],
	["kappa Cygnids", "KCG", 145, 14, 8, 145, 286, 59, 0.3, 0.3],
	["Draconids", "DRA", 195.4, 2, 2, 195, 262.9, 55.7, 0.34, -0.05],
	["Orionids", "ORI", 208, 20, 16, 208.6, 95.4, 15.9, 0.7, 0.11],
	["southern Taurids", "STA", 224, 57, 14, 224, 49.4, 13, 0.73, 0.18],
	["northern Taurids", "NTA", 230, 23, 28, 230, 58, 22, 0.8, 0.16],
	["Leonids", "LEO", 235.27, 11, 13, 235.2, 153, 22, 0.7, -0.42],
	["Puppid-Velids", "PUP", 255, 6, 8, 255, 123, -45, 0.5, 0],
	["Geminids", "GEM", 262.2, 10, 6, 262, 113.5, 32.3, 1.15, -0.16],
	["Ursids", "URS", 270.7, 5, 4, 271, 219.9, 75.4, 0.05, -0.31],
];

export const SHOWERS: readonly Shower[] = ROWS.map(
	([name, code, peak, before, after, at, rightAscension, declination, ...motion]) => ({
		name,
		code,
		peak,
		before,
		after,
		at,
		rightAscension,
		declination,
		motion,
	}),
);

const byKey = lazily(
	() => new Map(SHOWERS.flatMap((shower) => [shower.name, shower.code].map((name) => [keyOf(name), shower] as const))),
);

/** Finds a shower by name or by the IAU's code, however it is written: `Geminids`, `GEM`, `η-Aquariids`. */
export const findShower = (name: string): Shower | undefined => byKey().get(keyOf(name));

/** Spellings that mean the same shower get the same key: `the Geminids`, `Eta Aquarids`, `S. Taurids`. */
const keyOf = (name: string): string =>
	name
		.slice(0, 60)
		.trim()
		.toLowerCase()
		.replace(/[α-ω]/g, (letter) => GREEK.get(letter) ?? letter)
		.replace(/[\s_.-]+/g, " ")
		.replace(/^the /, "")
		.replace(/^(s|n|south|north) /, (_, side: string) => (side.startsWith("s") ? "southern " : "northern "))
		.replace(/aquarids?$|aquariid$/, "aquariids")
		.replace(/(?<=[a-z]{4}id)$/, "s");

/** Obliquity of the ecliptic J2000, degrees. */
const OBLIQUITY = 23.4392911 * RAD;
/** Degrees a day. */
const MEAN_MOTION = 0.98561;
const DAY_MS = 86_400_000;

/** The Sun's apparent longitude to the ecliptic J2000, degrees. */
export function solarLongitude(at: EpochMs): number {
	const [x, y, z] = sunTrack(at);
	return turn(Math.atan2(y * Math.cos(OBLIQUITY) + z * Math.sin(OBLIQUITY), x) * DEG);
}

/** The peak that is nearest to an instant. */
export function peakNear({ peak }: Shower, at: EpochMs): EpochMs {
	let found = at;
	for (let i = 0; i < 6; i++) found += (halfTurn(peak - solarLongitude(found)) / MEAN_MOTION) * DAY_MS;
	return found;
}

/** Where its meteors seem to come from at an instant, degrees, J2000. */
export function radiantAt(
	{ at: longitude, rightAscension, declination, motion }: Shower,
	at: EpochMs,
): { readonly rightAscension: number; readonly declination: number } {
	const since = halfTurn(solarLongitude(at) - longitude);
	return { rightAscension: turn(rightAscension + since * motion[0]), declination: declination + since * motion[1] };
}

/** Whether it is active at an instant. */
export function isActive({ peak, before, after }: Shower, at: EpochMs): boolean {
	const since = halfTurn(solarLongitude(at) - peak);
	return since >= -before && since <= after;
}
