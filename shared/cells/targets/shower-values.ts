/** The values of a shower beside a target. */
import { clockOf, wallClock } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { dateText } from "../../notation/date.ts";
import { type Dated, nightClock } from "../../notation/night-clock.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { TargetEntry } from "./keys.ts";
import type { EvaluatedTarget } from "./target.ts";

const words = sentences("value.shower", {
	peak: "{date} {time}",
	highest: "{time}, altitude {altitude}",
	never: "below the horizon while it is dark",
});

const AT = ["shower", "name"] as const;

export const SHOWER_VALUES = valuesFor<PathOf<TargetEntry>>()("target", {
	"shower-peak": {
		is: "text",
		label: "{shower}: peak",
		how: `When the Sun reaches longitude {longitude} (J2000); clock of the site. Most meteors come about then, in
			some years hours earlier or later.`,
		at: AT,
	},
	"shower-days": {
		is: "number",
		unit: "d",
		places: 1,
		plus: "after the peak",
		minus: "before the peak",
		label: "{shower}: the frames are",
		how: "Half-way through the frames.",
		at: AT,
	},
	"radiant-altitude-start": {
		is: "angle",
		label: "Radiant's altitude at the start",
		how: `Where the radiant is on that day: {place}, J2000. The higher it is, the more meteors there are; below the
			horizon nearly none.`,
		at: AT,
	},
	"radiant-azimuth-start": { is: "bearing", label: "Radiant's bearing at the start", how: "True.", at: AT },
	"radiant-altitude-end": {
		is: "angle",
		label: "Radiant's altitude at the end",
		how: "As seen, with refraction.",
		at: AT,
	},
	"radiant-azimuth-end": { is: "bearing", label: "Radiant's bearing at the end", how: "True.", at: AT },
	"radiant-away": {
		is: "angle",
		label: "Radiant from the middle of the frame",
		how: "Half-way through the frames. Near it meteors are short; they are longest 90° away.",
		at: AT,
	},
	"radiant-highest": {
		is: "text",
		label: "Radiant highest in the dark",
		how: "While it is dark and you are on site, to the nearest ten minutes.",
		at: AT,
	},
});

const values = SHOWER_VALUES;

/** None where no shower is named. */
export function showerValues({ shower: named, series, name: of }: EvaluatedTarget, night: Dated): readonly Value[] {
	if (!named) return [];
	const { shower } = named;
	const [start, end] = [named.radiantAt(series.from), named.radiantAt(series.until)];
	const { rightAscension, declination } = named.radiant();
	const highest = named.highest();
	const fill = { shower: shower.name };
	return [
		values["shower-peak"](peakText(named, night), {
			of,
			fill: { ...fill, longitude: degrees(shower.peak, 1) },
		}),
		values["shower-days"](named.days(), { of, fill }),
		values["radiant-altitude-start"](start.altitude, {
			of,
			fill: { place: `${degrees(rightAscension)}, ${degrees(declination)}` },
		}),
		values["radiant-azimuth-start"](start.azimuth, { of }),
		values["radiant-altitude-end"](end.altitude, { of }),
		values["radiant-azimuth-end"](end.azimuth, { of }),
		values["radiant-away"](named.away(), { of }),
		values["radiant-highest"](
			told(
				highest && highest.altitude > 0
					? words.highest({ time: nightClock(night, highest.at), altitude: degrees(highest.altitude, 0) })
					: words.never(),
			),
			{ of },
		),
	];
}

/** `2027-12-14 13:20`: the day and the clock of the site. */
export const peakText = ({ peak }: NonNullable<EvaluatedTarget["shower"]>, { zone }: Dated): string =>
	told(words.peak({ date: dateText(wallClock(zone, peak()).date), time: clockOf(zone, peak()) }));
