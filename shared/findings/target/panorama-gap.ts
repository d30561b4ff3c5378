import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { turn } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";
import { closerPanels, moreRows } from "./panorama-fixes.ts";

const words = sentences("target/panorama-gap", {
	title: "Gap in a panorama",
	about: `Between two panels there is sky, or ground, that neither of them shows. Panels tilted upwards fan out: at
		their lower edges they are further apart than at their middles, the more so the higher they are. Overlap them
		more, or take more columns over the same range. Rows that do not reach the upper or lower edge of their range
		leave a gap there too: take more rows. The upper edge of a panel that is tilted up falls off to both sides, so
		a row that reaches an altitude in the middle of its panels may leave out the range's corners.`,
	message: `{name}: a strip {width} wide is in no panel, at bearing {bearing}, altitude {altitude}, in row {row} to
		the right of column {column}. Overlap the panels more, or take more columns over the same range.`,
	above: `{name}: its highest row ends at altitude {from}, while the range goes up to {until}. Take more rows, or a smaller
		range.`,
	below: `{name}: its lowest row begins at altitude {until}, while the range begins at {from}. Take more rows, or a smaller
		range.`,
	corner: `{name}: at bearing {bearing} its {row} row ends at altitude {ends}, while the range goes to {altitude}:
		toward its sides the edge of a tilted panel curves away from the range. Take more rows, or a smaller range.`,
	highest: "highest",
	lowest: "lowest",
	between: "{name}: no panel shows altitudes {from} to {until}, between rows {row} and {next}. Take more rows.",
});

const around = (overlap: number): string =>
	`- name: core over the gate\n  aim: { azimuth: 150, altitude: 55 }\n  panorama: { columns: 4, overlap: ${overlap} % }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`;
const over = (columns: number): string =>
	`- name: band\n  aim: { bearings: [100, 220], altitudes: [5, 40] }\n  panorama: { columns: ${columns} }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`;
const high = (top: number): string =>
	`- name: band\n  aim: { bearings: [100, 220], altitudes: [5, ${top}] }\n  panorama: { rows: 1 }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`;

export default rule({
	code: "target/panorama-gap",
	severity: "warning",
	words,
	wrong: { targets: around(5) },
	instead: { targets: around(50) },
	right: [{ targets: around(19) }, { targets: over(3) }, { targets: high(53) }],
	over: [{ targets: around(18) }, { targets: over(1) }, { targets: high(54) }, { targets: high(59) }],
	each: "target",
	*find(evaluation) {
		for (const one of eachTarget(evaluation)) {
			const { cell, target } = one;
			const { panorama, name, index, entry } = target;
			if (!panorama) continue;
			const { gaps, rowGaps, shortSides } = panorama.coverage();
			for (const { above, from, until } of rowGaps) {
				const ends = { name, from: degrees(from), until: degrees(until) };
				yield {
					...at(cell, entry.panorama ? `${index}.panorama` : `${index}.aim`),
					message:
						above === 0
							? words.below(ends)
							: above === panorama.rows.length
								? words.above(ends)
								: words.between({ ...ends, row: above, next: above + 1 }),
					fixes: () => moreRows(one),
				};
			}
			for (const { edge, bearing, ends, altitude } of shortSides)
				yield {
					...at(cell, entry.panorama ? `${index}.panorama` : `${index}.aim`),
					message: words.corner({
						name,
						bearing: bearingText(turn(bearing)),
						row: edge === "upper" ? words.highest() : words.lowest(),
						ends: degrees(ends),
						altitude: degrees(altitude),
					}),
					fixes: () => moreRows(one),
				};
			const [gap] = [...gaps].sort((a, b) => b.width - a.width);
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
