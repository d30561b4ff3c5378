/** When a method works tonight, in words. */

import type { EvaluatedMethod } from "../../cells/method/method.ts";
import { intervalText } from "../../cells/night/night.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { listText } from "../../text/list.ts";

export function windowWords({ plan }: EvaluatedMethod, { night }: Evaluation): string {
	if (!night) return "";
	if (plan.windows.length === 0) return " It cannot be used at any time of the stay.";
	return ` It can be used ${listText(plan.windows.map((window) => intervalText(night.zone, window)))}.`;
}
