/** What a method of alignment knows of its night: the spot, what it hides and shows, the tools. */

import { poleBearing } from "../alignment/axis-error.ts";
import type { SourceName } from "../alignment/budget.ts";
import type { CalendarDate } from "../earth/calendar.ts";
import type { MagneticField } from "../earth/magnetism.ts";
import type { Sightline } from "../earth/sightline.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Camera } from "../optics/camera.ts";
import type { Cover } from "../sky/cover.ts";
import type { Interval } from "../sky/intervals.ts";
import type { Night } from "../sky/night.ts";
import type { Spot } from "../sky/place.ts";
import { halfTurn, RAD, turn } from "../sky/vector.ts";

/** A landmark with its line of sight. */
export interface SightedLandmark extends Sightline {
	readonly name: string;
	/** Whether its place is known by coordinates (else only a measured bearing is). */
	readonly located: boolean;
	/** Whether it can be seen in the dark. */
	readonly lit: boolean;
	/** Whether the site hides it by its coordinates, and nothing says that it was seen from there all the same. */
	readonly unseen: boolean;
}

/** The tracker and its head, as far as methods mind them. Degrees. */
export interface Tools {
	/** Whether the head has scales for tilt and pan. */
	readonly scales: boolean;
	/** Constant errors of the scales. */
	readonly tiltZero: number;
	readonly panZero: number;
	/** One standard deviation, where the tracker's cell says. */
	readonly spreads: Readonly<Partial<Record<SourceName, number>>>;
}

export interface Tonight {
	readonly spot: Spot;
	readonly cover: Cover;
	/** What the air takes of a star's light, magnitudes for each air mass. */
	readonly extinction: number;
	readonly night: Night;
	/** The site's time zone: clock times are told, and rounded, by it. */
	readonly zone: string;
	/** The date of the evening: clock times after midnight are told with it. */
	readonly date: CalendarDate;
	/** From arriving to leaving. */
	readonly onSite: Interval;
	/** From when on one can align: set up and focused. */
	readonly ready: EpochMs;
	/** How many times as long as usual everything takes. */
	readonly pace: number;
	/** When an alignment should be done: the first tracked frame that the plan gives a time, less aiming and a test frame. */
	readonly due: EpochMs | undefined;
	readonly magnetic: MagneticField | undefined;
	readonly landmarks: readonly SightedLandmark[];
	readonly tools: Tools;
	/** The plan's first lens, for methods that measure on frames. */
	readonly camera: Camera | undefined;
	/** Instant of a clock time of the plan's night. */
	readonly instant: (secondsOfDay: number) => EpochMs;
	/** Remembers what was searched for tonight, under a name that holds all it depends on beside the night. */
	readonly remember: <T>(name: string, search: () => T) => T;
}

/** Tilt, bearing and compass bearing of the axis: the same for all methods. */
export interface AxisNumbers {
	/** Altitude and bearing of the axis, degrees. */
	readonly tilt: number;
	/** What the head's scale must show for that tilt: the tracker's `tilt-zero` added. */
	readonly scaleTilt: number;
	readonly bearing: 0 | 180;
	/** Where a compass points to when the axis is right, degrees; undefined when the field is unknown. */
	readonly compassBearing: number | undefined;
}

/** The numbers of the axis tonight, degrees. */
export function axisNumbers({ spot, magnetic, tools }: Tonight): AxisNumbers {
	const bearing = poleBearing(spot.latitude);
	const tilt = Math.abs(spot.latitude);
	return {
		tilt,
		scaleTilt: tilt + tools.tiltZero,
		bearing,
		compassBearing: magnetic === undefined ? undefined : turn(bearing - magnetic.declination),
	};
}

/** The turn of the pan that brings the axis round by `offset`, the tracker's constant error taken off, degrees. */
export const turnToSet = (offset: number, { tools }: Tonight): number => halfTurn(offset - tools.panZero);

/** Cosine of the spot's latitude: a turn of the pan by 1° moves the axis by so many degrees on the sky. */
export const cosLatitude = ({ spot }: Tonight): number => Math.cos(spot.latitude * RAD);

/** The same night with something else about it; what is dear to compute is still made when it is asked for. */
const copyOf = (
	tonight: Tonight,
	changes: Partial<Pick<Tonight, "onSite" | "ready" | "due" | "remember">>,
): Tonight => ({
	spot: tonight.spot,
	cover: tonight.cover,
	extinction: tonight.extinction,
	night: tonight.night,
	zone: tonight.zone,
	date: tonight.date,
	onSite: tonight.onSite,
	ready: tonight.ready,
	pace: tonight.pace,
	due: tonight.due,
	get magnetic() {
		return tonight.magnetic;
	},
	get landmarks() {
		return tonight.landmarks;
	},
	tools: tonight.tools,
	camera: tonight.camera,
	instant: tonight.instant,
	remember: tonight.remember,
	...changes,
});

/** The same night, arrived at earlier or later; what is searched for in it is its own. */
export const arrivingAt = (tonight: Tonight, from: EpochMs): Tonight =>
	copyOf(tonight, {
		onSite: { from, until: tonight.onSite.until },
		ready: tonight.ready + from - tonight.onSite.from,
		remember: (name, search) => tonight.remember(`${name} from ${from}`, search),
	});

/** The same night in which one can align from later on. */
export const withReady = (tonight: Tonight, from: EpochMs): Tonight =>
	from <= tonight.ready ? tonight : copyOf(tonight, { ready: from });

/** The same night with an alignment due at some moment, or at none that is known; what was searched for in it stays. */
export const withDue = (tonight: Tonight, due: EpochMs | undefined): Tonight =>
	tonight.due === due ? tonight : copyOf(tonight, { due });
