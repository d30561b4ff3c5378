/** What was measured on frames, in words: for the command line and the editor. */

import type { EvaluatedLens } from "../cells/lens/lens.ts";
import { isFarOff } from "../cells/log/log.ts";
import { isOffCentre } from "../frames/lens-map.ts";
import type { Misfit } from "../frames/misfit.ts";
import type { PictureProblem } from "../frames/read-picture.ts";
import { degrees } from "../notation/angle.ts";
import { bearingWithPoint } from "../notation/bearing.ts";
import { dateText } from "../notation/clock.ts";
import { durationText, exposureText, longestText } from "../notation/duration.ts";
import { eveningOf, exactNightClock } from "../notation/night-clock.ts";
import { listText } from "../text/list.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import { LEAST_FOR_PERIOD, type MeasuredDrive } from "./drive.ts";
import { periodicErrorText } from "./drive-edits.ts";
import { hasShape, shownOf } from "./guesses.ts";
import { lensKeysText } from "./lens-edits.ts";
import type { AxisFinding, Measured, MeasuredFrame, MeasureProblem } from "./measure.ts";
import { solvedFocalLength, solvedLens } from "./solved-lens.ts";

const words = sentences("measure", {
	noSite: "The plan has no site with coordinates that can be read, so the sky above it is not known.",
	picture: "{name}: {why}",
	noLens: "The plan has no lens with a focal length and a sensor that can be read.",
	noDeclination: `The plan has no site and night from which the magnetic declination is known. Give the true bearing, without
		M.`,
	unknownLens: "The plan has no lens called {name}. It has: {known}.",
	unknownTarget: "The plan has no target called {name}. It has: {known}.",
	noTime: `{name}: the file does not say when it was taken. Give the clock time at which the shutter opened, once for each
		frame: --at 21:30:00.`,
	shape: `{name}: it has {width} × {height} pixels, which is not the shape of the plan's sensor, {long} × {short} mm. Frames
		must be whole, as the camera took them; if it is another camera's, name its lens with --lens.`,
	shapeFits:
		"{name}: it has {width} × {height} pixels, which is not the shape of the plan's sensor, {long} × {short} mm. {how}",
	inARow: "{first} {next}",
	size: `{name}: it has {width} × {height} pixels, the first frame {firstWidth} × {firstHeight}. Frames that are measured together
		must be whole and of one camera.`,
	unknownFormat: "it is not a JPEG, PNG or TIFF file.",
	unreadable: "it cannot be read: {why}.",
	tooLarge: "it has {width} × {height} pixels; at most {most} megapixels are read. Save it smaller.",
	tooSmall: "it has {width} × {height} pixels, too few to measure stars on.",
	tooMuch: "it holds {megabytes} MB unpacked, more than is read. Save it with 8 bits, or as JPEG.",
	bits: "it has {bits} bits a colour; 8 and 16 are read.",
	frame: "{name}, {at}",
	frameExposed: "{name}, {at}, exposed for {exposure}",
	found: "{count} spots that may be stars, {known} of them identified; half are within {rms} px of their places.",
	unknown: `{count} spots may be stars, but they fit no part of the sky. Clouds, a lens other than the plan's, a
		frame out of focus or very long trails can cause that.`,
	unknownFew: `Only {count} spots that may be stars were found; at least 8 stars of magnitude 6 or brighter are
		needed. Expose longer, check for clouds, check the focus.`,
	unknownLong: `The lens shows too small a part of the sky: the star table ends at magnitude 6, and above about 135
		mm a frame holds too few of its stars.`,
	mirrored: `{known} of its stars are identified if left and right are exchanged: the picture was flipped. Export it without
		flipping it, and measure again.`,
	cropped: `{known} of its stars are identified if the picture shows {long} of the sensor's long side and {short} of its short side:
		it was cropped. Export it whole, without cropping or straightening, and measure again.`,
	croppedOrLens: `{known} of its stars are identified if the picture shows {long} of the sensor's long side and {short} of its short
		side, or was taken through a lens of {focal} mm instead of {written} mm. Export it whole, or correct the lens in the plan, and
		measure again.`,
	otherLens: `{known} of its stars are identified through a lens of {focal} mm on the plan's sensor; the plan's {lens} has {written}
		mm. Correct the plan, or name another of its lenses, and measure again.`,
	axisAt: "The optical axis is {off} px from the middle of the picture.",
	looked: "Middle of the frame: bearing {bearing}, altitude {altitude}, rolled by {roll} {sense}.",
	clockwise: "clockwise, seen from behind the camera",
	anticlockwise: "anticlockwise, seen from behind the camera",
	place:
		"Right ascension {rightAscension}, declination {declination}, top of the frame at position angle {angle} (J2000).",
	wanted: "In the plan {target} is aimed at bearing {bearing}, altitude {altitude}: the frame is {off} away.",
	far: `That is not the part of the sky in the plan. If the camera did point there, its clock or the plan's date is
		wrong.`,
	behind: `{count} of them are where the plan has ground or walls, and are left out.`,
	farBehind: `{count} of them are where the plan has ground or walls: the skyline, the camera's clock, the night or the site
		in the plan is wrong.`,
	byFile: "The file says that it was taken at {file}; the time that you gave is used.",
	otherEvening: "It was taken on the evening of {date}; the plan is for {planned}.",
	trails: `Trails in different parts of the frame: {usual} px at the median, {long} px at most; with the camera at
		rest they would be {still} px.`,
	smaller: `The file has {part} of the width of the plan's camera: the plan's limit of {limit} px is {here} px here, too little to
		be judged. Measure the file as the camera wrote it.`,
	noTarget: "No target of the plan is photographed at that time, so there is no limit to compare with.",
	width: `A star without a trail is {width} px wide at half its brightness. To know whether that is sharp, compare it
		with a frame in best focus.`,
	stopped: "The tracker did not run during this exposure.",
	sharp: "Within the plan's limit of {limit} px: {part} of the measured stars.",
	notSharp: "Beyond the plan's limit of {limit} px: {part} of the measured stars, most of all {where}.",
	longest: "at bearing {bearing}, altitude {altitude}",
	oneFrame: `These trails show the axis error but not its sign: {along} {alongSide} and {across} {acrossSide}, or both
		the opposite.`,
	secondFrame: "A second frame, a quarter of an hour later, tells which.",
	oneFrameUnsure: `These trails do not show both parts of the axis error (± {along} in tilt, ± {across} to the side).
		Take a second frame a quarter of an hour later, the camera untouched on the tracker.`,
	high: "too high",
	low: "too low",
	right: "to the right, facing the pole",
	left: "to the left, facing the pole",
	rate: "In addition the drive ran {part} too {side} over this exposure: because of its periodic error, or its rate.",
	fast: "fast",
	slow: "slow",
	axisHead: "The axis",
	axis: "The axis, from {first} and {second}, between which the camera turned by {turn}",
	error: "It is {along} ± {alongSpread} {alongSide} and {across} ± {acrossSpread} {acrossSide}: {total} from the pole.",
	correction:
		"Facing the pole: {height} the tilt by {tilt} ± {tiltSpread}, turn the pan {side} by {pan} ± {panSpread}.",
	farOff: `No alignment leaves an axis that far from the pole: check the plan's lens, the clock times and whether the
		tracker ran, and do not turn the head by these numbers.`,
	nothing: "Facing the pole: leave tilt and pan as they are; what is left is within the measurement.",
	raise: "raise",
	lower: "lower",
	panRight: "right",
	panLeft: "left",
	clockMatters: `It is only as right as the clock times: if the clock is an hour off, the error is turned by 15° about the pole. --facing, or *Where the first frame looked* in the editor, tells how far the clock is off.`,
	impossible: `So many stars are where the plan has ground, or below the horizon, that its clock times, night, site or lens cannot
		be right. Correct that first, and do not turn the head by these numbers.`,
	clockFirst: `These numbers depend on the clock times, which do not fit the bearing of {frame} (see the camera's clock): correct that and measure again before you turn the head.`,
	again: "Then take two more frames and measure again.",
	inside: "That is within the {budget} that the plan's method promises 19 times in 20.",
	outside: "That is outside the {budget} that the plan's method promises 19 times in 20.",
	allows: "With this axis {target} may be exposed for {exposure} before its trails pass {limit} px.",
	noAxis: `The axis needs two frames between which the camera, untouched on the tracker, turned by 2° or more: eight minutes of
		tracking, or a turn of the plate by hand.`,
	lens: "The lens",
	solved: `{focal} mm by its stars ({written} mm written), distortion {corner} at the corners, optical axis {off} px from the
		middle.`,
	offAxis: `No lens has its axis so far from the middle: the frames were cropped. Export them whole, and measure again; these
		numbers are not the lens's.`,
	offLength: `That is more than {part} from the focal length in the plan: the frames were cropped, or were taken with another lens or another zoom setting. Find out which before you write it into the plan.`,
	lensKeys: "For the plan's lens: {keys}",
	clock: "The camera's clock",
	clockRight: `The times fit within the {spread} that 1° of bearing makes, if the middle of {frame} looked toward true
		bearing {facing}.`,
	clockRightThen: `The times fit with the clock {assumed} s ahead, within the {spread} that 1° of bearing makes, if
		the middle of {frame} looked toward true bearing {facing}.`,
	clockOff: `It is {by} {side} the true time if the middle of {frame} looked toward true bearing {facing}; an error of
		1° in that bearing makes a difference of {spread}. If you are sure of the bearing, measure again with
		--clock-ahead {signed}, or correct the camera's clock in the editor.`,
	clockNone: `The times do not fit with the clock {assumed} s ahead: if the middle of {frame} looked toward true
		bearing {facing}, the clock is right. Measure again without that correction.`,
	clockUnknown: `The stars in the middle of {frame} are never at {facing}, or move too little along the horizon there:
		that bearing does not tell how far the clock is off.`,
	ahead: "ahead of",
	behindTime: "behind",
	drive: "The drive, from {count} frames over {span}",
	rateRight: "Its rate is right to within {spread}.",
	rateOff: "It ran {part} ± {spread} {side}.",
	swing: "Periodic error: ± {amplitude}″, known to {amplitudeSpread}″; period {period} ± {periodSpread} s.",
	swingKey: "For the tracker: {key}",
	noSwing: "The frames show no periodic error beyond chance; what is left between frames is {left}″.",
	noPeriod: "Eight or more frames that cover a whole turn of the worm would show its periodic error.",
	log: "For the log:",
});

/** Why nothing was measured. */
export function problemPhrase(problem: MeasureProblem): Phrase {
	switch (problem.code) {
		case "picture":
			return words.picture({ name: problem.name, why: pictureProblemPhrase(problem.problem) });
		case "no-site":
			return words.noSite();
		case "no-lens":
			return words.noLens();
		case "no-declination":
			return words.noDeclination();
		case "unknown-lens":
			return words.unknownLens({ name: problem.name, known: listText(problem.known) });
		case "unknown-target":
			return words.unknownTarget({ name: problem.name, known: listText(problem.known) });
		case "no-time":
			return words.noTime({ name: problem.name });
		case "shape": {
			const { name, width, height, lens, misfit } = problem;
			const [long, short] = [Math.max(...lens.camera.sensor), Math.min(...lens.camera.sensor)];
			return misfit
				? words.shapeFits({ name, width, height, long, short, how: inARow(misfitLines(misfit, lens)) })
				: words.shape({ name, width, height, long, short });
		}
		case "size": {
			const { name, width, height, first } = problem;
			return words.size({ name, width, height, firstWidth: first.width, firstHeight: first.height });
		}
	}
}

/** A length differs from another by more than this part where they are two. */
const ANOTHER = 0.05;
const same = (a: number, b: number): boolean => Math.abs(a / b - 1) <= ANOTHER;

/** What a picture has become of that does not fit the plan's lens. `wrote`: the focal length that the camera wrote. */
function misfitLines(
	{ mirrored, map, stars, axisKnown }: Misfit,
	lens: EvaluatedLens,
	wrote?: number | undefined,
): readonly [Phrase, ...Phrase[]] {
	const { camera } = lens;
	const shown = shownOf(camera, map);
	const known = { known: stars };
	const focal = solvedFocalLength(map, lens);
	const written = camera.focalLength;
	const parts = { ...known, long: partOf(shown.long), short: partOf(shown.short) };
	const lengths = { focal: Number(focal.toFixed(focal < 20 ? 1 : 0)), written };
	const isOff = axisKnown && isOffCentre(map);
	const isWhole = same(shown.long, 1) && same(shown.short, 1);
	const isLarger = Math.max(shown.long, shown.short) > 1 + ANOTHER;
	// Pixels as large as the sensor's own, another shape, an axis far off, the lens that the camera wrote: then it was cut.
	const isCut =
		!isLarger &&
		(isOff ||
			!hasShape(camera, map.width, map.height) ||
			same(map.focal, (1000 * written) / camera.pixelPitch) ||
			(wrote !== undefined && same(wrote, written)));
	const size = isCut
		? words.cropped(parts)
		: isLarger || (wrote !== undefined && same(wrote, focal))
			? words.otherLens({ ...known, ...lengths, lens: lens.name })
			: words.croppedOrLens({ ...parts, ...lengths });
	const off = isOff ? [words.axisAt({ off: Math.round(Math.hypot(map.axisRight, map.axisUp)) })] : [];
	const rest = isWhole && !isOff ? [] : [size, ...off];
	const [first = size, ...others] = mirrored ? [words.mirrored(known), ...rest] : rest;
	return [first, ...others];
}

const inARow = ([first, ...rest]: readonly [Phrase, ...Phrase[]]): Phrase =>
	rest.reduce((before, next) => words.inARow({ first: before, next }), first);

/** A part of a side; of the whole side but for what a measurement is off. */
const partOf = (part: number): string => percent(part > 0.98 ? 1 : part);

/** Megapixels of a frame at most. */
const MOST_MEGAPIXELS = 61;

/** Why a file is no frame. */
function pictureProblemPhrase(problem: PictureProblem): Phrase {
	switch (problem.code) {
		case "unknown-format":
			return words.unknownFormat();
		case "unreadable":
			return words.unreadable({ why: problem.why.replace(/\.$/, "") });
		case "too-large":
			return words.tooLarge({ width: problem.width, height: problem.height, most: MOST_MEGAPIXELS });
		case "too-small":
			return words.tooSmall({ width: problem.width, height: problem.height });
		case "too-much":
			return words.tooMuch({ megabytes: problem.megabytes });
		case "bits":
			return words.bits({ bits: problem.bits });
	}
}

/** A heading with its lines. */
export interface Told {
	readonly about: "frame" | "axis" | "clock" | "drive" | "lens";
	readonly heading: Phrase;
	readonly lines: readonly Phrase[];
}

const px = (value: number): string => value.toFixed(1);
/** A trail far shorter than a star is wide is not seen. */
const trailText = (value: number): string => (value < 0.5 ? "under 0.5" : px(value));
const percent = (part: number): string => {
	const whole = Math.round(100 * part);
	return part >= 1 ? "all" : whole >= 100 ? "over 99 %" : part <= 0 ? "none" : whole < 1 ? "under 1 %" : `${whole} %`;
};
/** A limit under this many pixels of the file cannot be seen on it. */
const LEAST_LIMIT = 1;
/** The rate of a drive that did not run, less the sky's, with what a measurement is off. */
const STOPPED = -0.9;
/** An angle as far as it is known: 0.1° unless its spread is less. */
const known = (value: number, spread: number): string => degrees(Math.abs(value), spread < 0.04 ? 2 : 1);
const spreadText = (spread: number): string => degrees(Math.max(0.01, spread), spread < 0.1 ? 2 : 1);

/** What was measured, one after the other. */
export function tellMeasured(measured: Measured): readonly Told[] {
	const { frames, lens, map, axis, clock, drive } = measured;
	const keys = solvedLens(measured);
	const isCutAll = map !== undefined && measured.lensKnown && isOffCentre(map);
	return [
		...frames.map((frame) => tellFrame(frame, measured)),
		...(axis ? [tellAxis(axis, measured)] : []),
		...(clock ? [tellClock(clock)] : []),
		...(drive ? [tellDrive(drive)] : []),
		...(map
			? [
					{
						about: "lens" as const,
						heading: words.lens(),
						lines: [
							words.solved({
								focal: solvedFocalLength(map, lens).toFixed(2),
								written: lens.camera.focalLength,
								corner: `${(100 * (map.k1 + map.k2)).toFixed(2).replace("-", "−")} %`,
								off: px(Math.hypot(map.axisRight, map.axisUp)),
							}),
							...(isCutAll
								? [words.offAxis()]
								: same(solvedFocalLength(map, lens), lens.camera.focalLength)
									? []
									: [words.offLength({ part: percent(ANOTHER) })]),
							...(keys ? [words.lensKeys({ keys: lensKeysText(keys) })] : []),
						],
					},
					...(axis ? [] : [{ about: "axis" as const, heading: words.axisHead(), lines: [words.noAxis()] }]),
				]
			: []),
	];
}

function tellFrame(
	{ name, at, exposure, target, wanted, byFile, read, misfit, focalLength, solved }: MeasuredFrame,
	{ zone, lens, evening, axis: pair }: Measured,
): Told {
	const focal = lens.camera.focalLength;
	const second = Math.round(at / 1000) * 1000;
	const its = eveningOf(zone, second);
	const notes = [
		...(byFile === undefined ? [] : [words.byFile({ file: exactNightClock(eveningOf(zone, byFile), byFile) })]),
		...(evening && dateText(evening) !== dateText(its.date)
			? [words.otherEvening({ date: dateText(its.date), planned: dateText(evening) })]
			: []),
	];
	const clock = exactNightClock(its, second);
	const heading =
		exposure === undefined
			? words.frame({ name, at: clock })
			: words.frameExposed({ name, at: clock, exposure: exposureText(exposure) });
	const count = read.found.spots.length;
	if (!solved) {
		if (misfit) return { about: "frame", heading, lines: [...notes, ...misfitLines(misfit, lens, focalLength)] };
		return {
			about: "frame",
			heading,
			lines: [
				...notes,
				count < 12 ? words.unknownFew({ count }) : words.unknown({ count }),
				...(focal > 140 ? [words.unknownLong()] : []),
			],
		};
	}
	const { middle, roll, place, off, trails, limit, sharp, still, frame, behind, leftOut, shrunk } = solved;
	const { axis } = trails;
	const sure = axis && Math.sqrt(axis.covariance.alongAlong + axis.covariance.acrossAcross) < 0.5;
	return {
		about: "frame",
		heading,
		lines: [
			words.found({ count, known: frame.stars.length, rms: (1.18 * frame.known.rms).toFixed(2) }),
			...notes,
			...(behind === 0 ? [] : [(leftOut ? words.behind : words.farBehind)({ count: behind })]),
			words.looked({
				bearing: bearingWithPoint(middle.azimuth),
				altitude: degrees(middle.altitude, 1),
				roll: degrees(Math.abs(roll), 1),
				sense: roll < 0 ? words.anticlockwise() : words.clockwise(),
			}),
			words.place({
				rightAscension: degrees(place.rightAscension, 3),
				declination: degrees(place.declination, 3),
				angle: degrees(place.positionAngle, 2),
			}),
			...(target && wanted && off !== undefined
				? [
						words.wanted({
							target: target.name,
							bearing: bearingWithPoint(wanted.azimuth),
							altitude: degrees(wanted.altitude, 1),
							off: degrees(off, 1),
						}),
						...(off > 30 ? [words.far()] : []),
					]
				: []),
			...(exposure === undefined || still === undefined
				? []
				: [words.trails({ usual: trailText(trails.usual), long: trailText(trails.long), still: trailText(still) })]),
			...(exposure === undefined ? [] : [words.width({ width: px(2.355 * frame.found.blur) })]),
			...(exposure !== undefined && !target ? [words.noTarget()] : []),
			...(sharp === undefined || limit === undefined || exposure === undefined
				? []
				: limit < LEAST_LIMIT && target
					? [
							words.smaller({
								part: percent(1 / shrunk),
								limit: target.trailLimit,
								here: px(limit),
							}),
						]
					: [
							sharp >= 1 || !solved.worst
								? words.sharp({ part: percent(sharp), limit })
								: words.notSharp({
										part: percent(1 - sharp),
										limit,
										where: words.longest({
											bearing: bearingWithPoint(solved.worst.azimuth),
											altitude: degrees(solved.worst.altitude, 0),
										}),
									}),
						]),
			...(axis
				? [
						sure
							? words.oneFrame({
									along: degrees(Math.abs(axis.error.along), 1),
									alongSide: axis.error.along < 0 ? words.low() : words.high(),
									across: degrees(Math.abs(axis.error.across), 1),
									acrossSide: axis.error.across < 0 ? words.left() : words.right(),
								})
							: words.oneFrameUnsure({
									along: spreadText(Math.sqrt(axis.covariance.alongAlong)),
									across: spreadText(Math.sqrt(axis.covariance.acrossAcross)),
								}),
						...(sure && !pair ? [words.secondFrame()] : []),
						...(sure && axis.rate < STOPPED
							? [words.stopped()]
							: sure && Math.abs(axis.rate) > 0.002
								? [
										words.rate({
											part: `${(100 * Math.abs(axis.rate)).toFixed(1)} %`,
											side: axis.rate < 0 ? words.slow() : words.fast(),
										}),
									]
								: []),
					]
				: []),
		],
	};
}

/** Farther than two degrees of bearing make. */
const isClockOff = ({ found, assumed }: NonNullable<Measured["clock"]>): boolean =>
	found !== undefined && Math.abs(found.ahead - assumed) > 2 * found.perDegree;

function tellClock({ frame, facing, assumed, found }: NonNullable<Measured["clock"]>): Told {
	const named = { frame, facing: bearingWithPoint(facing) };
	const tell = (): Phrase => {
		if (!found) return words.clockUnknown(named);
		const { ahead, perDegree } = found;
		const spread = durationText(Math.round(perDegree));
		const seconds = (value: number): string => Math.round(value).toString().replace("-", "−");
		const told = { ...named, assumed: seconds(assumed) };
		if (Math.abs(ahead - assumed) < perDegree)
			return assumed === 0 ? words.clockRight({ ...named, spread }) : words.clockRightThen({ ...told, spread });
		if (assumed !== 0 && Math.abs(ahead) < perDegree) return words.clockNone(told);
		return words.clockOff({
			...named,
			by: durationText(Math.round(Math.abs(ahead))),
			side: ahead < 0 ? words.behindTime() : words.ahead(),
			spread,
			signed: seconds(ahead),
		});
	};
	return { about: "clock", heading: words.clock(), lines: [tell()] };
}

function tellDrive({ frames, span, fast, fastSpread, left, periodic }: MeasuredDrive): Told {
	const part = (value: number): string => `${(100 * value).toFixed(value < 0.001 ? 2 : 1)} %`;
	const spread = part(Math.max(2 * fastSpread, 0.0001));
	const seconds = (angle: number): string => (3600 * angle).toFixed(3600 * angle < 10 ? 1 : 0);
	return {
		about: "drive",
		heading: words.drive({ count: frames, span: durationText(Math.round(span)) }),
		lines: [
			Math.abs(fast) < 2 * fastSpread || Math.abs(fast) < 0.0001
				? words.rateRight({ spread })
				: words.rateOff({ part: part(Math.abs(fast)), spread, side: fast < 0 ? words.slow() : words.fast() }),
			...(periodic
				? [
						words.swing({
							amplitude: seconds(periodic.amplitude),
							amplitudeSpread: seconds(Math.max(0.1 / 3600, periodic.amplitudeSpread)),
							period: durationText(Math.round(periodic.period)),
							periodSpread: Math.max(1, Math.round(periodic.periodSpread)),
						}),
						words.swingKey({ key: periodicErrorText(periodic) }),
					]
				: [frames < LEAST_FOR_PERIOD ? words.noPeriod() : words.noSwing({ left: seconds(left) })]),
		],
	};
}

function tellAxis(axis: AxisFinding, { frames, clock }: Measured): Told {
	const { error, covariance, tilt, tiltSpread, pan, panSpread, total, budget, allows } = axis;
	const [alongSpread, acrossSpread] = [Math.sqrt(covariance.alongAlong), Math.sqrt(covariance.acrossAcross)];
	const isNothing = Math.abs(tilt) < 2 * tiltSpread && Math.abs(pan) < 2 * panSpread && total < 0.1;
	return {
		about: "axis",
		heading: words.axis({ first: axis.from[0], second: axis.from[1], turn: degrees(axis.turn, 1) }),
		lines: [
			words.error({
				along: known(error.along, alongSpread),
				alongSpread: spreadText(alongSpread),
				alongSide: error.along < 0 ? words.low() : words.high(),
				across: known(error.across, acrossSpread),
				acrossSpread: spreadText(acrossSpread),
				acrossSide: error.across < 0 ? words.left() : words.right(),
				total: known(total, Math.min(alongSpread, acrossSpread)),
			}),
			isImpossible(frames)
				? words.impossible()
				: clock && isClockOff(clock)
					? words.clockFirst({ frame: clock.frame })
					: isFarOff(error)
						? words.farOff()
						: isNothing
							? words.nothing()
							: words.correction({
									height: tilt < 0 ? words.lower() : words.raise(),
									tilt: known(tilt, tiltSpread),
									tiltSpread: spreadText(tiltSpread),
									side: pan < 0 ? words.panLeft() : words.panRight(),
									pan: known(pan, panSpread),
									panSpread: spreadText(panSpread),
								}),
			...(isImpossible(frames) || (clock && isClockOff(clock)) || isFarOff(error) || isNothing ? [] : [words.again()]),
			...(clock?.found || isImpossible(frames) ? [] : [words.clockMatters()]),
			...(budget === undefined || isImpossible(frames)
				? []
				: [(total <= budget ? words.inside : words.outside)({ budget: degrees(budget, 1) })]),
			...(allows && !isImpossible(frames)
				? [words.allows({ target: allows.target, exposure: longestText(allows.exposure), limit: allows.limit })]
				: []),
		],
	};
}

/** Whether a frame cannot be of that site, night and time: what follows from it for hands is nothing. */
export const isImpossible = (frames: readonly MeasuredFrame[]): boolean =>
	frames.some(({ solved }) => solved?.impossible);

/** What stands over the log's entry. */
export const logHeading = (): Phrase => words.log();
