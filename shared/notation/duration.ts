/** Durations: `180 s`, `3 min`, `1.5 h`. */
import { sentences, told } from "../text/sentence.ts";
import { dimension } from "./dimension.ts";

const words = sentences("notation.duration", { duration: "a duration", unlimited: "unlimited" });

/** Seconds, by the spellings of their units. */
const SECONDS = {
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
};

/** Seconds. Behind hours or before seconds an `m` is a minute; alone it would be a metre. */
export const DURATION = dimension(words.duration, "s", SECONDS, undefined, [{ ...SECONDS, m: 60 }]);

/** `0.26 s`, `87 s`, `1 min 40 s`, `2 h 05 min`. */
export const durationText = (seconds: number): string => written(seconds, Math.round);

/** A frame's exposure as a camera has it: in seconds up to ten minutes, as exact as a plan gives it. */
export const exposureText = (seconds: number): string =>
	seconds <= 600 ? `${Number(seconds.toPrecision(3))} s` : durationText(seconds);

/** The longest that still holds, as `durationText` has it: never rounded up past itself. */
export const longestText = (seconds: number): string => written(seconds, (value) => Math.floor(value + FLOAT_NOISE));

/** What may be missing to a round number that was computed, in its last digit. */
const FLOAT_NOISE = 1e-6;

function written(seconds: number, round: (value: number) => number): string {
	if (!Number.isFinite(seconds)) return told(words.unlimited());
	if (seconds === 0) return "0 s";
	if (seconds < 10) {
		const places = seconds < 1 ? Math.max(1, 1 - Math.floor(Math.log10(Math.max(seconds, 1e-4)))) : 1;
		const rounded = round(seconds * 10 ** places) / 10 ** places;
		return `${Number(rounded.toFixed(places))} s`;
	}
	const whole = round(seconds);
	if (whole < 90) return `${whole} s`;
	if (whole < 3600) {
		const [minutes, rest] = [Math.floor(whole / 60), whole % 60];
		return rest === 0 ? `${minutes} min` : `${minutes} min ${String(rest).padStart(2, "0")} s`;
	}
	const minutes = round(seconds / 60);
	return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
}

/** Minutes as a person counts them: `42 min`, `3 h 05 min`; `10 s` of less than one. */
export const minutesText = (minutes: number): string =>
	durationText(minutes < 1 ? minutes * 60 : Math.round(minutes) * 60);
