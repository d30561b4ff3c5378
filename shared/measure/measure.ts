/**
 * Frames measured against a plan: where each looked and where the plan wanted it to, how its stars trailed, and the axis
 * about which the camera was turned between frames, with what that means for hands, budget and exposure.
 */
import { outward, rollOf } from "../alignment/attitude.ts";
import { type AxisVector, axisVector, type Covariance, hemisphere, radiusHolding } from "../alignment/axis-error.ts";
import { correctionOf } from "../alignment/drift.ts";
import { longestExposure } from "../alignment/longest-exposure.ts";
import type { Solved } from "../alignment/solved-frames.ts";
import type { EvaluatedLens } from "../cells/lens/lens.ts";
import { lensNamed } from "../cells/lens/lens-named.ts";
import type { EvaluatedTarget } from "../cells/targets/target.ts";
import { rateOf } from "../cells/tracker/drive.ts";
import type { CalendarDate } from "../earth/calendar.ts";
import type { EpochMs } from "../earth/zone.ts";
import { instantOf } from "../earth/zone.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import { displacements, readTrails, type TrailReading } from "../frames/drawn-out.ts";
import { findSpots } from "../frames/find-stars.ts";
import type { Search } from "../frames/identify.ts";
import { type LensMap, plainMap, rayAt } from "../frames/lens-map.ts";
import { type Misfit, misfitOf } from "../frames/misfit.ts";
import type { Written } from "../frames/picture-header.ts";
import type { Photo, PictureProblem } from "../frames/read-picture.ts";
import { type ReadFrame, readFrame, type SolvedFrame, solveFrames } from "../frames/solve.ts";
import { skyOver } from "../frames/star-sky.ts";
import { axisBetween, type MeasuredAxis, solvedPlace } from "../frames/where.ts";
import type { Bearing } from "../notation/bearing.ts";
import { apart, type Direction, toDirection, toVector } from "../sky/horizontal.ts";
import type { Spot } from "../sky/place.ts";
import { times, turn } from "../sky/vector.ts";
import { beforeGround } from "./before-ground.ts";
import { type CameraClock, clockByBearing } from "./camera-clock.ts";
import { type MeasuredDrive, measuredDrive } from "./drive.ts";
import { guessesFor, hasShape } from "./guesses.ts";
import { type Thinned, thinned } from "./thinned.ts";

/** A frame with what is told of it instead of what its camera wrote. */
export interface GivenFrame {
	readonly name: string;
	/** Read when it is its turn, and let go of then: a series would fill the memory. */
	readonly photo: () => Promise<Photo | PictureProblem>;
	/** Seconds after midnight by the camera's clock when the shutter opened; dates as the plan's evening has them. */
	readonly opened?: EpochMs;
	readonly exposure?: number;
}

export interface Wishes {
	/** Names of the plan's lens and target, where they cannot be told from time and focal length. */
	readonly lens?: string;
	readonly target?: string;
	/** Seconds that the camera's clock is ahead of the true time. */
	readonly clockAhead?: number;
	/** Where the middle of the first frame looked: tells how far the camera's clock is off. */
	readonly facing?: Bearing;
	readonly untracked?: boolean;
}

/** What is missing of the plan, or of a frame. */
export type MeasureProblem =
	| { readonly code: "no-site" }
	| { readonly code: "no-lens" }
	| { readonly code: "no-declination" }
	| { readonly code: "unknown-lens" | "unknown-target"; readonly name: string; readonly known: readonly string[] }
	| { readonly code: "no-time"; readonly name: string; readonly index: number }
	| { readonly code: "picture"; readonly name: string; readonly problem: PictureProblem }
	| {
			readonly code: "shape";
			readonly name: string;
			readonly width: number;
			readonly height: number;
			readonly lens: EvaluatedLens;
			/** How its stars fit all the same, where they do. */
			readonly misfit: Misfit | undefined;
	  }
	| {
			readonly code: "size";
			readonly name: string;
			readonly width: number;
			readonly height: number;
			readonly first: Pick<LensMap, "width" | "height">;
	  };

export interface MeasuredFrame {
	readonly name: string;
	/** Middle of the exposure. */
	readonly at: EpochMs;
	readonly exposure: number | undefined;
	readonly target: EvaluatedTarget | undefined;
	readonly wanted: Direction | undefined;
	/** When the shutter opened by the file, where another time was told and they differ by more than a minute. */
	readonly byFile: EpochMs | undefined;
	/** The focal length that the camera wrote, millimetres. */
	readonly focalLength: number | undefined;
	readonly read: ReadFrame;
	/** How its stars fit all the same, where they are not identified as they should be. */
	readonly misfit: Misfit | undefined;
	/** Undefined where its stars were not identified. */
	readonly solved:
		| {
				readonly frame: SolvedFrame;
				/** Identified stars that stand behind what hides the sky in the plan, and whether they are left out. */
				readonly behind: number;
				readonly leftOut: boolean;
				/** Whether so many are there that clock, night, site or lens cannot be right. */
				readonly impossible: boolean;
				readonly place: Solved;
				readonly middle: Direction;
				/** Clockwise as the camera looks, degrees. */
				readonly roll: number;
				/** From where the plan wanted it, degrees. */
				readonly off: number | undefined;
				readonly trails: TrailReading;
				/** The plan's limit in pixels of this frame, and the part of the stars that keep to it. */
				readonly limit: number | undefined;
				/** Pixels of the plan's camera that one of the frame is wide: more than one of a file that was made smaller. */
				readonly shrunk: number;
				readonly sharp: number | undefined;
				/** Where the part of the frame with the longest trails looks. */
				readonly worst: Direction | undefined;
				/** The middle length that the sky's turning makes on a camera that stands still, pixels. */
				readonly still: number | undefined;
		  }
		| undefined;
}

/** The axis with what it means. */
export interface AxisFinding extends MeasuredAxis {
	/** Names of the two frames it is from. */
	readonly from: readonly [string, string];
	readonly entries: readonly [Solved, Solved];
	/** Turns that take the error away: tilt up, pan right, facing the pole; with their spreads. */
	readonly tilt: number;
	readonly tiltSpread: number;
	readonly pan: number;
	readonly panSpread: number;
	/** Angle from the pole, and what the plan's method promised 19 times in 20, degrees. */
	readonly total: number;
	readonly budget: number | undefined;
	/** The longest exposure of the plan's target that this axis allows, seconds, with the limit in pixels. */
	readonly allows: { readonly exposure: number; readonly limit: number; readonly target: string } | undefined;
}

export interface Measured {
	readonly frames: readonly MeasuredFrame[];
	readonly lens: EvaluatedLens;
	readonly around: LensMap;
	/** The lens as it was solved. */
	readonly map: LensMap | undefined;
	/** Whether its stars were enough to solve all of it. */
	readonly lensKnown: boolean;
	readonly rms: number | undefined;
	readonly axis: AxisFinding | undefined;
	/** By the bearing that is told of the first frame: `frame` is its name; `clock` undefined where it tells nothing. */
	readonly clock:
		| {
				readonly frame: string;
				readonly facing: number;
				/** Seconds that it was told to be ahead. */
				readonly assumed: number;
				readonly found: CameraClock | undefined;
		  }
		| undefined;
	/** Of a series on a running tracker. */
	readonly drive: MeasuredDrive | undefined;
	/** The first frame whose stars were identified. */
	readonly picture: Thinned | undefined;
	readonly spot: Spot;
	readonly zone: string;
	/** The plan's evening. */
	readonly evening: CalendarDate | undefined;
}

/** A camera that looks farther from the plan than this is searched for over the whole sky, degrees. */
const EXPECTED_WITHIN = 30;
/** A frame belongs to a target whose series it is so near, milliseconds. */
const NEAR_SERIES_MS = 45 * 60_000;

/** Frames measured against a plan; what is missing instead. */
export async function measure(
	evaluation: Evaluation,
	given: readonly GivenFrame[],
	wishes: Wishes = {},
	progress: (name: string) => void = () => {},
): Promise<Measured | MeasureProblem> {
	const { site, tracker, field } = evaluation;
	if (!site) return { code: "no-site" };
	const facing = wishes.facing && trueOf(wishes.facing, field?.declination);
	if (wishes.facing && facing === undefined) return { code: "no-declination" };
	let lens: EvaluatedLens | undefined;
	const targets = (evaluation.targets?.value ?? []).flatMap((one) => one ?? []);
	const named = wishes.target === undefined ? undefined : targets.find(({ name }) => name === wishes.target);
	if (wishes.target !== undefined && !named)
		return { code: "unknown-target", name: wishes.target, known: targets.map(({ name }) => name) };
	let around: LensMap | undefined;
	let small: Thinned | undefined;
	const read: { readonly frame: MeasuredFrame; readonly search: Search }[] = [];
	for (const [index, one] of given.entries()) {
		progress(one.name);
		const photo = await one.photo();
		if ("code" in photo) return { code: "picture", name: one.name, problem: photo };
		const { picture, written } = photo;
		if (!lens) {
			const chosen = lensFor(evaluation, written, wishes);
			if ("code" in chosen) return chosen;
			lens = chosen;
		}
		const { width, height } = picture;
		if (around && (around.width !== width || around.height !== height))
			return { code: "size", name: one.name, width, height, first: around };
		const exposure = one.exposure ?? written.exposure;
		const byFile =
			written.clock === undefined
				? undefined
				: written.offset === undefined
					? instantOf(site.zone, dateOf(written.clock), (written.clock / 1000) % 86_400)
					: written.clock - written.offset * 60_000;
		const opened = one.opened ?? byFile;
		if (opened === undefined) return { code: "no-time", name: one.name, index };
		const at = opened + (exposure ?? 0) * 500 - (wishes.clockAhead ?? 0) * 1000;
		const target = named ?? nearest(targets, at);
		const wanted = target?.directionAt(at);
		const search: Search = wanted ? { near: { direction: toVector(wanted), within: EXPECTED_WITHIN } } : {};
		if (!hasShape(lens.camera, width, height)) {
			const misfit = misfitBy(lens, { found: findSpots(picture), sky: skyOver(site.spot, at), width, height }, search);
			return { code: "shape", name: one.name, width, height, lens, misfit };
		}
		around = mapOf(lens, width, height);
		const frame = readFrame(picture, at, site.spot, around, search);
		if (frame.known) small ??= thinned(picture);
		read.push({
			frame: {
				name: one.name,
				at,
				exposure,
				target,
				wanted,
				byFile: byFile !== undefined && Math.abs(byFile - opened) > 60_000 ? byFile : undefined,
				focalLength: written.focalLength,
				read: frame,
				misfit: undefined,
				solved: undefined,
			},
			search,
		});
	}
	if (!around || !lens) return { code: "no-lens" };
	const [lensAround, used] = [around, lens];
	const solved = solveFrames(
		read.map(({ frame }) => frame.read),
		lensAround,
	);
	const rate = wishes.untracked ? 0 : rateOf(tracker);
	const misfits = solved ? [] : misfitsBy(used, read);
	const frames = read.map(({ frame }, i): MeasuredFrame => {
		const all = solved?.frames.find(({ found }) => found === frame.read.found);
		if (!all || !solved) return { ...frame, misfit: misfits[i] };
		const { map } = solved;
		const { own, behind, leftOut, impossible } = beforeGround(all, site.cover);
		const middle = toDirection(outward(own.attitude, rayAt(map, 0, 0)));
		const carried = frame.target ? (frame.target.tracked ? rate : 0) : rate;
		const trails = readTrails(own, map, site.spot, frame.exposure ?? 0, carried);
		const shrunk = pitchOf(used, own.width, own.height) / used.camera.pixelPitch;
		const limit = frame.target && frame.target.trailLimit / Math.max(1, shrunk);
		const longest = [...trails.parts].sort((a, b) => b.drawn.length - a.drawn.length)[0];
		const counted = trails.parts.reduce((sum, { stars }) => sum + stars, 0);
		const keeps =
			limit === undefined
				? undefined
				: trails.parts.filter(({ drawn }) => drawn.length <= limit).reduce((sum, { stars }) => sum + stars, 0);
		const stillLengths =
			frame.exposure === undefined
				? []
				: displacements(own, map, site.spot, frame.exposure, { along: 0, across: 0 }, 0)
						.map(([x, y]) => Math.hypot(x, y))
						.sort((a, b) => a - b);
		return {
			...frame,
			solved: {
				frame: own,
				behind,
				leftOut,
				impossible,
				shrunk,
				place: solvedPlace(site.spot, frame.at, own.attitude, map),
				middle,
				roll: rollOf(own.attitude),
				off: frame.wanted && apart(middle, frame.wanted),
				trails,
				limit,
				sharp: keeps === undefined || counted === 0 ? undefined : keeps / counted,
				worst: longest && toDirection(outward(own.attitude, rayAt(map, longest.right, longest.up))),
				still: stillLengths[stillLengths.length >> 1],
			},
		};
	});
	const axis = solved && axisOf(evaluation, frames, solved.map, site.spot);
	const first = frames.find((one) => one.solved);
	return {
		frames,
		lens,
		around: lensAround,
		map: solved?.map,
		lensKnown: solved?.lensKnown ?? false,
		rms: solved?.rms,
		axis,
		clock:
			first?.solved && facing !== undefined
				? {
						frame: first.name,
						facing,
						assumed: wishes.clockAhead ?? 0,
						found: clockOf(site.spot, first.solved.place, facing, wishes.clockAhead ?? 0),
					}
				: undefined,
		drive: rate > 0 ? driveBy(frames, axis, site.spot, rate) : undefined,
		picture: small,
		spot: site.spot,
		zone: site.zone,
		evening: evaluation.night?.date,
	};
}

/** Of a frame's pixels on the sensor, micrometres. */
const pitchOf = ({ camera }: EvaluatedLens, width: number, height: number): number =>
	(1000 * Math.max(...camera.sensor)) / Math.max(width, height);

/** What was assumed of the clock already is part of how far it is off. */
function clockOf(spot: Spot, place: Solved, facing: number, assumed: number): CameraClock | undefined {
	const found = clockByBearing(spot, place, place.at, facing);
	return found && { ...found, ahead: found.ahead + assumed };
}

/** An axis that is not known is taken for the pole: a degree changes turns about it by a part in thousands. */
function driveBy(
	frames: readonly MeasuredFrame[],
	axis: AxisFinding | undefined,
	{ latitude }: Spot,
	rate: number,
): MeasuredDrive | undefined {
	const end = axisVector(latitude, axis?.error ?? { along: 0, across: 0 });
	const series = frames.flatMap(({ at, exposure, solved }) =>
		solved ? [{ at, exposure: exposure ?? 0, attitude: solved.frame.attitude }] : [],
	);
	return measuredDrive(series, times(end, hemisphere(latitude)), rate);
}

const trueOf = ({ degrees, north }: Bearing, declination: number | undefined): number | undefined =>
	north === "true" ? degrees : declination === undefined ? undefined : turn(degrees + declination);

const dateOf = (clock: number) => {
	const date = new Date(clock);
	return { year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate() };
};

/** The lens that is named, the one whose focal length the camera wrote, else the first. */
function lensFor(
	{ lenses }: Evaluation,
	{ focalLength: written }: Written,
	wishes: Wishes,
): EvaluatedLens | MeasureProblem {
	const known = lenses.flatMap(({ value }) => value ?? []);
	if (wishes.lens !== undefined)
		return (
			lensNamed(known, wishes.lens) ?? { code: "unknown-lens", name: wishes.lens, known: known.map(({ name }) => name) }
		);
	const near =
		written === undefined
			? undefined
			: [...known].sort(
					(a, b) =>
						Math.abs(Math.log(a.camera.focalLength / written)) - Math.abs(Math.log(b.camera.focalLength / written)),
				)[0];
	return near ?? known[0] ?? { code: "no-lens" };
}

/** The lens on a frame of so many pixels. */
const mapOf = ({ camera }: EvaluatedLens, width: number, height: number): LensMap =>
	plainMap(
		camera.projection,
		width,
		height,
		(camera.focalLength * Math.max(width, height)) / Math.max(...camera.sensor),
		camera.distortion,
	);

/** Fewer spots than this fit much by chance. */
const FOR_MISFIT = 12;

/** How a frame's stars fit all the same: where the camera is expected to look, the likeliest over the whole sky too. */
function misfitBy(
	{ camera }: EvaluatedLens,
	frame: Parameters<typeof misfitOf>[0] & Pick<ReadFrame, "width" | "height">,
	search: Search,
): Misfit | undefined {
	if (frame.found.spots.length < FOR_MISFIT) return undefined;
	const guesses = guessesFor(camera, frame.width, frame.height);
	return misfitOf(frame, guesses, search) ?? (search.near && misfitOf(frame, guesses.slice(0, 2), {}));
}

/** What became of one frame became of all: it is looked for on the one with the most stars, and then on the others. */
function misfitsBy(
	lens: EvaluatedLens,
	read: readonly { readonly frame: MeasuredFrame; readonly search: Search }[],
): readonly (Misfit | undefined)[] {
	const spots = read.map(({ frame }) => frame.read.found.spots.length);
	const most = spots.indexOf(Math.max(...spots));
	const first = read[most];
	const found = first && misfitBy(lens, first.frame.read, first.search);
	return read.map(({ frame }, i) => (i === most ? found : found && misfitOf(frame.read, [found], {})));
}

function nearest(targets: readonly EvaluatedTarget[], at: EpochMs): EvaluatedTarget | undefined {
	const away = ({ series }: EvaluatedTarget): number => Math.max(series.from - at, at - series.until, 0);
	return targets
		.filter((one) => one.ofTheSky && away(one) <= NEAR_SERIES_MS)
		.sort((a, b) => Number(b.tracked) - Number(a.tracked) || away(a) - away(b))
		.sort((a, b) => away(a) - away(b))[0];
}

/** From the two frames between which the camera was turned the most. */
function axisOf(
	evaluation: Evaluation,
	frames: readonly MeasuredFrame[],
	map: LensMap,
	spot: Spot,
): AxisFinding | undefined {
	let best: { readonly axis: MeasuredAxis; readonly pair: readonly [MeasuredFrame, MeasuredFrame] } | undefined;
	const solved = frames.filter((one) => one.solved);
	for (const [i, first] of solved.entries())
		for (const second of solved.slice(i + 1)) {
			if (!first.solved || !second.solved) continue;
			const axis = axisBetween(
				spot,
				map,
				{ at: first.at, attitude: first.solved.frame.attitude, covariance: first.solved.frame.covariance },
				{ at: second.at, attitude: second.solved.frame.attitude, covariance: second.solved.frame.covariance },
			);
			if (axis && (!best || spreadOf(axis.covariance) < spreadOf(best.axis.covariance)))
				best = { axis, pair: [first, second] };
		}
	if (!best) return undefined;
	const { axis, pair } = best;
	const [first, second] = pair;
	if (!first.solved || !second.solved) return undefined;
	const { tilt, pan, panPerAcross } = correctionOf(spot.latitude, axis.error);
	const { budget, works } = evaluation.aligned ?? {};
	return {
		...axis,
		from: [first.name, second.name],
		entries: [first.solved.place, second.solved.place],
		tilt,
		tiltSpread: Math.sqrt(axis.covariance.alongAlong),
		pan,
		panSpread: Math.sqrt(axis.covariance.acrossAcross) * panPerAcross,
		total: Math.hypot(axis.error.along, axis.error.across),
		budget: works ? budget?.radius95 : undefined,
		allows: allowedBy(second.target?.tracked ? second.target : first.target, axis.error, axis.covariance),
	};
}

const spreadOf = (covariance: Covariance): number => radiusHolding(0.95, covariance);

function allowedBy(
	target: EvaluatedTarget | undefined,
	bias: AxisVector,
	covariance: Covariance,
): AxisFinding["allows"] {
	const frame = target?.tracked ? target.frames?.()[0] : undefined;
	if (!target || !frame) return undefined;
	return {
		exposure: longestExposure(frame, { covariance, bias }, target.trailLimit),
		limit: target.trailLimit,
		target: target.name,
	};
}
