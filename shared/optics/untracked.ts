/**
 * How long a camera that stands still may expose before stars trail.
 *
 * - 500 rule: t = 500 / (focal length · crop). A rule for 35 mm film; it lets the image move 0.0365 mm at the equator.
 * - NPF, simple: t = (35 N + 30 p) / f, p in µm, f the real focal length in mm. No declination.
 * - NPF, full: t = k (16.856 N + 0.0997 f + 13.713 p) / (f cos δ), k = 1 for the strict reading: one pixel, the Airy
 *   disc and 1.5″ of seeing (F. Michaud, Société astronomique du Havre).
 * - Rate limit: the exact time in which a star moves a wanted number of pixels.
 */
import { SKY_RATE_ARCSEC } from "../sky/frame.ts";
import { RAD } from "../sky/vector.ts";
import { type Camera, cropFactor, pixelScaleArcsec } from "./camera.ts";

/** Beyond this a star stands practically still, and a limit in seconds has no use. */
const STEEPEST_DECLINATION = 89.5;

const cosDeclination = (declination: number): number =>
	Math.cos(Math.min(Math.abs(declination), STEEPEST_DECLINATION) * RAD);

/** Seconds. */
export const rule500 = (camera: Camera): number => 500 / (camera.focalLength * cropFactor(camera));

/** Seconds. */
export const npfSimple = ({ fNumber, pixelPitch, focalLength }: Camera): number =>
	(35 * fNumber + 30 * pixelPitch) / focalLength;

/** Seconds, for the declination in the frame that is nearest the equator. `k`: 1 strict, 2 a slight trail, 3 a visible one. */
export const npfFull = ({ fNumber, pixelPitch, focalLength }: Camera, declination: number, k = 1): number =>
	(k * (16.856 * fNumber + 0.0997 * focalLength + 13.713 * pixelPitch)) / (focalLength * cosDeclination(declination));

/** Seconds in which a star at a declination moves `pixels` at the middle of the frame. */
export const rateLimit = (camera: Camera, declination: number, pixels: number): number =>
	(pixels * pixelScaleArcsec(camera)) / (SKY_RATE_ARCSEC * cosDeclination(declination));
