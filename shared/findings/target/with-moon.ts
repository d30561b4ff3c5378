import { degrees } from "../../notation/angle.ts";
import { minutesText } from "../../notation/duration.ts";
import { toVector } from "../../sky/horizontal.ts";
import { both, outside } from "../../sky/intervals.ts";
import { moonAltitude } from "../../sky/night.ts";
import { apparentDirection, findBody } from "../../sky/place.ts";
import { separation } from "../../sky/vector.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, timesText } from "./each.ts";

export default rule({
	code: "target/with-moon",
	severity: "warning",
	title: "With the Moon up",
	about:
		"During some or all of its frames the Moon is up, and more of it is lit than the plan allows (`moon-allowed`, none unless it says otherwise). Moonlight drowns the Milky Way; it can light a foreground well.",
	wrong: { night: 'date: 2027-06-15\narrive: "17:00"\nleave: "02:00"', method: "kind: compass" },
	right: {},
	*find(evaluation) {
		const { site } = evaluation;
		const moon = findBody("moon");
		if (!site || !moon) return;
		for (const { cell, target, night, minutesOutside, clock, timePath } of eachTarget(evaluation)) {
			const lit = night.sky.moonIllumination * 100;
			if (!target.needsDark || lit <= (night.content["moon-allowed"] ?? 0)) continue;
			const minutes = minutesOutside(outside(night.sky.moonUp, night.sky.span));
			if (minutes < 0.5) continue;
			const moment = both(night.sky.moonUp, [target.series])[0]?.from ?? target.series.from;
			const away = separation(
				toVector(apparentDirection(moon, site.spot, moment)),
				toVector(target.directionAt(moment)),
			);
			yield {
				...at(cell, timePath),
				message: `${target.name} has the Moon in the sky for ${minutesText(minutes)} of its ${minutesText(target.seconds / 60)}: ${lit.toFixed(0)} % lit, ${degrees(moonAltitude(site.spot, moment))} high and ${degrees(away, 0)} away at ${clock(moment)}. Usable ${timesText(target.usable, clock)}.`,
			};
		}
	},
});
