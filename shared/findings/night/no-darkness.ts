import { degrees } from "../../notation/angle.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { cellsOf } from "../../plan/plan.ts";
import { both } from "../../sky/intervals.ts";
import { nightOf } from "../../sky/night.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule, setKey } from "../finding.ts";

const words = sentences("night/no-darkness", {
	title: "No darkness",
	about: `While you are on site the Sun never gets as far below the horizon as the plan asks for (\`sun-below\`, 18°
		unless you say otherwise). The sky stays too bright for the Milky Way and faint stars. Choose another date,
		spend more of the night on site, or lower \`sun-below\` if twilight is enough.`,
	outside: `It gets dark that night, but not while you are on site: the Sun is more than {wanted} below the horizon only
		before or after. Change \`arrive\` or \`leave\`.`,
	further: `The Sun gets no more than {lowest} below the horizon that night; the plan asks for {wanted}. Choose another date
		or lower \`sun-below\`.`,
	lower: `The Sun stays {lowest} or more above the horizon all night; the plan asks for {wanted} below it. Choose another
		date.`,
	twilight: "Count it as dark once the Sun is {angle} below the horizon",
});

/** Brighter than this it is day to a camera: no star shows. Common practice, no source. */
const LEAST_BELOW = 6;

export default rule({
	code: "night/no-darkness",
	severity: "warning",
	words,
	wrong: {
		site: "name: Skerry\nlatitude: 66.1 N\nlongitude: 12.6 E",
		night: 'date: 2027-06-20\narrive: "22:00"\nleave: "02:00"',
	},
	instead: {
		site: "name: Skerry\nlatitude: 66.1 N\nlongitude: 12.6 E",
		night: 'date: 2027-09-30\narrive: "22:00"\nleave: "02:00"',
	},
	right: [
		{ site: "name: Skerry\nlatitude: 55 N\nlongitude: 12.6 E", night: "date: 2027-06-20\nsun-below: 11.56°" },
		{ night: 'date: 2027-06-05\narrive: "17:00"\nleave: "19:07"' },
	],
	over: [
		{ site: "name: Skerry\nlatitude: 55 N\nlongitude: 12.6 E", night: "date: 2027-06-20\nsun-below: 11.57°" },
		{ night: 'date: 2027-06-05\narrive: "17:00"\nleave: "19:06"' },
	],
	*find({ plan, site, night, placed }) {
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !site || !night || night.dark.length > 0) return;
		// Targets that ask for less may all have it dark enough.
		const needing = (placed?.value ?? []).flatMap((target) => (target?.needsDark ? [target.darkness] : []));
		if (needing.length > 0 && needing.every(({ dark }) => dark.length > 0)) return;
		const { sunBelow: below } = night;
		const wanted = `${Number(below.toFixed(2))}°`;
		const lowest = `${overLimit(-night.sky.sunRange().lowest, below, 1)}°`.replace("-", "−");
		const ever = night.sky.sunDark.length > 0;
		// Rounded down: some minutes are left.
		const angle = Math.floor(-night.sky.sunRange().lowest);
		const dark =
			!ever &&
			angle >= LEAST_BELOW &&
			both(nightOf(site.spot, night.sky.span, angle).sunDark, [night.onSite]).length > 0;
		yield {
			...at(cell, "date"),
			message: ever
				? words.outside({ wanted })
				: lowest.startsWith("−")
					? words.lower({ lowest: lowest.slice(1), wanted })
					: words.further({ lowest, wanted }),
			fixes: dark
				? fix(words.twilight({ angle: degrees(angle, 0) }), false, setKey(cell, "", "sun-below", degrees(angle, 0)))
				: [],
		};
	},
});
