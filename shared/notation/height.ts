/** Where a thing stands above the horizon, or below it: `12.0° above the horizon`, `0.40° below the horizon`. */
import { type Phrase, sentences } from "../text/sentence.ts";
import { degrees } from "./angle.ts";

const words = sentences("notation.height", { high: "{angle} above the horizon", low: "{angle} below the horizon" });

export const heightText = (altitude: number): Phrase =>
	altitude < 0 ? words.low({ angle: degrees(-altitude) }) : words.high({ angle: degrees(altitude) });
