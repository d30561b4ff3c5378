/** When a method works tonight, in words. */

import type { EvaluatedMethod } from "../../cells/method/method.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { nightInterval } from "../../notation/night-clock.ts";
import { listText } from "../../text/list.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";

const words = sentences("method.windows", {
	never: " The method cannot be used at any time while you are on site.",
	windows: " Usable: {windows}.",
});

export function windowWords({ setUp }: EvaluatedMethod, { night }: Evaluation): Phrase | "" {
	if (!night) return "";
	if (setUp.windows.length === 0) return words.never();
	return words.windows({ windows: listText(setUp.windows.map((window) => nightInterval(night, window))) });
}
