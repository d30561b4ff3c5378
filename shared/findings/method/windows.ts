/** When a method works tonight, in words. */

import type { MethodReckoning } from "../../reckon/method.ts";
import { intervalText } from "../../reckon/night.ts";
import type { Reckoning } from "../../reckon.ts";
import { listText } from "../../words.ts";

export function windowWords({ plan }: MethodReckoning, { night }: Reckoning): string {
	if (!night) return "";
	if (plan.windows.length === 0) return " It cannot be used at any time of the stay.";
	return ` It can be used ${listText(plan.windows.map((window) => intervalText(night.zone, window)))}.`;
}
