/**
 * What every method of alignment gives: set-up numbers, the time in which it works, its error sources and its steps.
 * One file a method; `methods.ts` is their index.
 */

import { hemisphere, poleBearing } from "../alignment/axis-error.ts";
import { COMMON_SPREAD, type Source, unitOfSource } from "../alignment/budget.ts";
import type { MethodContent, MethodKind, SourceName, TrackerContent } from "../cells/kinds.ts";
import type { MagneticField } from "../earth/magnetism.ts";
import type { Sightline } from "../earth/sightline.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Camera } from "../optics/camera.ts";
import type { Direction } from "../sky/horizontal.ts";
import type { Interval } from "../sky/intervals.ts";
import { faintestToAim, moonAltitude, type Night, sunAltitude } from "../sky/night.ts";
import { apparentDirection, type SkyBody, type Spot } from "../sky/place.ts";
import { type Cover, hiddenBy } from "../sky/skyline.ts";
import { halfTurn, RAD, turn } from "../sky/vector.ts";

/** A landmark with its line of sight. */
export interface SightedLandmark extends Sightline {
	readonly name: string;
	/** Whether its place is known by coordinates (else only a measured bearing is). */
	readonly located: boolean;
}

/** What the plan knows of tonight, for a method. */
export interface Tonight {
	readonly spot: Spot;
	readonly cover: Cover;
	readonly night: Night;
	/** From arriving to leaving. */
	readonly onSite: Interval;
	readonly magnetic: MagneticField | undefined;
	readonly landmarks: readonly SightedLandmark[];
	readonly tracker: TrackerContent;
	/** The plan's first lens, for methods that measure on frames. */
	readonly camera: Camera | undefined;
	/** Instant of a clock time of the plan's night. */
	readonly instant: (secondsOfDay: number) => EpochMs;
}

/** The star, body or landmark a method uses. */
export interface Mark {
	readonly name: string;
	readonly body?: SkyBody;
	/** Where it is seen at the method's time. */
	readonly direction: Direction;
	readonly magnitude?: number;
}

/** How far a mark is from where it should be, degrees on the sky as one faces it. */
export interface Miss {
	readonly total: number;
	readonly right: number;
	readonly up: number;
}

/** The numbers hands set. */
export interface SetUp {
	/** Altitude and bearing of the axis, degrees. */
	readonly tilt: number;
	/** What the head's scale must show for that tilt: the tracker's `tilt-zero` added. */
	readonly scaleTilt: number;
	readonly bearing: number;
	/** Where a compass points to when the axis is right, degrees; undefined when the field is unknown. */
	readonly compassBearing: number | undefined;
	/** Where the pointer must point, apparent. */
	readonly aim?: Direction;
	readonly marks?: readonly Mark[];
	/** Where the (first) mark stands, as seen from the aim point. */
	readonly miss?: Miss;
	/** Axis error if the pointer were put on the (first) mark as it is, degrees. */
	readonly asAimed?: { readonly along: number; readonly across: number };
	/** Turn of the pan from the mark to the pole's bearing, clockwise positive, −180 … 180 degrees, and its change in a minute. */
	readonly panOffset?: number;
	readonly panRate?: number;
	/** The pole star beside the pole. */
	readonly poleStar?: PoleStarPlace;
	/** Hour angle between two stars, degrees. */
	readonly spread?: number;
	/** What one degree of miss at each of two marks says about the axis, degrees. */
	readonly perMiss?: readonly { readonly along: number; readonly across: number }[];
}

export interface PoleStarPlace {
	/** Degrees from the pole, refraction included. */
	readonly distance: number;
	/** Degrees up and right of the pole as one faces it. */
	readonly up: number;
	readonly right: number;
	/** Direction from the pole as the hour hand of a clock face, 0 … 12 h: seen upright and through an inverting scope. */
	readonly clockUpright: number;
	readonly clockInverted: number;
}

/** A reason why a method cannot be reckoned or cannot work, as data. `findings/` puts it into words. */
export type Obstacle =
	| { readonly type: "needs-key"; readonly key: string }
	| { readonly type: "unknown-name"; readonly key: string; readonly name: string }
	| { readonly type: "needs-scales" }
	| { readonly type: "pole-hidden"; readonly by: "skyline" | "roof" | "horizon"; readonly skyline: number }
	| { readonly type: "below-horizon"; readonly name: string; readonly altitude: number }
	| {
			readonly type: "hidden";
			readonly name: string;
			readonly by: "skyline" | "roof" | "horizon";
			readonly altitude: number;
			readonly skyline: number;
			readonly azimuth: number;
	  }
	| { readonly type: "too-bright"; readonly name: string; readonly sun: number }
	| { readonly type: "too-faint"; readonly name: string; readonly magnitude: number; readonly limit: number }
	| { readonly type: "too-high"; readonly name: string; readonly altitude: number; readonly limit: number }
	| { readonly type: "never-near"; readonly name: string; readonly least: number; readonly reach: number }
	| {
			readonly type: "not-there";
			readonly name: string;
			readonly miss: number;
			readonly reach: number;
			readonly best: EpochMs | undefined;
	  }
	| { readonly type: "aim-below-horizon"; readonly altitude: number }
	| {
			readonly type: "aim-hidden";
			readonly by: "skyline" | "roof" | "horizon";
			readonly altitude: number;
			readonly skyline: number;
	  }
	| { readonly type: "low-latitude"; readonly latitude: number; readonly cost: number }
	| { readonly type: "pair-too-close"; readonly spread: number }
	| { readonly type: "no-window" };

export interface MethodPlan {
	readonly setUp: SetUp;
	/** When it is done: the plan's `at`, or the best time of the stay. */
	readonly at: EpochMs | undefined;
	/** When it works tonight. */
	readonly windows: readonly Interval[];
	readonly sources: readonly Source[];
	readonly obstacles: readonly Obstacle[];
	readonly steps: readonly Step[];
}

/** One thing to do, with its number large. */
export interface Step {
	readonly say: string;
	/** The number hands set, as text: shown large. */
	readonly number?: string;
}

export interface Method {
	readonly kind: MethodKind;
	/** What it needs, for the table that compares methods. */
	readonly needs: string;
	readonly usesLaser: boolean;
	/** Whether it needs scales for tilt or pan. */
	readonly needsScales: boolean;
	/** Words about what the method is and how it goes wrong, for its page. */
	readonly about: string;
	/** Everything about it tonight. Never throws; what is missing is an obstacle. */
	readonly plan: (method: MethodContent, tonight: Tonight) => MethodPlan;
}

/** Tilt, bearing and compass bearing of the axis: the same for all methods. */
export function axisNumbers({ spot, magnetic, tracker }: Tonight): SetUp {
	const bearing = poleBearing(spot.latitude);
	const tilt = Math.abs(spot.latitude);
	return {
		tilt,
		scaleTilt: tilt + (tracker["tilt-zero"] ?? 0),
		bearing,
		compassBearing: magnetic === undefined ? undefined : turn(bearing - magnetic.declination),
	};
}

/** A turn of the pan, the tracker's constant error taken off. */
export const panTurn = (offset: number, { tracker }: Tonight): number => halfTurn(offset - (tracker["pan-zero"] ?? 0));

/** A source with its spread: the method's `uncertainty`, else the tracker's cell, else common practice. */
export function source(
	name: SourceName,
	method: MethodContent,
	tracker: TrackerContent,
	effects: Source["effects"],
	common: number = COMMON_SPREAD[name],
): Source {
	const unit = unitOfSource(name);
	const own = method.uncertainty?.[name];
	if (own !== undefined) return { name, spread: own, unit, origin: "plan", effects };
	const told = name === "tilt-scale" || name === "level" || name === "pan-scale" ? tracker[name] : undefined;
	if (told !== undefined) return { name, spread: told, unit, origin: "tracker", effects };
	return { name, spread: common, unit, origin: "common practice", effects };
}

/**
 * The magnetic model's own error as a source: sqrt(0.26² + (5417 / H)²) degrees (WMM2025 report, eq. 43), unless the
 * plan says otherwise. `perDegree` is the axis error across the meridian for one degree of bearing.
 */
export function magneticSource(method: MethodContent, { magnetic, tracker }: Tonight, perDegree: number): Source {
	const found = source(
		"magnetic-model",
		method,
		tracker,
		[{ along: 0, across: perDegree }],
		magnetic?.declinationSpread,
	);
	return found.origin === "common practice" && magnetic ? { ...found, origin: "model" } : found;
}

/** `mark` as seen from `aim`: right and up on the sky, degrees (tangent plane at the aim point). */
export function missOf(aim: Direction, mark: Direction): Miss {
	const turnRad = halfTurn(mark.azimuth - aim.azimuth) * RAD;
	const [sinA, cosA] = [Math.sin(aim.altitude * RAD), Math.cos(aim.altitude * RAD)];
	const [sinM, cosM] = [Math.sin(mark.altitude * RAD), Math.cos(mark.altitude * RAD)];
	const x = cosM * Math.sin(turnRad);
	const y = sinM * cosA - cosM * sinA * Math.cos(turnRad);
	const z = sinM * sinA + cosM * cosA * Math.cos(turnRad);
	const sin = Math.hypot(x, y);
	const total = Math.atan2(sin, z) / RAD;
	return sin === 0 ? { total, right: 0, up: 0 } : { total, right: (x / sin) * total, up: (y / sin) * total };
}

/** Whether a star of a magnitude can be found by eye at an instant: the faintest that can, and the Sun's altitude. */
export function faintestAt({ spot, night }: Tonight, at: EpochMs): { limit: number; sun: number } {
	const sun = sunAltitude(spot, at);
	return { limit: faintestToAim(sun, moonAltitude(spot, at), night.moonIllumination), sun };
}

/** What keeps a body from being seen and pointed at at an instant; nothing when it can be. */
export function sightObstacles(
	name: string,
	body: SkyBody,
	direction: Direction,
	tonight: Tonight,
	at: EpochMs,
): Obstacle[] {
	const { cover } = tonight;
	if (direction.altitude < 0) return [{ type: "below-horizon", name, altitude: direction.altitude }];
	const by = hiddenBy(cover, direction);
	if (by) {
		return [
			{
				type: "hidden",
				name,
				by,
				altitude: direction.altitude,
				skyline: cover.skylineAt(direction.azimuth),
				azimuth: direction.azimuth,
			},
		];
	}
	const magnitude = magnitudeOf(body);
	if (magnitude === undefined) return [];
	const { limit, sun } = faintestAt(tonight, at);
	if (magnitude <= limit) return [];
	return sun > -12 && magnitude <= 4.5
		? [{ type: "too-bright", name, sun }]
		: [{ type: "too-faint", name, magnitude, limit }];
}

/** V magnitude of a star, a planet's at its faintest (common practice); undefined for the Sun and the Moon. */
export function magnitudeOf(body: SkyBody): number | undefined {
	if (body.type === "star") return body.star.magnitude;
	if (body.type === "planet") return PLANET_MAGNITUDES[body.name] ?? 6;
	return undefined;
}

/** Faint end of the planets' usual brightness, V. From memory. */
const PLANET_MAGNITUDES: Readonly<Record<string, number>> = {
	Mercury: 1,
	Venus: -3.8,
	Mars: 1.8,
	Jupiter: -1.7,
	Saturn: 1.2,
	Uranus: 5.9,
	Neptune: 8,
};

/** Whether a body can be seen and pointed at at an instant. */
export function canSight(body: SkyBody, tonight: Tonight, at: EpochMs): boolean {
	const direction = apparentDirection(body, tonight.spot, at);
	return sightObstacles(body.name, body, direction, tonight, at).length === 0;
}

/**
 * What a head tilted sideways by one degree does to a bearing taken from a mark at altitude `altitude` and `turn`
 * degrees clockwise of the pole, with the tilt by scale: across the meridian, degrees on the sky.
 *
 * The tilted pan turns about an axis that leans sideways by b. A point at altitude h, Δ from the line it leans about,
 * is then found b tan h cos Δ away in bearing. For the axis (h = φ, Δ = 0) less the mark, times cos φ:
 * b (sin φ − cos φ tan h cos Δ).
 */
export function levelEffect(latitude: number, altitude: number, turnFromPole: number): number {
	const phi = Math.abs(latitude) * RAD;
	return Math.sin(phi) - Math.cos(phi) * Math.tan(altitude * RAD) * Math.cos(turnFromPole * RAD);
}

/** Cosine of the stand's latitude: a turn of the pan by 1° moves the axis by so many degrees on the sky. */
export const cosLatitude = ({ spot }: Tonight): number => Math.cos(spot.latitude * RAD);
/** 1 north of the equator and on it, −1 south. */
export const sideOfEarth = ({ spot }: Tonight): 1 | -1 => hemisphere(spot.latitude);
