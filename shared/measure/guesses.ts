/** How a picture that does not fit the plan's lens may have come about, and what part of the sensor it shows then. */
import type { EvaluatedLens } from "../cells/lens/lens.ts";
import { halfDiagonal, type LensMap, plainMap } from "../frames/lens-map.ts";
import type { Guess } from "../frames/misfit.ts";

type Camera = EvaluatedLens["camera"];

/** The sensor as a picture of that shape has it: across and down, millimetres. */
const sensorOf = ({ sensor }: Camera, width: number, height: number): readonly [number, number] => {
	const [long, short] = [Math.max(...sensor), Math.min(...sensor)];
	return width >= height ? [long, short] : [short, long];
};

/** A picture is of the sensor's shape within this part: one that was cut a little still has its middle about where it was. */
const SAME_SHAPE = 0.03;

/** Whether a picture has the shape of the sensor. */
export function hasShape(camera: Camera, width: number, height: number): boolean {
	const [across, down] = sensorOf(camera, width, height);
	return Math.abs(width / height / (across / down) - 1) <= SAME_SHAPE;
}

/** Sizes that are tried where nothing says how much was cut: each is searched for within 8 %. */
const STEPS = [1.16, 1.35, 1.56, 1.81, 2.1, 2.44, 2.83, 3.28, 0.86, 0.74, 0.64] as const;
/** Where the axis is tried, of the room there is for it on a cut picture. */
const OFF = 0.6;

/** What is tried, the likeliest first. */
export function guessesFor(camera: Camera, width: number, height: number): readonly Guess[] {
	const [across, down] = sensorOf(camera, width, height);
	/** The least size, pixels a millimetre, at which the picture lies inside the sensor. */
	const whole = Math.max(width / across, height / down);
	const native = 1000 / camera.pixelPitch;
	const at = (size: number, right = 0, up = 0, mirrored = false): Guess => ({
		mirrored,
		map: {
			...mapAt(camera, width, height, size),
			axisRight: (OFF * right * Math.max(0, across * size - width)) / 2,
			axisUp: (OFF * up * Math.max(0, down * size - height)) / 2,
		},
	});
	// Of a side that was kept whole the axis is in the middle.
	const rights = (size: number): readonly number[] => (across * size - width > 0.1 * width ? [0, -1, 1] : [0]);
	const ups = (size: number): readonly number[] => (down * size - height > 0.1 * height ? [0, -1, 1] : [0]);
	const anywhere = (size: number): readonly Guess[] =>
		rights(size).flatMap((right) => ups(size).map((up) => at(size, right, up)));
	const isCut = native > whole * (1 + SAME_SHAPE);
	const isWhole = hasShape(camera, width, height);
	return [
		...(isWhole ? [at(whole, 0, 0, true)] : []),
		...(isCut ? anywhere(native) : []),
		...(isWhole ? [] : anywhere(whole)),
		...STEPS.map((step) => at(whole * step)),
		...(isCut ? [at(native, 0, 0, true)] : []),
		...(isWhole ? [] : [at(whole, 0, 0, true)]),
	];
}

/** The lens on a picture of which the sensor has so many pixels a millimetre, its axis in the middle. */
function mapAt(
	{ projection, focalLength, distortion, sensor }: Camera,
	width: number,
	height: number,
	size: number,
): LensMap {
	// Distortion counts from the corners: those of the picture are nearer to the axis than the sensor's.
	const near = halfDiagonal({ width, height }) / ((size * Math.hypot(...sensor)) / 2);
	return plainMap(
		projection,
		width,
		height,
		focalLength * size,
		distortion && { k1: distortion.k1 * near ** 2, k2: distortion.k2 * near ** 4 },
	);
}

/** The parts of the sensor's long and short sides that a picture shows, if it was taken through the plan's lens. */
export function shownOf(
	camera: Camera,
	{ focal, width, height }: LensMap,
): { readonly long: number; readonly short: number } {
	const size = focal / camera.focalLength;
	const [long, short] = [Math.max(...camera.sensor), Math.min(...camera.sensor)];
	return { long: Math.max(width, height) / size / long, short: Math.min(width, height) / size / short };
}
