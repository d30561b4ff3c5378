/** What would close a panorama's gaps: more columns over the same range, or more overlap around an aim. */
import { MOST_PANELS } from "../../cells/targets/panorama.ts";
import type { EvaluatedTarget } from "../../cells/targets/target.ts";
import {
	type Coverage,
	coverageOf,
	gridOver,
	MOST_COLUMNS,
	MOST_ROWS,
	rowsAround,
	rowsOver,
} from "../../optics/panorama-rows.ts";
import { sentences } from "../../text/sentence.ts";
import { type Fix, fix, replaceValue } from "../finding.ts";
import type { EachTarget } from "./each.ts";

const words = sentences("target/panorama", {
	overlap: "Let the panels overlap by {overlap} %",
	columns: "Take {columns} columns",
	rows: "Take {rows} rows",
});

/** Takes more columns, or lets the panels overlap more, where the plan says how many or by how much. */
export function closerPanels({ cell, target }: EachTarget): readonly Fix[] {
	const { index, entry } = target;
	const columns = fewestColumns(target);
	if (columns !== undefined && entry.panorama?.columns !== undefined)
		return fix(words.columns({ columns }), false, replaceValue(cell, `${index}.panorama.columns`, columns));
	const overlap = overlapThatHolds(target);
	return overlap !== undefined && entry.panorama?.overlap !== undefined
		? fix(words.overlap({ overlap }), false, replaceValue(cell, `${index}.panorama.overlap`, `${overlap} %`))
		: [];
}

/** The least overlap that is joined without trouble, share of a frame's width: common practice, no source. */
export const LEAST_OVERLAP = 0.15;

export const holds = ({ gaps, least }: Coverage): boolean =>
	gaps.length === 0 && (least === undefined || least.share >= LEAST_OVERLAP);

/** Columns with which what the panels are laid over is covered; undefined around an aim, and where none are enough. */
function fewestColumns({ panorama, entry }: EvaluatedTarget): number | undefined {
	if (!panorama?.range) return undefined;
	const { rows, held, overlap, columns, range } = panorama;
	for (let more = columns + 1; more <= MOST_COLUMNS && more * rows.length <= MOST_PANELS; more++)
		if (holds(coverageOf(rowsOver(range, more, entry.panorama?.rows, overlap, held), overlap, held))) return more;
	return undefined;
}

/** Takes as many rows as reach from edge to edge of what they are laid over, where the plan says how many. */
export function moreRows({ cell, target: { index, entry, panorama } }: EachTarget): readonly Fix[] {
	if (!panorama?.range || entry.panorama?.rows === undefined) return [];
	const { rows } = gridOver(panorama.range, panorama.columns, undefined, panorama.overlap, panorama.held);
	return rows > panorama.rows.length && rows <= MOST_ROWS && rows * panorama.columns <= MOST_PANELS
		? fix(words.rows({ rows }), false, replaceValue(cell, `${index}.panorama.rows`, rows))
		: [];
}

/** Percent of overlap with which panels around an aim leave no gap; undefined over a range, and where none is enough. */
function overlapThatHolds(target: EvaluatedTarget): number | undefined {
	const { panorama, directionAt, series, entry } = target;
	if (!panorama || panorama.range || entry.aim === "milky-way-arch") return undefined;
	const { held } = panorama;
	const middle = directionAt(series.from);
	for (let percent = Math.ceil(panorama.overlap * 20 + 1e-9 + 1) * 5; percent <= 80; percent += 5) {
		const rows = rowsAround(middle, panorama.columns, panorama.rows.length, percent / 100, held);
		if (holds(coverageOf(rows, percent / 100, held))) return percent;
	}
	return undefined;
}
