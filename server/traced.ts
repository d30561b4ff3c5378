/**
 * What was measured of a site, point by point: a table of bearings and altitudes, or of places in a photo with marks of
 * known directions. Becomes the site's keys `skyline`, `openings` and `obstructions`.
 */
import {
	type Attitude,
	type AttitudeProblem,
	type Photo,
	type PhotoMark,
	solveAttitude,
} from "../shared/photo/attitude.ts";
import { measuredText } from "../shared/plan/measured.ts";
import { TRACED_PARTS, type TracedPart } from "../shared/protocol/tracing.ts";
import type { SkyPoint } from "../shared/sky/outline.ts";
import { turn } from "../shared/sky/vector.ts";
import { MOST_POINTS } from "../shared/terrain/survey.ts";
import { type Phrase, sentences, told } from "../shared/text/sentence.ts";
import { CannotRun } from "./files.node.ts";
import { obstructionText, openingText, outlinesOf, type PartPoint, pointText } from "./tracing/site-keys.ts";

const words = sentences("command.traced", {
	values: "{place}: expected {wanted}, found {count} values",
	what: "{place}: `{what}` is not one of {known}",
	bearing: "{place}: expected a bearing from 0° to 360°, found {bearing}",
	altitude: "{place}: expected an altitude from −30° to 90°, found {altitude}",
	number: "{place}: {name} must be a number, found `{text}`",
	comma: `{place}: expected one of {known}, found \`{what}\`. With a decimal comma, put a semicolon between the values:
		0; 52,5; skyline`,
	named: "{place}: an {what} needs a name",
	photoRow: "x, y, what it is, its name, and for a mark its bearing and altitude",
	corners: "{path}: `{name}` has {count} points; an outline has 3 to 500",
	loose: "{path}: the window `{name}` belongs to no obstruction of that name",
	many: "{path}: {count} points are too many: at most {most}",
	none: "{path}: nothing is traced in it: no skyline, opening or obstruction",
	few: "{path}: {found} mark{s} too few; {needed} are needed{because}, at least one with a bearing",
	focal: " where the field of view is to be found too",
	together: "{path}: the marks are too near to each other, or all in one line of sight; choose marks far apart",
	outside: "{path}: mark {number} is outside the photo of {width} × {height} pixels",
	undetermined: "{path}: these marks do not fix where the camera pointed; add one that is far from the others",
	noSky: "{place}: the lens shows nothing there",
	behind: "{place}: it is lower than −30°, the lowest altitude a plan accepts",
});

/** A point with its place in the table. */
export interface TracedPoint extends PartPoint {
	readonly place: string;
}

const MOST_ROWS = 20_000;

/** A line with its degrees, minutes and seconds as degrees alone. */
export const inDegrees = (line: string): string =>
	line.replace(
		/(\d+)°\s*(\d{1,2}(?:[.,]\d+)?)\s*[′'’](?:\s*(\d{1,2}(?:[.,]\d+)?)\s*(?:[″"”]|''))?/g,
		(_, whole: string, minutes: string, seconds = "0") =>
			`${Math.round((Number(whole) + plain(minutes) / 60 + plain(seconds) / 3600) * 1e6) / 1e6}°`,
	);

const plain = (number: string): number => Number(number.replace(",", "."));

/** Rows of a table with what they hold: empty lines, comments and a heading left out. */
function* rowsOf(path: string, text: string): Generator<{ readonly cells: readonly string[]; readonly place: string }> {
	let begun = false;
	for (const [i, line] of text
		.replace(/^\uFEFF/, "")
		.split(/\r\n|\n|\r/)
		.entries()) {
		const content = inDegrees(line.replace(/#.*/, "").trim());
		if (content === "") continue;
		const separator = content.includes(";") ? ";" : /[,\t]/.test(content) ? /[,\t]/ : /\s+/;
		const cells = content.split(separator).map((cell) => cell.trim().replace(/^"(.*)"$/, "$1"));
		const heading = !begun && !/\d/.test(cells[0] ?? "");
		begun = true;
		if (!heading) yield { cells, place: `${path}, line ${i + 1}` };
	}
}

function numberIn(text: string | undefined, name: string, place: string): number {
	const plain = (text ?? "").replace("°", "").replace("−", "-").replace(",", ".").trim();
	const value = plain === "" ? Number.NaN : Number(plain);
	if (!Number.isFinite(value)) throw new CannotRun(told(words.number({ place, name, text: text ?? "" })));
	return value;
}

function partIn(text: string, place: string, known: readonly string[]): string {
	const what = text.toLowerCase();
	if (!known.includes(what) && /^\d/.test(what))
		throw new CannotRun(told(words.comma({ place, what: text, known: known.join(", ") })));
	if (!known.includes(what)) throw new CannotRun(told(words.what({ place, what: text, known: known.join(", ") })));
	return what;
}

function nameIn(text: string | undefined, part: string, place: string): string {
	if (part !== "skyline" && !text) throw new CannotRun(told(words.named({ place, what: part })));
	return text ?? "";
}

/** A survey in which points say what they belong to: bearing, altitude, part, name. */
export function readSurvey(path: string, text: string, declination: number): readonly TracedPoint[] {
	return [...rowsOf(path, text)].map(({ cells, place }) => {
		const [first, second, what = "skyline", name] = cells;
		const bearing = numberIn(first, "the bearing", place);
		const altitude = numberIn(second, "the altitude", place);
		if (bearing < 0 || bearing > 360) throw new CannotRun(told(words.bearing({ place, bearing: `${bearing}°` })));
		if (altitude < -30 || altitude > 90) throw new CannotRun(told(words.altitude({ place, altitude: `${altitude}°` })));
		const part = partIn(what, place, TRACED_PARTS) as TracedPart;
		return { part, name: nameIn(name, part, place), bearing: turn(bearing + declination), altitude, place };
	});
}

/** Whether a table's points say what they belong to. */
export const saysParts = (text: string): boolean =>
	/^[^#\n]*[,;\t]\s*(?:skyline|opening|obstruction|window)\b/im.test(text);

export interface TracedPhoto {
	readonly attitude: Attitude;
	readonly marks: readonly { readonly name: string; readonly bearing: number | undefined }[];
	readonly points: readonly TracedPoint[];
	/** The largest ± of a traced point, degrees. */
	readonly plusMinus: number;
}

/** Places in a photo: marks with their directions, and what is traced. */
export function readPhotoPoints(path: string, text: string, photo: Photo, declination: number): TracedPhoto {
	const rows = [...rowsOf(path, text)];
	if (rows.length > MOST_ROWS) throw new CannotRun(told(words.many({ path, count: rows.length, most: MOST_ROWS })));
	const marks: (PhotoMark & { readonly name: string })[] = [];
	const traced: { part: TracedPart; name: string; x: number; y: number; place: string }[] = [];
	for (const { cells, place } of rows) {
		if (cells.length < 3)
			throw new CannotRun(told(words.values({ place, wanted: words.photoRow(), count: cells.length })));
		const [x, y] = [numberIn(cells[0], "x", place), numberIn(cells[1], "y", place)];
		const what = partIn(cells[2] ?? "", place, ["mark", "horizon", ...TRACED_PARTS]);
		if (what === "mark") {
			const bearing = turn(numberIn(cells[4], "the mark's bearing", place) + declination);
			const altitude = numberIn(cells[5], "the mark's altitude", place);
			if (Math.abs(altitude) > 90) throw new CannotRun(told(words.altitude({ place, altitude: `${altitude}°` })));
			marks.push({ x, y, bearing, altitude, name: cells[3] || `${marks.length + 1}` });
		} else if (what === "horizon")
			marks.push({ x, y, bearing: undefined, altitude: 0, name: cells[3] || `${marks.length + 1}` });
		else traced.push({ part: what as TracedPart, name: nameIn(cells[3], what, place), x, y, place });
	}
	const attitude = solveAttitude(photo, marks);
	if ("code" in attitude) throw new CannotRun(told(problemText(path, attitude, photo)));
	let plusMinus = 0;
	const points = traced.map(({ part, name, x, y, place }): TracedPoint => {
		const seen = attitude.at(x, y);
		if (!seen) throw new CannotRun(told(words.noSky({ place })));
		if (seen.altitude < -30) throw new CannotRun(told(words.behind({ place })));
		plusMinus = Math.max(plusMinus, seen.plusMinus);
		return { part, name, bearing: seen.bearing, altitude: seen.altitude, place };
	});
	return { attitude, marks, points, plusMinus };
}

function problemText(path: string, problem: AttitudeProblem, { width, height, scale }: Photo): Phrase {
	switch (problem.code) {
		case "few":
			return words.few({
				path,
				found: problem.found,
				s: problem.found === 1 ? " is" : "s are",
				needed: problem.needed,
				because: scale === undefined && problem.needed > 2 ? words.focal() : "",
			});
		case "together":
			return words.together({ path });
		case "outside":
			return words.outside({ path, number: problem.index + 1, width, height });
		case "undetermined":
			return words.undetermined({ path });
	}
}

/** The site's keys, as they are printed for a plan, each with the same comment. */
export function keysText(path: string, points: readonly PartPoint[], comments: readonly string[]): string {
	if (points.length === 0) throw new CannotRun(told(words.none({ path })));
	const skyline = skylinePoints(points).map(pointText);
	if (skyline.length > MOST_POINTS)
		throw new CannotRun(told(words.many({ path, count: skyline.length, most: MOST_POINTS })));
	const outlines = outlinesFrom(path, points);
	const openings = outlines.openings.map(openingText);
	const obstructions = outlines.obstructions.map(obstructionText);
	return Object.entries({ skyline, openings, obstructions })
		.filter(([, items]) => items.length > 0)
		.map(([key, items], i) => measuredText(key, { items, comments: i === 0 ? comments : [] }))
		.join("");
}

/** Openings and obstructions of points. */
export function outlinesFrom(path: string, points: readonly PartPoint[]) {
	const outlines = outlinesOf(points);
	if (!("code" in outlines)) return outlines;
	throw new CannotRun(
		told(outlines.code === "loose" ? words.loose({ path, ...outlines }) : words.corners({ path, ...outlines })),
	);
}

/** The skyline's points sorted by bearing; of two at one bearing the higher hides. */
export function skylinePoints(points: readonly PartPoint[]): readonly SkyPoint[] {
	const highest = new Map<number, number>();
	for (const { part, bearing: exact, altitude } of points) {
		if (part !== "skyline") continue;
		const bearing = Math.round(exact * 100) / 100;
		highest.set(bearing, Math.max(altitude, highest.get(bearing) ?? Number.NEGATIVE_INFINITY));
	}
	return [...highest].sort(([a], [b]) => a - b);
}
