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

/** About a mark. */
export const aroundMark = (x: number, y: number, by: number): Box => ({
	left: x - by,
	right: x + by,
	top: y - by,
	bottom: y + by,
});

const shared = (a: Box, b: Box): number =>
	Math.max(0, Math.min(a.right, b.right) - Math.max(a.left, b.left)) *
	Math.max(0, Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top));

const areaOf = ({ left, right, top, bottom }: Box): number => (right - left) * (bottom - top);

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
			const cut = cuts.map((windows) => areaOf(box) - Math.max(...windows.map((window) => shared(box, window))));
			const loss = [...cut, ...covered.map((one) => shared(box, one))].reduce((sum, one) => sum + one, 0);
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
