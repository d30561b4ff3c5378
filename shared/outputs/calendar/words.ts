/** What the events of a calendar are called. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("output.calendar", {
	exported: "Calendar",
	help: `print the night as iCalendar events (RFC 5545), with an alarm before the guide star;
		no coordinates in it`,
	unknown: "a calendar needs the site's coordinates and the night's date",
	untitled: "Night plan",
	arrive: "Arrive, see the site",
	align: "Align: {kind}",
	mark: "{name}: altitude {altitude}, bearing {bearing}",
	frames: "Frames: {name}",
	tracked: "{count} × {exposure} s, tracked",
	untracked: "{count} × {exposure} s",
	leave: "Pack up and leave",
});
