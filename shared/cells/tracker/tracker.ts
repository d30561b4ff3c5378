/** What methods mind of a tracker and its head. */
import type { Tools } from "../../methods/tonight.ts";
import type { TrackerContent } from "./keys.ts";

/** The tools of a plan; one that says nothing of its tracker has a geared head without constant errors. */
export function toolsOf(tracker: TrackerContent = {}): Tools {
	const { head, "tilt-zero": tiltZero = 0, "pan-zero": panZero = 0 } = tracker;
	const { "tilt-scale": tiltScale, level, "pan-scale": panScale } = tracker;
	return {
		scales: head !== "ball",
		tiltZero,
		panZero,
		spreads: {
			...(tiltScale === undefined ? {} : { "tilt-scale": tiltScale }),
			...(level === undefined ? {} : { level }),
			...(panScale === undefined ? {} : { "pan-scale": panScale }),
		},
	};
}
