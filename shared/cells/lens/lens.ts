/** What follows from a lens: field of view, pixel scale, untracked limits. */

import { type Camera, cropFactor, fieldAcross, pixelScaleArcsec } from "../../optics/camera.ts";
import { npfFull, npfSimple, rateLimit, rule500 } from "../../optics/untracked.ts";
import type { LensContent } from "../kinds.ts";
import { angleValue, durationValue, numberValue, type Value } from "../value.ts";

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
	};
	const disagree = pitch !== undefined && fromPixels !== undefined && Math.abs(pitch / fromPixels - 1) > 0.05;
	return { content: cell, name: cell.name ?? "lens", camera, otherPitch: disagree ? fromPixels : undefined };
}

/** Figures of a lens: fields in degrees, scales, untracked limits in seconds. */
export function lensValues({ camera, name }: EvaluatedLens): readonly Value[] {
	const computed = (id: string, label: string, how: string, at: readonly string[]) => ({
		id: `lens.${id}`,
		label,
		how,
		of: name,
		at: [...at, ""],
	});
	const optics = ["focal-length", "sensor"];
	const pixels = ["pixels", "pixel-pitch"];
	const formula = `${camera.projection} lens`;
	return [
		angleValue(
			computed("field-of-view-horizontal", "Field of view, wide side", `2 atan(width / 2f), ${formula}.`, optics),
			fieldAcross(camera, camera.sensor[0]),
		),
		angleValue(
			computed("field-of-view-vertical", "Field of view, high side", `2 atan(height / 2f), ${formula}.`, optics),
			fieldAcross(camera, camera.sensor[1]),
		),
		numberValue(
			computed(
				"pixel-scale",
				"Pixel scale",
				"206 265″ · atan(pixel pitch / focal length), in the middle of the frame.",
				[...optics, ...pixels],
			),
			pixelScaleArcsec(camera),
			"″/px",
			2,
		),
		numberValue(
			computed("pixel-pitch", "Pixel pitch", "Sensor width over its pixels, or as typed.", pixels),
			camera.pixelPitch,
			"µm",
			2,
		),
		numberValue(
			computed("crop-factor", "Crop factor", "43.27 mm over the sensor's diagonal.", ["sensor"]),
			cropFactor(camera),
			"×",
			2,
		),
		durationValue(
			computed(
				"untracked-500",
				"Untracked, 500 rule",
				"500 / (focal length · crop): lets stars trail over several pixels.",
				["focal-length"],
			),
			rule500(camera),
		),
		durationValue(
			computed("untracked-npf", "Untracked, NPF simple", "(35 N + 30 p) / f; takes no account of declination.", [
				"focal-length",
				"f-number",
			]),
			npfSimple(camera),
		),
		durationValue(
			computed(
				"untracked-npf-full",
				"Untracked, NPF full, at the equator",
				"(16.856 N + 0.0997 f + 13.713 p) / (f cos δ) for δ = 0: one pixel, the Airy disc and 1.5″ of seeing.",
				["focal-length", "f-number"],
			),
			npfFull(camera, 0),
		),
		durationValue(
			computed("untracked-pixel", "Untracked, one pixel at the equator", "Pixel scale / 15.041″ a second.", [
				"focal-length",
				...pixels,
			]),
			rateLimit(camera, 0, 1),
		),
	];
}
