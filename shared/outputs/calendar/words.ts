/** What the events of a calendar are called. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("output.calendar", {
	exported: "Calendar",
	help: `print the evening as iCalendar events (RFC 5545), one for each step, with an alarm before the
		alignment; no coordinates in it`,
	unknown: "a calendar needs the site's coordinates and the night's date",
	untitled: "Night plan",
	nothing: "a calendar has an event for each step of the evening, and this evening has none",
});
