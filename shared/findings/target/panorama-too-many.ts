import { groundPanels, MOST_PANELS, PANEL_SECONDS, type TooManyPanels } from "../../cells/targets/panorama.ts";
import { foregroundOf } from "../../cells/targets/target.ts";
import { durationText } from "../../notation/duration.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { removal } from "../remove-key.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/panorama-too-many", {
	title: "More panels than are computed",
	about: `A panorama of more than 200 panels is not computed: turning the camera from one to the next alone would take
		over an hour (20 s each, common practice). The target is then computed as a single picture, so its times and
		limits are not those of the panorama. A foreground of more than 200 panels is computed, but fills the night too.
		Take fewer columns or rows, a smaller range, less overlap, or a wider lens.`,
	message: `{name} takes {columns} columns of {rows}, {panels} panels; at most {most} are computed, so its numbers are
		now those of a single picture. {instead}`,
	enough: "Leave out `columns`: {enough} are enough for the range.",
	fewer: "At most {fit} columns of {rows} are computed; or take fewer rows, less overlap, or a wider lens.",
	smaller: "Take a smaller range, fewer rows, less overlap, or a wider lens.",
	leaveOut: "Leave out `columns`, and they are computed",
	take: "Take {columns} columns",
	foreground: `The foreground of {name} takes {columns} columns of {rows}, {panels} panels: turning the camera from one to the
		next alone takes {turning}. Take at most {most}: fewer columns or rows, or a wider lens.`,
});

const around = (rows: number): string =>
	`- name: core over the gate\n  aim: { azimuth: 150, altitude: 30 }\n  panorama: { columns: 40, rows: ${rows}, overlap: 50 % }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`;
const over = (overlap: number): string =>
	`- name: band\n  aim: { bearings: [0, 0], altitudes: [0, 80] }\n  panorama: { overlap: ${overlap} % }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`;

const ground = (rows: number): string =>
	`- name: core over the gate\n  aim: { azimuth: 150, altitude: 30 }\n  panorama: { columns: 4 }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px\n  foreground: { exposure: 1 s, panorama: { columns: 40, rows: ${rows} } }`;

export default rule({
	code: "target/panorama-too-many",
	severity: "error",
	words,
	wrong: { targets: around(12) },
	instead: { targets: around(2) },
	right: [{ targets: around(5) }, { targets: over(50) }, { targets: ground(5) }],
	over: [{ targets: around(6) }, { targets: over(90) }, { targets: ground(6) }],
	each: "target",
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			const { tooManyPanels, name, index, entry, panorama } = target;
			const rows = panorama?.ground()?.rows ?? [];
			const panels = groundPanels(panorama);
			if (panels > MOST_PANELS)
				yield {
					...at(cell, foregroundOf(entry)?.panorama ? `${index}.foreground.panorama` : `${index}.foreground`),
					message: words.foreground({
						name,
						columns: rows[0]?.bearings.length ?? 0,
						rows: rows.length,
						panels,
						turning: durationText((panels - 1) * PANEL_SECONDS),
						most: MOST_PANELS,
					}),
				};
			if (!tooManyPanels) continue;
			yield {
				...at(cell, entry.panorama ? `${index}.panorama` : `${index}.aim`),
				message: words.message({
					name,
					columns: tooManyPanels.columns,
					rows: tooManyPanels.rows,
					panels: tooManyPanels.columns * tooManyPanels.rows,
					most: MOST_PANELS,
					instead: insteadOf(tooManyPanels, entry.panorama?.columns !== undefined),
				}),
				fixes: () => {
					if (entry.panorama?.columns === undefined) return [];
					const path = `${index}.panorama.columns`;
					const { enough } = tooManyPanels;
					const fit = fitting(tooManyPanels);
					if (enough !== undefined) return fix(words.leaveOut(), false, removal(cell, path));
					return fit > 0 ? fix(words.take({ columns: fit }), false, replaceValue(cell, path, fit)) : [];
				},
			};
		}
	},
});

/** Columns of so many rows that are computed. */
const fitting = ({ rows }: TooManyPanels): number => Math.floor(MOST_PANELS / rows);

function insteadOf(panels: TooManyPanels, isWritten: boolean): Phrase {
	const { rows, enough } = panels;
	if (!isWritten) return words.smaller();
	return enough === undefined ? words.fewer({ fit: fitting(panels), rows }) : words.enough({ enough });
}
