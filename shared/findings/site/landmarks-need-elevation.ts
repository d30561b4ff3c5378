import { heightText } from "../../notation/height.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("site/landmarks-need-elevation", {
	title: "Landmarks have elevations, the site has none",
	about: `The altitude at which you see a landmark follows from its elevation and the site's. This site has no
		elevation, so 0 m is used: its landmarks then seem higher than they are, and one that the skyline hides may
		count as in view. Read the site's elevation off a map, or take it from elevation tiles. For a site on a shore,
		write \`place: [shore]\`.`,
	message: `\`{name}\` has an elevation of {elevation} m, but the site has none, so the landmark is computed as if
		seen from 0 m: at {altitude}. Add the site's \`elevation\`.`,
	more: `\`{name}\` and {count} more landmarks have elevations, but the site has none, so they are computed as if seen
		from 0 m: \`{name}\`, at {elevation} m, at {altitude}. Add the site's \`elevation\`.`,
});

/** Metres above the sea from which on it is not likely that the site is at its level. */
const HIGH = 50;
/** Places at the level of the sea. */
const BY_THE_SEA = ["shore", "sea-cave"];

const site = (landmark: string, more = ""): string => `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
timezone: America/Montevideo
place: [ruin]
${more}landmarks: [{ name: water tower, latitude: 32.4391 S, longitude: 54.3951 W, ${landmark} }]`;

export default rule({
	code: "site/landmarks-need-elevation",
	severity: "warning",
	words,
	wrong: { site: site("elevation: 187 m") },
	right: [
		{ site: site("elevation: 187 m", "elevation: 145 m\n") },
		{ site: site("elevation: 187 m", "elevation: 0 m\n") },
		{ site: site("elevation: 50 m") },
		{ site: site("elevation: 187 m, altitude: 0.6") },
		{ site: site("elevation: 187 m").replace("[ruin]", "[shore]") },
	],
	over: [{ site: site("elevation: 51 m") }, { site: site("elevation: 187 m").replace("[ruin]", "[cliff]") }],
	*find({ plan, site, landmarks }) {
		const cell = cellsOf(plan, "site")[0];
		const content = site?.content;
		if (!cell || !content || content.elevation !== undefined) return;
		if (content.place?.some((one) => BY_THE_SEA.includes(one))) return;
		const high = (cell.read.content?.landmarks ?? []).flatMap(({ name, elevation, altitude }, index) => {
			const seen = landmarks.find((one) => one.name === name && one.located);
			return seen && altitude === undefined && elevation !== undefined && elevation > HIGH
				? { index, name: seen.name, elevation: Math.round(elevation), altitude: heightText(seen.altitude) }
				: [];
		});
		const [first] = high;
		if (!first) return;
		const { index, ...numbers } = first;
		yield {
			...at(cell, `landmarks.${index}.elevation`),
			message: high.length > 1 ? words.more({ ...numbers, count: high.length - 1 }) : words.message(numbers),
		};
	},
});
