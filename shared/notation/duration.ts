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

/** `3.2 s`, `87 s`, `1 min 40 s`, `2 h 05 min`. */
export function durationText(seconds: number): string {
	if (!Number.isFinite(seconds)) return told(words.unlimited());
	if (seconds < 10) return `${Number(seconds.toFixed(1))} s`;
	const whole = Math.round(seconds);
	if (whole < 90) return `${whole} s`;
	if (whole < 3600) {
		const [minutes, rest] = [Math.floor(whole / 60), whole % 60];
		return rest === 0 ? `${minutes} min` : `${minutes} min ${String(rest).padStart(2, "0")} s`;
	}
	return hoursText(Math.round(seconds / 60));
}

/** Minutes as a person counts them: `42 min`, `3 h 05 min`. */
export const minutesText = (minutes: number): string =>
	Math.round(minutes) < 60 ? `${Math.round(minutes)} min` : hoursText(Math.round(minutes));

function hoursText(minutes: number): string {
	const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
	return rest === 0 ? `${hours} h` : `${hours} h ${String(rest).padStart(2, "0")} min`;
}
