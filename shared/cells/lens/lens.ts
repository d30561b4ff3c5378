/** What follows from a lens: field of view, pixel scale, untracked limits. */

import type { Camera } from "../../optics/camera.ts";
import type { LensContent } from "./keys.ts";

export const DEFAULT_F_NUMBER = 2.8;

export interface EvaluatedLens {
	readonly content: LensContent;
	readonly name: string;
	readonly camera: Camera;
	/** Whether `pixels` and `pixel-pitch` are both given and disagree by more than 5 %: the pitch from `pixels`, else undefined. */
	readonly otherPitch: number | undefined;
}

/** Undefined while focal length, sensor or pixels cannot be read. */
export function evaluateLens(cell: LensContent | undefined): EvaluatedLens | undefined {
	if (!cell) return undefined;
	const { "focal-length": focalLength, sensor, pixels, "pixel-pitch": pitch } = cell;
	if (focalLength === undefined || !sensor) return undefined;
	const fromPixels = pixels && (sensor[0] / pixels[0]) * 1000;
	const pixelPitch = pitch ?? fromPixels;
	if (pixelPitch === undefined) return undefined;
	const camera: Camera = {
		focalLength,
		fNumber: cell["f-number"] ?? DEFAULT_F_NUMBER,
		sensor,
		pixelPitch,
		projection: cell.projection ?? "rectilinear",
		distortion: distortionOf(cell.distortion, sensor),
	};
	const disagree = pitch !== undefined && fromPixels !== undefined && Math.abs(pitch / fromPixels - 1) > 0.05;
	return { content: cell, name: cell.name ?? "lens", camera, otherPitch: disagree ? fromPixels : undefined };
}

function distortionOf(written: LensContent["distortion"], [width, height]: readonly [number, number]) {
	const { k1 = 0, k2 = 0 } = written ?? {};
	return k1 === 0 && k2 === 0 ? undefined : { k1, k2, half: Math.hypot(width, height) / 2 };
}

/** The lens at an aperture of a target's own; the same one where it has none. */
export const atAperture = (lens: EvaluatedLens | undefined, fNumber: number | undefined): EvaluatedLens | undefined =>
	!lens || fNumber === undefined || fNumber === lens.camera.fNumber
		? lens
		: { ...lens, camera: { ...lens.camera, fNumber } };
