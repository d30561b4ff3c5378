/** How a target lies in its frame, at the first and the last one, and when it and the ground fit together. */
import { type Attitude, carried, heldLevel, outward, rollOf } from "../../alignment/attitude.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { KeptBy, lazily } from "../../memory/memory.ts";
import { type Camera, fieldAcross, pointOf, rayOf } from "../../optics/camera.ts";
import { type CometElements, cometState } from "../../sky/comet.ts";
import { frameNear, siderealRad } from "../../sky/frame.ts";
import { type Direction, toDirection, toLocal, toVector } from "../../sky/horizontal.ts";
import type { Interval } from "../../sky/intervals.ts";
import { localUnit, type SkyBody, type Spot } from "../../sky/place.ts";
import { apparentAltitude, trueAltitude } from "../../sky/refraction.ts";
import { whereTrue } from "../../sky/roots.ts";
import { cross, DEG, dot, plus, RAD, rotate, times, unit, type Vector } from "../../sky/vector.ts";
import type { EvaluatedLens } from "../lens/lens.ts";
import type { EvaluatedSite } from "../site/site.ts";
import { isVisible } from "./visible.ts";

/** Half widths right and half heights up of the middle, −1 … 1. */
export type FramePoint = readonly [right: number, up: number];

/** Angles in a frame are degrees clockwise from its top. */
export interface Framed {
	readonly at: EpochMs;
	/** How far the camera is turned from level, clockwise as it looks. */
	readonly roll: number;
	/** Part of the frame that shows no sky, 0 … 1. */
	readonly ground: number;
	/** Where the target is; undefined outside the frame. */
	readonly place: FramePoint | undefined;
	/** Where the north celestial pole is from the target: up on maps. */
	readonly north: number | undefined;
	/** How the Milky Way's middle line runs, −90 … 90: 0 upright; undefined where the target is far from it. */
	readonly milkyWay: number | undefined;
	/** Where a comet's tail points, away from the Sun. */
	readonly tail: number | undefined;
}

export interface Framing {
	readonly start: () => Framed;
	/** Whether some of the frame shows no sky then. */
	readonly showsGround: () => boolean;
	/** At the end of the last frame. */
	readonly end: () => Framed;
	/** When a level frame centred on the target shows it whole with ground under it, and both are usable. */
	readonly fits: () => readonly Interval[];
	/** Where a direction falls in the frame at a moment; undefined outside it. */
	readonly place: (direction: Direction, at: EpochMs) => FramePoint | undefined;
}

/** Degrees off the galactic equator up to which its slant belongs to a target. */
const NEAR_MILKY_WAY = 20;
const STEP_MS = 600_000;
/** Half of the piece of line whose slant in the frame is taken, degrees. */
const HALF_PIECE = 0.25;
/** What is looked for on a frame's lower edge is at least so wide, degrees. */
const EDGE_STEP = 1.5;
const COLUMNS = 24;
const ROWS = 16;

/** North galactic pole, J2000. */
const GALACTIC_POLE: SkyBody = {
	type: "fixed",
	name: "galactic-pole",
	rightAscension: 192.85948,
	declination: 27.12825,
};

interface Subject {
	readonly body: SkyBody | undefined;
	readonly directionAt: (at: EpochMs) => Direction;
	readonly series: Interval;
	readonly usable: readonly Interval[];
	readonly portrait: boolean;
	/** Degrees across. */
	readonly extent: number;
	/** Turns of the tracker for one of the sky; 0 untracked. */
	readonly rate: number;
}

/** Width and height of the frame, millimetres. */
export const sidesOf = (camera: Camera, portrait: boolean): readonly [number, number] =>
	portrait ? [camera.sensor[1], camera.sensor[0]] : camera.sensor;

/** Rays all over a frame: those of one camera serve all its targets. */
const landscapes = new KeptBy<Camera, readonly Vector[]>();
const portraits = new KeptBy<Camera, readonly Vector[]>();

/** How a target lies in the frames of its series. */
export function framingOf(subject: Subject, { camera }: EvaluatedLens, site: EvaluatedSite): Framing {
	const { series, directionAt, usable, portrait, extent, rate } = subject;
	const { spot, cover } = site;
	const [width, height] = sidesOf(camera, portrait);
	const first = lazily(() => heldLevel(directionAt(series.from)));
	const attitudeAt = (at: EpochMs): Attitude =>
		carried(first(), spot.latitude, Math.max(0, at - series.from) / 1000, rate);
	const inFrame = (attitude: Attitude, vector: Vector): FramePoint | undefined => {
		const point = pointOf(camera, inCamera(attitude, vector));
		if (!point) return undefined;
		const [right, up] = [(2 * point[0]) / width, (2 * point[1]) / height];
		return Math.abs(right) <= 1 && Math.abs(up) <= 1 ? [right, up] : undefined;
	};
	const rayAt = (right: number, up: number): Vector => rayOf(camera, (right * width) / 2, (up * height) / 2);
	const isGround = (attitude: Attitude, ray: Vector): boolean =>
		!isVisible(cover, toDirection(outward(attitude, ray)), undefined);
	const rays = (): readonly Vector[] =>
		(portrait ? portraits : landscapes).of(camera, () => {
			const all: Vector[] = [];
			for (let i = 0; i < COLUMNS; i++)
				for (let j = 0; j < ROWS; j++) all.push(rayAt((2 * i + 1) / COLUMNS - 1, (2 * j + 1) / ROWS - 1));
			return all;
		});
	const framedAt = (at: EpochMs): Framed => {
		const attitude = attitudeAt(at);
		const middle = directionAt(at);
		let ground = 0;
		for (const ray of rays()) if (isGround(attitude, ray)) ground++;
		return {
			at,
			roll: rollOf(attitude),
			ground: ground / (COLUMNS * ROWS),
			place: inFrame(attitude, toVector(middle)),
			...slants(subject, middle, attitude, camera, site, at),
		};
	};
	return {
		start: lazily(() => framedAt(series.from)),
		showsGround: lazily(() => {
			const attitude = attitudeAt(series.from);
			return rays().some((ray) => isGround(attitude, ray));
		}),
		end: lazily(() => framedAt(series.until)),
		fits: lazily(() => {
			const least = Math.min(fieldAcross(camera, width), fieldAcross(camera, height));
			if (extent > least) return [];
			const low = extent / 2;
			const points = Math.ceil(fieldAcross(camera, width) / EDGE_STEP);
			const lowerEdge = Array.from({ length: points }, (_, i) => rayAt((2 * i + 1) / points - 1, -0.98));
			const fitsAt = (at: EpochMs): boolean => {
				const middle = directionAt(at);
				if (!isVisible(cover, middle, undefined)) return false;
				if (low !== 0 && !isVisible(cover, { ...middle, altitude: middle.altitude - low }, undefined)) return false;
				const attitude = heldLevel(middle);
				return lowerEdge.some((ray) => isGround(attitude, ray));
			};
			return usable.flatMap((stretch) => whereTrue(fitsAt, stretch, STEP_MS));
		}),
		place: (direction, at) => inFrame(attitudeAt(at), toVector(direction)),
	};
}

/** A direction of the spot in the camera's axes. */
const inCamera = ({ right, up, forward }: Attitude, vector: Vector): Vector => [
	dot(right, vector),
	dot(up, vector),
	dot(forward, vector),
];

/** How what belongs to the sky runs through the target in the frame. */
function slants(
	{ body }: Subject,
	middle: Direction,
	attitude: Attitude,
	camera: Camera,
	{ spot }: EvaluatedSite,
	at: EpochMs,
): Pick<Framed, "north" | "milkyWay" | "tail"> {
	if (!body) return { north: undefined, milkyWay: undefined, tail: undefined };
	const { air, latitude } = spot;
	// Without air, where pole and plane are as they are computed.
	const here = toVector({ azimuth: middle.azimuth, altitude: trueAltitude(middle.altitude, air) });
	/** Angle in the frame of a line through the target toward a point of the sky. */
	const angleToward = (toward: Vector): number | undefined => {
		const along = plus(toward, times(here, -dot(here, toward)));
		if (Math.hypot(...along) < 1e-6) return undefined;
		const step = times(unit(along), Math.tan(HALF_PIECE * RAD));
		const seen = (vector: Vector) => {
			const { azimuth, altitude } = toDirection(unit(vector));
			return pointOf(camera, inCamera(attitude, toVector({ azimuth, altitude: apparentAltitude(altitude, air) })));
		};
		const [a, b] = [seen(plus(here, times(step, -1))), seen(plus(here, step))];
		return a && b && Math.atan2(b[0] - a[0], b[1] - a[1]) * DEG;
	};
	const pole: Vector = [0, Math.cos(latitude * RAD), Math.sin(latitude * RAD)];
	const galactic = localUnit(GALACTIC_POLE, spot, at);
	const isNear = Math.abs(90 - Math.acos(Math.max(-1, Math.min(1, dot(galactic, here)))) * DEG) <= NEAR_MILKY_WAY;
	const along = isNear ? angleToward(cross(galactic, here)) : undefined;
	return {
		north: angleToward(pole),
		milkyWay: along === undefined ? undefined : upright(along),
		tail: body.type === "comet" ? angleToward(awayFromSun(body.elements, spot, at)) : undefined,
	};
}

/** Where a comet's tail points to as one faces it, without air. */
const awayFromSun = (elements: CometElements, { latitude, longitude }: Spot, at: EpochMs): Vector =>
	localOfDate(rotate(frameNear(at).toDate, cometState(elements, at).away), longitude, latitude, at);

/** So many degrees along a comet's tail from its head, as seen. */
export function alongTail(
	elements: CometElements,
	head: Direction,
	length: number,
	spot: Spot,
	at: EpochMs,
): Direction {
	const here = toVector({ azimuth: head.azimuth, altitude: trueAltitude(head.altitude, spot.air) });
	const away = awayFromSun(elements, spot, at);
	const along = unit(plus(away, times(here, -dot(here, away))));
	const end = toDirection(plus(times(here, Math.cos(length * RAD)), times(along, Math.sin(length * RAD))));
	return { azimuth: end.azimuth, altitude: apparentAltitude(end.altitude, spot.air) };
}

const localOfDate = (vector: Vector, longitude: number, latitude: number, at: EpochMs): Vector =>
	toLocal(vector, siderealRad(frameNear(at), at) + longitude * RAD, latitude);

/** A line has no beginning: its upper end counts. */
const upright = (angle: number): number => (angle > 90 ? angle - 180 : angle <= -90 ? angle + 180 : angle);
