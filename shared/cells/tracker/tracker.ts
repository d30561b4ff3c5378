/** What methods ask of a tracker and its head. */
import type { CalendarDate } from "../../earth/calendar.ts";
import type { Tools } from "../../methods/tonight.ts";
import type { TrackerContent } from "./keys.ts";
import { zerosOn } from "./zeros.ts";

/** Whether the head has scales for tilt and pan; one of which nothing is said is a geared head. */
export const hasScales = ({ head }: TrackerContent = {}): boolean => head !== "ball";

/** The tools of a plan on its evening. */
export function toolsOf(tracker: TrackerContent | undefined, evening: CalendarDate): Tools {
	const { "tilt-scale": tiltScale, level, "pan-scale": panScale } = tracker ?? {};
	const { tilt, pan } = zerosOn(tracker, evening);
	return {
		scales: hasScales(tracker),
		tiltZero: tilt,
		panZero: pan,
		spreads: {
			...(tiltScale === undefined ? {} : { "tilt-scale": tiltScale }),
			...(level === undefined ? {} : { level }),
			...(panScale === undefined ? {} : { "pan-scale": panScale }),
		},
	};
}
