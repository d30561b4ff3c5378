/** Where a thing is above the horizon, or below it: `altitude 12.0°`, `0.40° below the horizon`, `on the horizon`. */
import { type Phrase, sentences } from "../text/sentence.ts";
import { degrees } from "./angle.ts";

const words = sentences("notation.height", {
	high: "altitude {angle}",
	level: "on the horizon",
	low: "{angle} below the horizon",
});

/** What is told in hundredths of a degree is level below half of one. */
const LEVEL = 0.005;

export const heightText = (altitude: number): Phrase =>
	Math.abs(altitude) < LEVEL
		? words.level()
		: altitude < 0
			? words.low({ angle: degrees(-altitude) })
			: words.high({ angle: degrees(altitude) });
