import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/panorama-hidden", {
	title: "Panels that show no sky",
	about: `Some panels of a sky panorama show hardly any sky by the time they are taken: the ground, the skyline, an
		obstruction or a roof hides nearly all of it. Tracked panels move with the stars, so those on the setting side
		keep sinking until their turn comes. Begin earlier or later, shoot the setting side first, or aim higher; take
		the ground untracked, as a \`foreground\`.`,
	message: `{name}: {panels} of {all} panels show next to no sky when they are taken. The first is row {row}, column
		{column}, at {time}, at bearing {bearing}, altitude {altitude}, where the skyline reaches {skyline}. Begin at
		another time, shoot that side first, or aim higher.`,
});

/** Part of a frame that is hidden from which on it is of no use. */
const NEARLY_ALL = 0.95;

const band = (low: number, high: number): string =>
	`- name: band\n  aim: { bearings: [100, 220], altitudes: [${low}, ${high}] }\n  panorama: { rows: 2 }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`;

export default rule({
	code: "target/panorama-hidden",
	severity: "warning",
	words,
	wrong: { targets: band(-40, 45) },
	right: [{ targets: band(10, 80) }],
	over: [{ targets: band(0, 80) }],
	each: "target",
	*find(evaluation) {
		const { site } = evaluation;
		if (!site) return;
		for (const { cell, target, clock } of eachTarget(evaluation)) {
			const { panorama, name, index, entry, forSky, frames } = target;
			if (!panorama || !forSky || !frames) continue;
			const lost = panorama.panels.filter((_, i) => (frames()[i]?.hidden ?? 0) >= NEARLY_ALL);
			const [first] = lost;
			if (!first) continue;
			const { azimuth, altitude } = first.direction;
			yield {
				...at(cell, entry.panorama ? `${index}.panorama` : `${index}.aim`),
				message: words.message({
					name,
					panels: lost.length,
					all: panorama.panels.length,
					row: first.row,
					column: first.column,
					time: clock(first.at),
					bearing: bearingText(azimuth),
					altitude: degrees(altitude),
					skyline: degrees(site.cover.skylineAt(azimuth)),
				}),
			};
		}
	},
});
