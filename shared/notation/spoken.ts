/** Numbers in the words of steps and messages: degrees, bearings, durations. */
import { compassPoint } from "./bearing.ts";

/** `51.0°`, `0.4°`, `−3.2°`; two places under one degree. */
export function degrees(value: number, places = Math.abs(value) < 1 && value !== 0 ? 2 : 1): string {
	return `${value.toFixed(places).replace("-", "−")}°`;
}

/** A bearing with three figures and one decimal, as it is read out: `004.5°`. */
export function bearingText(value: number): string {
	const rounded = (Math.round((((value % 360) + 360) % 360) * 10) / 10) % 360;
	return `${rounded.toFixed(1).padStart(5, "0")}°`;
}

/** `004.5° (N)`. */
export const bearingWithPoint = (value: number): string => `${bearingText(value)} (${compassPoint(value)})`;

/** A turn of the pan: `24.1° clockwise`, `3.0° counter-clockwise`. */
export function turnText(value: number): string {
	return `${degrees(Math.abs(value), 1)} ${value >= 0 ? "clockwise" : "counter-clockwise"}`;
}

/** `45 s`, `3 min 20 s`, `2 h 05 min`. */
export function durationText(seconds: number): string {
	if (!Number.isFinite(seconds)) return "without limit";
	if (seconds < 10) return `${seconds.toFixed(1)} s`;
	const whole = Math.round(seconds);
	if (whole < 100) return `${whole} s`;
	if (whole < 3600) {
		const [minutes, rest] = [Math.floor(whole / 60), whole % 60];
		return rest === 0 ? `${minutes} min` : `${minutes} min ${String(rest).padStart(2, "0")} s`;
	}
	const minutes = Math.round(seconds / 60);
	return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
}

/** Minutes as a person counts them: `42 min`, `3 h 05 min`. */
export const minutesText = (minutes: number): string => durationText(Math.round(minutes) * 60);

/** `a`, `a and b`, `a, b and c`. */
export function listText(words: readonly string[]): string {
	return words.length <= 1 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`;
}
