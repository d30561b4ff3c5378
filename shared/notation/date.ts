/** Dates: `YYYY-MM-DD`. */
import type { CalendarDate } from "../earth/calendar.ts";
import { asYaml, type Given } from "../text/scalar.ts";
import { sentences } from "../text/sentence.ts";
import { clip } from "./node.ts";
import type { Notation } from "./notation.ts";
import { scalar, unreadable } from "./scalar.ts";

const words = sentences("notation.date", {
	described: "a date",
	unreadable: "`{text}` is not a date. Write it as `YYYY-MM-DD`.",
	notReal: "`{text}` is not a real date. Check the day and the month.",
});

/** A date's shape, whether there is such a day or not. */
const SHAPE = /^(\d{4})-(\d{2})-(\d{2})$/;

const DATE = scalar<CalendarDate>({
	type: "date",
	describe: words.described,
	readText: (text) =>
		readDate(text) ??
		unreadable((SHAPE.test(text.trim()) ? words.notReal : words.unreadable)({ text: clip(text) }), dateMeant(text)),
	schema: () => ({ type: "string", pattern: "^\\d{4}-\\d{2}-\\d{2}$" }),
	complete: ({ nights }) => nights().map(({ name, detail }) => ({ label: name, detail, kind: "moment", yaml: name })),
	colour: "event",
});

/** A calendar date, `2027-06-05`. */
export const date = (): Notation<CalendarDate> => DATE;

/** The last day of a month that has not so many; and other ways to write a date that cannot be read in two ways. */
function dateMeant(text: string): Given | undefined {
	const [, year, month, day] = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/.exec(text.trim()) ?? [];
	const [, last, middle, first] = /^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})$/.exec(text.trim()) ?? [];
	const meant = { year: Number(year ?? first), month: Number(month ?? middle), day: Number(day ?? last) };
	for (let missing = 0; missing < 4; missing++) {
		const written = dateText({ ...meant, day: meant.day - missing });
		if (readDate(written)) return meant.day <= 31 ? asYaml(written) : undefined;
	}
	return undefined;
}

/** Reads `YYYY-MM-DD`; undefined when the text is no such date or the day does not exist. */
export function readDate(text: string): CalendarDate | undefined {
	const match = SHAPE.exec(text.trim());
	if (!match) return undefined;
	const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
	const back = new Date(Date.UTC(year, month - 1, day));
	if (year < 100 || back.getUTCFullYear() !== year || back.getUTCMonth() !== month - 1 || back.getUTCDate() !== day)
		return undefined;
	return { year, month, day };
}

/** `YYYY-MM-DD`. */
export function dateText({ year, month, day }: CalendarDate): string {
	return `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
}
