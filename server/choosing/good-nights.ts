/** The next good nights, where a date is typed: loaded on first use. */
import { wallClock } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { goodNights } from "../../shared/evaluate/good-nights.ts";
import { dateText } from "../../shared/notation/date.ts";
import { minutesText } from "../../shared/notation/duration.ts";
import type { Named } from "../../shared/notation/notation.ts";
import { sentences } from "../../shared/text/sentence.ts";

const words = sentences("feature.good-nights", {
	night: "{minutes} usable, Moon {illumination} %",
});

/** Each with what is usable of it. */
export function nightsAhead({ plan, site }: Evaluation): readonly Named[] {
	if (!site) return [];
	return goodNights(plan, wallClock(site.zone, Date.now()).date).map(({ date, minutes, night }) => ({
		name: dateText(date),
		detail: words.night({
			minutes: minutesText(minutes),
			illumination: (night.sky.moonIllumination * 100).toFixed(0),
		}),
	}));
}
