/** Values as a plan writes them. */
import type { Axis } from "./coordinate.ts";

/** `134.5°` true, `158.6°M` magnetic. */
export function bearingWords(degrees: number, north: "true" | "magnetic"): string {
	const rounded = Number((((degrees % 360) + 360) % 360).toFixed(1)) % 360;
	return `${rounded}°${north === "magnetic" ? "M" : ""}`;
}

const letterOf = (degrees: number, axis: Axis): string =>
	axis === "latitude" ? (degrees < 0 ? "S" : "N") : degrees < 0 ? "W" : "E";

/** `32° 24′ 44.3″ S`: to a tenth of a second, three metres. */
export function coordinateWords(degrees: number, axis: Axis): string {
	const tenths = Math.round(Math.abs(degrees) * 36_000);
	const whole = Math.floor(tenths / 36_000);
	const minutes = Math.floor((tenths % 36_000) / 600);
	const seconds = (tenths % 600) / 10;
	return `${whole}° ${String(minutes).padStart(2, "0")}′ ${String(seconds)}″ ${letterOf(degrees, axis)}`;
}

/** `32.412306 S`: to a tenth of a metre. */
export const coordinateText = (degrees: number, axis: Axis): string =>
	`${Number(Math.abs(degrees).toFixed(6))} ${letterOf(degrees, axis)}`;
