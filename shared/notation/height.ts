/** Where a thing is above the horizon, or below it: `altitude 12.0°`, `0.40° below the horizon`. */
import { type Phrase, sentences } from "../text/sentence.ts";
import { degrees } from "./angle.ts";

const words = sentences("notation.height", { high: "altitude {angle}", low: "{angle} below the horizon" });

export const heightText = (altitude: number): Phrase =>
	altitude < 0 ? words.low({ angle: degrees(-altitude) }) : words.high({ angle: degrees(altitude) });
