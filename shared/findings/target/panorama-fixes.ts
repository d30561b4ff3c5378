/** What would close a panorama's gaps: more columns over the same range, or more overlap around an aim. */
import { panoramaOf } from "../../cells/targets/panorama.ts";
import type { EvaluatedTarget } from "../../cells/targets/target.ts";
import {
	type Coverage,
	coverageOf,
	heldAs,
	type PanoramaRow,
	rowsAround,
	rowsOver,
	type SkyRange,
} from "../../optics/panorama-rows.ts";
import { sentences } from "../../text/sentence.ts";
import { type Fix, fix, replaceValue } from "../finding.ts";
import type { EachTarget } from "./each.ts";

const words = sentences("target/panorama", {
	overlap: "Let the panels overlap by {overlap} %",
	columns: "Take {columns} columns",
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

const isOverRange = ({ entry: { aim } }: EvaluatedTarget): boolean =>
	aim === "milky-way-arch" || (typeof aim === "object" && ("bearings" in aim || "altitudes" in aim));

/** Columns with which what the panels now span is covered; undefined around an aim, and where none are enough. */
function fewestColumns(target: EvaluatedTarget): number | undefined {
	const { panorama } = target;
	if (!panorama || !isOverRange(target)) return undefined;
	const { rows, held, overlap, columns } = panorama;
	const range = spanOf(target, rows);
	for (let more = columns + 1; range && more <= 40; more++)
		if (holds(coverageOf(rowsOver(range, more, rows.length, overlap, held), overlap, held, range))) return more;
	return undefined;
}

function spanOf({ fixed, entry: { aim } }: EvaluatedTarget, rows: readonly PanoramaRow[]): SkyRange | undefined {
	const [lowest] = rows;
	if (!lowest || !fixed || typeof aim !== "object" || !("bearings" in aim)) return undefined;
	const [from = 0, until = 0] = (aim.bearings ?? []).map(({ degrees }) => degrees);
	const wide = (((until - from) % 360) + 360) % 360 || 360;
	const [one = 0, other = 0] = aim.altitudes ?? [];
	return {
		left: fixed.azimuth - wide / 2,
		right: fixed.azimuth + wide / 2,
		low: Math.min(one, other),
		high: Math.max(one, other),
	};
}

/** Percent of overlap with which panels around an aim leave no gap; undefined over a range, and where none is enough. */
function overlapThatHolds(target: EvaluatedTarget): number | undefined {
	const { panorama, lens, directionAt, series, entry } = target;
	if (!panorama || !lens || isOverRange(target) || !panoramaOf(entry)) return undefined;
	const held = heldAs(lens.camera, entry.orientation === "portrait");
	const middle = directionAt(series.from);
	for (let percent = Math.ceil(panorama.overlap * 20 + 1e-9 + 1) * 5; percent <= 80; percent += 5) {
		const rows = rowsAround(middle, panorama.columns, panorama.rows.length, percent / 100, held);
		if (holds(coverageOf(rows, percent / 100, held))) return percent;
	}
	return undefined;
}
