/** What was traced, written into the plan's site with a comment on where it is from. */
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { bearingText } from "../../shared/notation/bearing.ts";
import { fewerPoints } from "../../shared/photo/fewer-points.ts";
import { skylineOfLines } from "../../shared/photo/skyline-of.ts";
import { stillReads } from "../../shared/plan/cell-edits.ts";
import { cellsOf } from "../../shared/plan/plan.ts";
import type { Trace, TracedPart } from "../../shared/protocol/tracing.ts";
import { edgesThatCross, outlineOf, type SkyPoint } from "../../shared/sky/outline.ts";
import type { TextEdit } from "../../shared/text/edits.ts";
import { type Phrase, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { siteEdits } from "../site-edits.ts";
import { sources } from "../site-sources.ts";
import { offText } from "./answer.ts";
import { type NamedOutline, outlinesOf, type TracedObstruction } from "./site-keys.ts";
import type { Solved, SolvedLine } from "./solve.ts";
import { labels, words, writeWords } from "./words.ts";

/** The edits of the plan's text, or why there are none. */
export type Written = { readonly edits: readonly TextEdit[] } | { readonly problem: Phrase };

/** Points of a skyline that a plan takes. */
const MOST_SKYLINE = 2000;
/** Degrees by which a point less may move an outline. */
const TOLERANCE = 0.02;

/** Writes a solved trace. */
export function writeTrace(trace: Trace, solved: Solved, evaluation: Evaluation): Written {
	const { attitude, problems } = solved;
	const cell = cellsOf(evaluation.plan, "site")[0];
	if (!cell) return { problem: writeWords.noSite() };
	if (!attitude) return { problem: writeWords.notSolved({ why: problems[0] ?? words.marksNeeded() }) };
	const lines = solved.lines.filter(({ points }) => points.length > 0);
	if (lines.length === 0) return { problem: writeWords.nothing() };
	for (const { part, name, problem } of lines) {
		if (problem) return { problem: writeWords.wrong({ name: name || labels[part](), why: problem }) };
		if (part !== "skyline" && name.trim() === "") return { problem: writeWords.nameless() };
	}
	const outlines = outlinesOf(lines.filter(({ part }) => part !== "skyline").flatMap(partPoints));
	if ("code" in outlines)
		return { problem: outlines.code === "loose" ? writeWords.loose(outlines) : writeWords.corners(outlines) };
	const { openings, obstructions } = outlines;
	for (const { name, outline } of [...openings, ...obstructions, ...windowsIn(obstructions)]) {
		const crossing = edgesThatCross(outlineOf(outline));
		if (crossing) return { problem: writeWords.crosses({ name, first: crossing[0] + 1, second: crossing[1] + 1 }) };
	}
	const said = (what: string | Phrase): string => told(sources.traced({ what, ...source(trace, solved, lines) }));
	const skylines = lines.filter(({ part }) => part === "skyline");
	const points =
		skylines.length > 0
			? skylineOfLines(
					skylines.map(({ directions }) => directions.map(skyPoint)),
					evaluation.site?.content.skyline,
				)
			: [];
	if (points.length > MOST_SKYLINE) return { problem: writeWords.many({ count: points.length }) };
	const comments = skylines.map(({ directions }) => {
		const ends = [directions[0], directions.at(-1)].map((one) => bearingText(one?.bearing ?? 0));
		return said(writeWords.skyline({ from: ends[0] ?? "", until: ends[1] ?? "" }));
	});
	const found = siteEdits(cell, evaluation.site?.content ?? {}, {
		skyline: points.length > 0 ? { points, comments, whole: false } : undefined,
		openings,
		obstructions,
		said: (name) => said(shown(name)),
	});
	if ("taken" in found) return { problem: writeWords.taken({ key: found.taken }) };
	const { edits } = found;
	return edits.length > 0 && stillReads(evaluation.plan, edits) ? { edits } : { problem: writeWords.notEditable() };
}

const skyPoint = ({ bearing, altitude }: { readonly bearing: number; readonly altitude: number }): SkyPoint => [
	bearing,
	altitude,
];

/** A line's directions as corners, those left out that change nothing. */
function partPoints({ part, name, directions }: SolvedLine) {
	const { corners } = outlineOf(directions.map(skyPoint));
	const own = corners.length === directions.length ? corners : directions.map(skyPoint);
	return fewerPoints(own, TOLERANCE).map(([bearing, altitude]) => ({
		part: part satisfies TracedPart,
		name: name.trim(),
		bearing,
		altitude,
	}));
}

const windowsIn = (obstructions: readonly TracedObstruction[]): readonly NamedOutline[] =>
	obstructions.flatMap(({ name, window }) => (window ? [{ name, outline: window }] : []));

/** Where it is from, in words: the photo, when it was taken, its marks and what they say of themselves. */
function source({ photo, marks }: Trace, { attitude, at }: Solved, lines: readonly SolvedLine[]) {
	const spread = Math.max(...lines.flatMap(({ directions }) => directions.map(({ plusMinus }) => plusMinus)));
	return {
		name: shown(photo.name),
		taken: at === undefined ? "" : writeWords.taken95({ time: photo.time.trim() }),
		marks: marks.length,
		worst: offText(Math.max(0, ...(attitude?.residuals ?? []))),
		within: offText(2 * spread),
	};
}
