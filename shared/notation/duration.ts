/** Durations: `180 s`, `3 min`, `1.5 h`. */
import { sentences, told } from "../text/sentence.ts";
import { dimension } from "./dimension.ts";

const words = sentences("notation.duration", { duration: "a duration", unlimited: "without limit" });

/** Seconds. */
export const DURATION = dimension(words.duration, "s", {
	s: 1,
	min: 60,
	h: 3600,
	ms: 0.001,
	sec: 1,
	second: 1,
	seconds: 1,
	minute: 60,
	minutes: 60,
	hr: 3600,
	hour: 3600,
	hours: 3600,
});

/** `45 s`, `3 min 20 s`, `2 h 05 min`. */
export function durationText(seconds: number): string {
	if (!Number.isFinite(seconds)) return told(words.unlimited());
	if (seconds < 10) return `${seconds.toFixed(1)} s`;
	const whole = Math.round(seconds);
	if (whole < 90) return `${whole} s`;
	if (whole < 3600) {
		const [minutes, rest] = [Math.floor(whole / 60), whole % 60];
		return rest === 0 ? `${minutes} min` : `${minutes} min ${String(rest).padStart(2, "0")} s`;
	}
	const minutes = Math.round(seconds / 60);
	return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
}

/** Minutes as a person counts them: `42 min`, `3 h 05 min`. */
export const minutesText = (minutes: number): string => durationText(Math.round(minutes) * 60);
