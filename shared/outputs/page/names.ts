/** Where names are written beside their marks in a picture, so that none covers another, nor a mark, nor is cut at an edge. */

/** A text's baseline, and which end of it is there. */
export interface NamePlace {
	readonly x: number;
	readonly y: number;
	readonly anchor: "start" | "middle" | "end";
}

export interface Box {
	readonly left: number;
	readonly right: number;
	readonly top: number;
	readonly bottom: number;
}

export interface Name {
	readonly text: string;
	/** Where it may be, the best first. */
	readonly places: readonly NamePlace[];
	/** Left out where there is no room for it: a mark on a scale, of which others are left. */
	readonly canGo?: boolean;
}

/** Of a letter on average and of a line, in text heights: wide sans serif. */
const LETTER = 0.6;
const ASCENT = 0.8;
const DESCENT = 0.2;

/** What a text covers. */
export function boxOf(text: string, { x, y, anchor }: NamePlace, size: number): Box {
	const wide = text.length * LETTER * size;
	const left = anchor === "start" ? x : anchor === "end" ? x - wide : x - wide / 2;
	return { left, right: left + wide, top: y - ASCENT * size, bottom: y + DESCENT * size };
}

/** Text of the panorama is this high where it is cut in four, and less where there is more room. */
export const NAME_SIZE = 16.2;

/** What is cut: a picture with its width and height. */
interface Wide {
	readonly frame: { readonly width: number };
	readonly height: number;
}

/** The picture as one part. */
export const wholeOf = ({ frame: { width }, height }: Wide): Box => ({ left: 0, right: width, top: 0, bottom: height });

/** The ways in which it is cut, with what is over its right end at its left one too. */
export const cutsOf = (view: Wide): readonly (readonly Box[])[] => [1, 2, 4].map((parts) => cutIn(view, parts));

/** It as one part, or cut in some. */
export const cutIn = (view: Wide, parts: number): readonly Box[] =>
	parts === 1
		? [wholeOf(view)]
		: windowsOf(view, parts).flatMap((part) =>
				part.right > view.frame.width
					? [part, { ...part, left: part.left - view.frame.width, right: part.right - view.frame.width }]
					: [part],
			);

/** Where it is cut in `parts`: the first has what the picture has in its middle. */
export function windowsOf({ frame: { width }, height }: Wide, parts: number): readonly Box[] {
	const part = width / parts;
	return Array.from({ length: parts }, (_, i) => {
		const left = (width - part) / 2 + i * part;
		return { left: left - STRIP_MARGIN, right: left + part + STRIP_MARGIN, top: 0, bottom: height };
	});
}

/** What a part has on either side of the next ones, so that no bearing is cut in two. */
const STRIP_MARGIN = 30;

/**
 * Where a name is written that goes with its mark: where it is put beside it, else on its other side or over it where it is cut less.
 * `place`: from the mark; `windows`: the parts that are seen.
 */
export function keptWhole(
	text: string,
	[x, y]: readonly [x: number, y: number],
	place: NamePlace,
	windows: readonly Box[],
): NamePlace {
	const beside = Math.max(8, Math.abs(place.x));
	const others: readonly NamePlace[] = [
		{ ...place, x: beside, anchor: "start" },
		{ ...place, x: -beside, anchor: "end" },
		// A long one, over it.
		{ x: 0, y: Math.abs(place.y) < 8 ? -8 : place.y, anchor: "middle" },
	];
	const cutOf = (one: NamePlace): number =>
		lossIn(boxOf(text, { ...one, x: x + one.x, y: y + one.y }, NAME_SIZE), windows);
	return others.reduce((best, one) => (cutOf(one) < cutOf(best) - 1e-6 ? one : best), place);
}

/** How much of a box no part shows together. */
const lossIn = (box: Box, windows: readonly Box[]): number =>
	areaOf(box) - Math.max(...windows.map((window) => sharedArea(box, window)));

/** About a mark. */
export const aroundMark = (x: number, y: number, by: number): Box => ({
	left: x - by,
	right: x + by,
	top: y - by,
	bottom: y + by,
});

/** How much two boxes have in common. */
export const sharedArea = (a: Box, b: Box): number =>
	Math.max(0, Math.min(a.right, b.right) - Math.max(a.left, b.left)) *
	Math.max(0, Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top));

/** How much a box covers. */
export const areaOf = ({ left, right, top, bottom }: Box): number => (right - left) * (bottom - top);

/** What is cut off counts as so much that is covered. */
const CUT = 4;

/**
 * A place for each, those before first; where nothing is free the one with the least covered. `taken`: what is there
 * already. `cuts`: the ways in which the picture is cut, each with its parts, one of which shows a name whole.
 */
export function placedNames(
	names: readonly Name[],
	taken: readonly Box[],
	cuts: readonly (readonly Box[])[],
	size: number,
): readonly (NamePlace | undefined)[] {
	const covered = [...taken];
	return names.map(({ text, places, canGo }) => {
		let best: { readonly place: NamePlace; readonly box: Box; readonly loss: number } | undefined;
		for (const place of places) {
			const box = boxOf(text, place, size);
			// A name that is cut says less than one with a dot in it.
			const cut = cuts.map((windows) => CUT * lossIn(box, windows));
			const loss = [...cut, ...covered.map((one) => sharedArea(box, one))].reduce((sum, one) => sum + one, 0);
			if (best === undefined || loss < best.loss) best = { place, box, loss };
			if (loss === 0) break;
		}
		if (!best || (canGo && best.loss > 0)) return undefined;
		covered.push(best.box);
		return best.place;
	});
}

/** The eight places about a mark, the ones said first. */
export function placesAround(
	x: number,
	y: number,
	by: number,
	first: readonly (keyof typeof AROUND)[],
): readonly NamePlace[] {
	const order = [...first, ...(Object.keys(AROUND) as (keyof typeof AROUND)[]).filter((one) => !first.includes(one))];
	return order.map((side) => {
		const [across, down, anchor] = AROUND[side];
		return { x: x + across * by, y: y + (down === 0 ? 4 : down < 0 ? -by + 2 : by + 10), anchor };
	});
}

const AROUND = {
	right: [1, 0, "start"],
	left: [-1, 0, "end"],
	above: [0, -1, "middle"],
	below: [0, 1, "middle"],
	"above right": [0.8, -1, "start"],
	"above left": [-0.8, -1, "end"],
	"below right": [0.8, 1, "start"],
	"below left": [-0.8, 1, "end"],
} as const;
