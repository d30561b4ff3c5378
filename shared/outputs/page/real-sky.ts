/** The real sky of a picture: stars by brightness, planets, the Moon with its phase, and the lines that stand still. */
import type { EpochMs } from "../../earth/zone.ts";
import { lazily, rememberedBy } from "../../memory/memory.ts";
import { brightness } from "../../sky/brightness.ts";
import { FIGURES } from "../../sky/catalogue/figures.ts";
import { MILKY_WAY, MILKY_WAY_STEP } from "../../sky/catalogue/milky-way.ts";
import { frameNear, type SkyFrame } from "../../sky/frame.ts";
import { fromGalactic } from "../../sky/galactic.ts";
import { type Direction, toVector } from "../../sky/horizontal.ts";
import { apparentDirection, findBody, type SkyBody, type Spot } from "../../sky/place.ts";
import { apparent, starColumns, starVector } from "../../sky/stars.ts";
import { cross, DEG, dot, fromAngles, plus, RAD, times, turn, type Vector } from "../../sky/vector.ts";
import type { SkyArea } from "./sky-paths.ts";

/** Stars of about one brightness. */
export interface StarClass {
	/** Of the dot, pixels of a picture 1200 wide. */
	readonly radius: number;
	/** Right ascension and declination of date in turn, degrees: a list that is short as text. */
	readonly places: readonly number[];
}

/** Upper limits of magnitude, and the dots of the stars up to there. */
const CLASSES = [
	[1, 3],
	[2, 2.4],
	[3, 1.8],
	[4, 1.2],
	[4.5, 0.9],
] as const;

/** Planets that an eye sees at once, as bright as this or brighter. */
const PLANETS = ["mercury", "venus", "mars", "jupiter", "saturn"] as const;
const BRIGHT = 2;

/** Degrees below the horizon from which on a star is not worth having. */
const NEVER_UP = -1;

/** The stars that rise at a spot, the brightest first. */
export const starClasses = rememberedBy(starsRising, 1);

function starsRising({ latitude }: Spot, at: EpochMs): readonly StarClass[] {
	const { declination } = starColumns();
	const frame = frameNear(at);
	return CLASSES.map(([, radius], i) => {
		const places: number[] = [];
		for (const index of starsOfClasses()[i] ?? []) {
			if (90 - Math.abs(latitude - (declination[index] ?? 0)) < NEVER_UP) continue;
			const [x, y, z] = starVector(index, frame);
			places.push(hundredths(turn(Math.atan2(y, x) * DEG)), hundredths(Math.asin(z) * DEG));
		}
		return { radius, places };
	});
}

/** Of each class its stars, by their places in the table. */
const starsOfClasses = lazily((): readonly (readonly number[])[] => {
	const classes = CLASSES.map((): number[] => []);
	starColumns().magnitude.forEach((one, index) => {
		classes[CLASSES.findIndex(([limit]) => one <= limit)]?.push(index);
	});
	return classes;
});

/** The Milky Way: the band, its light parts between the rifts, and the clouds in these; each drawn over the one before. */
export const milkyWayAreas = rememberedBy(
	(frame: SkyFrame): readonly SkyArea[] =>
		milkyWayLevels().map(({ ends, links }) => ({ ends: placesOfDate(ends, frame), links })),
	1,
);

/** The same at J2000: ends of stretches as unit vectors. */
const milkyWayLevels = lazily(() => MILKY_WAY.map(levelOf));

function levelOf(level: string): { readonly ends: readonly Vector[]; readonly links: readonly number[] } {
	const columns = level
		.split("|")
		.map((column) =>
			column === "" ? [] : column.split(",").map((one) => one.split(" ").map(Number) as [number, number]),
		);
	const ends: Vector[] = [];
	const links: number[] = [];
	let before = 0;
	for (const [i, column] of columns.entries()) {
		for (const stretch of column)
			for (const latitude of stretch) {
				const { rightAscension, declination } = fromGalactic(i * MILKY_WAY_STEP, latitude);
				ends.push(fromAngles(rightAscension * RAD, declination * RAD));
			}
		const next = columns[(i + 1) % columns.length] ?? [];
		const after = i + 1 === columns.length ? 0 : before + column.length;
		// Stretches that share a latitude belong together; where one becomes two, both do.
		for (const [k, [south, north]] of column.entries())
			for (const [n, [otherSouth, otherNorth]] of next.entries())
				if (south < otherNorth && otherSouth < north) links.push(before + k, after + n);
		before += column.length;
	}
	return { ends, links };
}

/** The lines of the constellations' figures: of each right ascension and declination of date in turn. */
export const figureLines = rememberedBy(
	(frame: SkyFrame): readonly (readonly number[])[] => figures().map((line) => placesOfDate(line, frame)),
	1,
);

/** The same at J2000. */
const figures = lazily((): readonly (readonly Vector[])[] =>
	FIGURES.split("|").map((line) => {
		const tenths = line.split(" ").map(Number);
		return Array.from({ length: tenths.length / 2 }, (_, i) =>
			fromAngles(((tenths[2 * i] ?? 0) / 10) * RAD, ((tenths[2 * i + 1] ?? 0) / 10) * RAD),
		);
	}),
);

/** Directions of J2000 as right ascension and declination of date in turn, degrees. */
function placesOfDate(directions: readonly Vector[], frame: SkyFrame): readonly number[] {
	const places: number[] = [];
	for (const direction of directions) {
		const [x, y, z] = apparent(direction, frame);
		places.push(tenth(turn(Math.atan2(y, x) * DEG)), tenth(Math.asin(z) * DEG));
	}
	return places;
}

const tenth = (value: number): number => Math.round(value * 10) / 10;

const hundredths = (value: number): number => Math.round(value * 100) / 100;

/** Planets bright enough to be seen at once. */
export const brightPlanets = (at: EpochMs): readonly SkyBody[] =>
	PLANETS.flatMap((name) => {
		const body = findBody(name);
		return body && (brightness(body, at) ?? Number.POSITIVE_INFINITY) <= BRIGHT ? [body] : [];
	});

/** The celestial equator above the horizon, from east to west by way of the meridian: it stands still. */
export function celestialEquator(latitude: number): readonly Direction[] {
	const lean = (90 - Math.abs(latitude)) / DEG;
	const meridian = latitude >= 0 ? 180 : 0;
	return Array.from({ length: 37 }, (_, i) => {
		const along = (i * 5 - 90) / DEG;
		const up = Math.cos(along) * Math.sin(lean);
		const azimuth = meridian + Math.atan2(Math.sin(along), Math.cos(along) * Math.cos(lean)) * DEG;
		return { azimuth: hundredths(turn(azimuth)), altitude: hundredths(Math.asin(up) * DEG) };
	});
}

/**
 * Where the lit side of the Moon points to, degrees clockwise from straight up as one faces it: the way from the Moon
 * to the Sun along the great circle.
 */
export function litSide(spot: Spot, at: EpochMs): number {
	const [moon, sun] = (["moon", "sun"] as const).map((name): Vector => {
		const body = findBody(name);
		return body ? toVector(apparentDirection(body, spot, at)) : [0, 0, 1];
	}) as [Vector, Vector];
	const across = (towards: Vector): Vector => plus(towards, times(moon, -dot(towards, moon)));
	const up = across([0, 0, 1]);
	const right = cross(moon, up);
	const toSun = across(sun);
	return Math.round(turn(Math.atan2(dot(toSun, right), dot(toSun, up)) * DEG));
}
