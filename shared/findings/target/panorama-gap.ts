import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { turn } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";
import { closerPanels } from "./panorama-fixes.ts";

const words = sentences("target/panorama-gap", {
	title: "Gap in a panorama",
	about: `Between two panels there is sky, or ground, that neither of them shows. Panels that are tilted up fan out: at their
		lower edges they are farther apart than at their middles, the more so the higher they are. Let them overlap more, or
		take more columns over the same range.`,
	message: `{name}: nothing shows a strip {width} wide at bearing {bearing}, altitude {altitude}, in row {row} to the right of
		column {column}. Let the panels overlap more, or take more columns over the same range.`,
});

const around = (overlap: number): string =>
	`- name: core over the gate\n  aim: { azimuth: 150, altitude: 55 }\n  panorama: { columns: 4, overlap: ${overlap} % }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`;
const over = (columns: number): string =>
	`- name: band\n  aim: { bearings: [100, 220], altitudes: [5, 40] }\n  panorama: { columns: ${columns} }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`;

export default rule({
	code: "target/panorama-gap",
	severity: "warning",
	words,
	wrong: { targets: around(5) },
	instead: { targets: around(50) },
	right: [{ targets: around(19) }, { targets: over(3) }],
	over: [{ targets: around(18) }, { targets: over(1) }],
	each: "target",
	*find(evaluation) {
		for (const one of eachTarget(evaluation)) {
			const { cell, target } = one;
			const { panorama, name, index, entry } = target;
			if (!panorama) continue;
			const [gap] = [...panorama.coverage().gaps].sort((a, b) => b.width - a.width);
			if (!gap) continue;
			const { bearing, altitude, width, row, column } = gap;
			yield {
				...at(cell, entry.panorama ? `${index}.panorama` : `${index}.aim`),
				message: words.message({
					name,
					width: degrees(width),
					bearing: bearingText(turn(bearing)),
					altitude: degrees(altitude, 0),
					row,
					column,
				}),
				fixes: () => closerPanels(one),
			};
		}
	},
});
