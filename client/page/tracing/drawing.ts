/** What is marked and traced, and how a hand changes it. Places are pixels of the photo. */
import { fewerPoints } from "../../../shared/photo/fewer-points.ts";
import type { PhotoPoint, TracedLine, TracedPart, TraceMark } from "../../../shared/protocol/tracing.ts";

export interface Drawing {
	readonly marks: readonly TraceMark[];
	readonly lines: readonly TracedLine[];
	/** The line that the next point belongs to, by its number. */
	readonly open: number | undefined;
}

export const EMPTY: Drawing = { marks: [], lines: [], open: undefined };

/** What new lines are called. */
export interface Names {
	readonly opening: string;
	readonly obstruction: string;
}

/** Something that can be dragged. */
export type Grip =
	| { readonly kind: "mark"; readonly index: number }
	| { readonly kind: "point"; readonly line: number; readonly index: number };

export const addMark = (drawing: Drawing, at: PhotoPoint): Drawing => ({
	...drawing,
	marks: [...drawing.marks, { at, what: "" }],
});

export const nameMark = (drawing: Drawing, index: number, what: string): Drawing => ({
	...drawing,
	marks: replaced(drawing.marks, index, (mark) => ({ ...mark, what })),
});

export const removeMark = (drawing: Drawing, index: number): Drawing => ({
	...drawing,
	marks: drawing.marks.filter((_, i) => i !== index),
});

/** Points behind those of the open line, or of a new one where none of that part is open. */
export function addPoints(drawing: Drawing, part: TracedPart, points: readonly PhotoPoint[], names: Names): Drawing {
	const { lines, open } = drawing;
	if (open !== undefined && lines[open]?.part === part)
		return { ...drawing, lines: replaced(lines, open, (line) => ({ ...line, points: [...line.points, ...points] })) };
	return { ...drawing, lines: [...lines, { part, name: nameFor(lines, part, names), points }], open: lines.length };
}

/** What was drawn in one go, its trembling taken out: what is less than `tremble` pixels. */
export const addStroke = (
	drawing: Drawing,
	part: TracedPart,
	stroke: readonly PhotoPoint[],
	names: Names,
	tremble: number,
): Drawing => addPoints(drawing, part, fewerPoints(stroke, tremble), names);

/** A window goes with the obstruction that was traced last; others get a name that none has. */
function nameFor(lines: readonly TracedLine[], part: TracedPart, names: Names): string {
	if (part === "skyline") return "";
	if (part === "window") return lines.findLast((line) => line.part === "obstruction")?.name ?? "";
	const taken = new Set(lines.filter((line) => line.part === part).map(({ name }) => name));
	for (let number = 1; ; number++) {
		const name = number === 1 ? names[part] : `${names[part]} ${number}`;
		if (!taken.has(name)) return name;
	}
}

export const endLine = (drawing: Drawing): Drawing =>
	drawing.open === undefined ? drawing : { ...drawing, open: undefined };

/** The last point of the open line, or of the last one; a line without points goes. */
export function removeLast(drawing: Drawing): Drawing {
	const index = drawing.open ?? drawing.lines.length - 1;
	const line = drawing.lines[index];
	if (!line) return drawing;
	if (line.points.length <= 1) return removeLine(drawing, index);
	return {
		...drawing,
		open: index,
		lines: replaced(drawing.lines, index, (one) => ({ ...one, points: one.points.slice(0, -1) })),
	};
}

export const removeLine = ({ marks, lines }: Drawing, index: number): Drawing => ({
	marks,
	lines: lines.filter((_, i) => i !== index),
	open: undefined,
});

/** A window is called what its obstruction is. */
export function nameLine(drawing: Drawing, index: number, name: string): Drawing {
	const was = drawing.lines[index];
	if (!was) return drawing;
	return {
		...drawing,
		lines: drawing.lines.map((line, i) =>
			i === index || (was.part === "obstruction" && line.part === "window" && line.name === was.name)
				? { ...line, name }
				: line,
		),
	};
}

export const moved = (drawing: Drawing, grip: Grip, at: PhotoPoint): Drawing =>
	grip.kind === "mark"
		? { ...drawing, marks: replaced(drawing.marks, grip.index, (mark) => ({ ...mark, at })) }
		: {
				...drawing,
				lines: replaced(drawing.lines, grip.line, (line) => ({
					...line,
					points: replaced(line.points, grip.index, () => at),
				})),
			};

/** What is nearest to a place, no farther than `reach` pixels. */
export function gripAt({ marks, lines }: Drawing, [x, y]: PhotoPoint, reach: number): Grip | undefined {
	let [best, least]: [Grip | undefined, number] = [undefined, reach];
	const look = (grip: Grip, [px, py]: PhotoPoint): void => {
		const off = Math.hypot(px - x, py - y);
		if (off <= least) [best, least] = [grip, off];
	};
	for (const [line, { points }] of lines.entries())
		for (const [index, point] of points.entries()) look({ kind: "point", line, index }, point);
	for (const [index, { at }] of marks.entries()) look({ kind: "mark", index }, at);
	return best;
}

/** Whether a click on it ends the open line: its last point, or its first where it closes. */
export function endsLine({ lines, open }: Drawing, grip: Grip): boolean {
	const line = open === undefined ? undefined : lines[open];
	if (!line || grip.kind !== "point" || grip.line !== open) return false;
	const isLast = grip.index === line.points.length - 1;
	return line.points.length > 1 && (isLast || (grip.index === 0 && line.part !== "skyline"));
}

const replaced = <T>(list: readonly T[], index: number, change: (one: T) => T): readonly T[] =>
	list.map((one, i) => (i === index ? change(one) : one));
