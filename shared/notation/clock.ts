/** Clock times: `HH:MM` and `HH:MM:SS`, 24 hours. */
import { sentences, told } from "../text/sentence.ts";
import { clip } from "./node.ts";
import type { Notation } from "./notation.ts";
import { scalar, unreadable } from "./scalar.ts";

export { dateText, readDate } from "./date.ts";

const words = sentences("notation.clock", {
	described: "a clock time",
	unreadable: "`{text}` is not a clock time. Write `HH:MM` or `HH:MM:SS` on the 24-hour clock.",
});

const CLOCK = scalar<number>({
	type: "clock",
	describe: words.described,
	readText: (text) => readClockTime(text) ?? unreadable(words.unreadable({ text: clip(text) }), withColon(text)),
	schema: () => ({ type: "string", pattern: "^\\s*([01]?\\d|2[0-3]):[0-5]\\d(:[0-5]\\d)?\\s*$" }),
	complete: ({ moments }) =>
		moments().map(({ name, shown, detail }) => ({
			label: name,
			shown,
			detail,
			kind: "moment",
			filter: `"${name} ${typeof detail === "string" ? detail : told(detail)}`,
		})),
	colour: "event",
	quoted: (source) => /^\d{1,2}:\d{2}(?::\d{2})?$/.test(source),
});

/** Seconds after midnight. */
export const clock = (): Notation<number> => CLOCK;

/** `19.40` and `19h40` with the colon that is meant, `2:00am` and `7 pm` on the 24-hour clock. */
function withColon(text: string): string | undefined {
	const [, hours, minutes = "00", half] = /^(\d{1,2})(?:[.:h](\d{2}))?\s?([ap]\.?m\.?)?$/i.exec(text.trim()) ?? [];
	if (hours === undefined || (half === undefined && !/\D/.test(text.trim()))) return undefined;
	const hour = half === undefined ? Number(hours) : (Number(hours) % 12) + (/^p/i.test(half) ? 12 : 0);
	const meant = `${String(hour).padStart(2, "0")}:${minutes}`;
	return (half !== undefined && Number(hours) > 12) || readClockTime(meant) === undefined ? undefined : meant;
}

/** Seconds after midnight of a clock time, 0 … 86 399, or undefined when `text` is none. */
export function readClockTime(text: string): number | undefined {
	const match = /^(\d{1,2}):(\d{2})(?::(\d{2}))?$/.exec(text.trim());
	if (!match) return undefined;
	const [hours, minutes, seconds] = [Number(match[1]), Number(match[2]), Number(match[3] ?? 0)];
	if (hours > 23 || minutes > 59 || seconds > 59) return undefined;
	return hours * 3600 + minutes * 60 + seconds;
}

/** `HH:MM`, or `HH:MM:SS` when there are seconds. */
export function clockText(secondsOfDay: number): string {
	const two = (value: number) => String(value).padStart(2, "0");
	const seconds = secondsOfDay % 60;
	const minutes = Math.floor(secondsOfDay / 60) % 60;
	const hours = Math.floor(secondsOfDay / 3600) % 24;
	return seconds === 0 ? `${two(hours)}:${two(minutes)}` : `${two(hours)}:${two(minutes)}:${two(seconds)}`;
}
