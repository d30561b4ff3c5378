/** What was measured of a site as edits of its keys, in place of what they replace, with comments on where it is from. */
import { insertBefore, setKey } from "../shared/plan/cell-edits.ts";
import {
	addMeasured,
	leaveAbove,
	type OldComments,
	replaceMeasured,
	sayAbove,
	setMeasured,
} from "../shared/plan/measured.ts";
import type { Cell, CellOf } from "../shared/plan/plan.ts";
import type { SkyPoint } from "../shared/sky/outline.ts";
import { skylineOf } from "../shared/sky/skyline.ts";
import type { TextEdit } from "../shared/text/edits.ts";
import { asBefore, isSource } from "./site-sources.ts";
import {
	type NamedOutline,
	obstructionText,
	openingText,
	pointsText,
	pointText,
	type TracedObstruction,
} from "./tracing/site-keys.ts";

/** All of a value is new: what was said of the old one is not true of it. */
export const ALL_NEW: OldComments = { within: () => undefined, isOver: isSource };
/** A part of the old value is still there: what was said of it stays, unless it is said again. */
const partlyNew = (comments: readonly string[]): OldComments => ({
	within: asBefore,
	isOver: (old) => isSource(old) && comments.some((one) => sourceIn(one) === sourceIn(old)),
});

/** What a source's comment begins with: the file or the photo that it names, without the numbers behind. */
const sourceIn = (comment: string): string => comment.split(/\): |; /)[0] ?? "";

export interface SiteParts {
	readonly skyline?:
		| { readonly points: readonly SkyPoint[]; readonly comments: readonly string[]; readonly whole: boolean }
		| undefined;
	readonly openings: readonly NamedOutline[];
	readonly obstructions: readonly TracedObstruction[];
	/** Where an outline is from. */
	readonly said: (name: string) => string;
}

/** The site as it is evaluated: with what it takes from elsewhere. */
export interface SiteThere {
	readonly openings?: readonly { readonly name?: string | undefined }[] | undefined;
	readonly obstructions?: readonly { readonly name?: string | undefined }[] | undefined;
}

/** Edits for what was measured; `taken`: a list that is another file's, to which nothing can be added here. */
export function siteEdits(
	cell: Cell,
	there: SiteThere,
	{ skyline, openings, obstructions, said }: SiteParts,
): { readonly edits: readonly TextEdit[] } | { readonly taken: string } {
	const edits: TextEdit[] = [];
	if (skyline) {
		const items = skyline.points.map(pointText);
		edits.push(
			...setMeasured(
				cell,
				"skyline",
				{ items, comments: skyline.comments },
				skyline.whole ? ALL_NEW : partlyNew(skyline.comments),
			),
		);
	}
	for (const { key, entries, text } of [
		{ key: "openings", entries: openings as readonly TracedObstruction[], text: openingText },
		{ key: "obstructions", entries: obstructions, text: obstructionText },
	] as const) {
		if (entries.length === 0) continue;
		const old = there[key] ?? [];
		if (old.length > 0 && !cell.read.places.has(key)) return { taken: key };
		const isThere = ({ name }: NamedOutline): boolean => old.some((one) => one.name === name);
		const [added, changed] = [entries.filter((entry) => !isThere(entry)), entries.filter(isThere)];
		const isOver = (comment: string): boolean => changed.some(({ name }) => isSourceOf(comment, name ?? ""));
		edits.push(
			...sayAbove(
				cell,
				key,
				changed.map(({ name }) => said(name)),
				isOver,
			),
			...changed.flatMap(({ name }) => leaveAbove(cell, `${key}.${old.findIndex((one) => one.name === name)}`, isOver)),
		);
		for (const entry of changed)
			edits.push(...outlineEdits(cell, `${key}.${old.findIndex(({ name }) => name === entry.name)}`, entry));
		if (added.length > 0)
			edits.push(...addMeasured(cell, key, { items: added.map(text), comments: added.map(({ name }) => said(name)) }));
	}
	return { edits };
}

/** Whether a comment says where something of that name is from. */
function isSourceOf(comment: string, name: string): boolean {
	const head = `${name}: `;
	return comment.startsWith(head) && (isSource(comment) || isSource(comment.slice(head.length)));
}

/** A new outline, and window, for an entry that is there. */
function outlineEdits(cell: Cell, path: string, { outline, window }: TracedObstruction): readonly TextEdit[] {
	const edits = [
		replaceMeasured(cell, `${path}.outline`, pointsText(outline)),
		window &&
			(cell.read.places.has(`${path}.window`)
				? replaceMeasured(cell, `${path}.window`, pointsText(window))
				: setKey(cell, path, "window", { yaml: pointsText(window) })),
	];
	return edits.filter((edit) => edit !== undefined);
}

/** The elevation of a site that has none, whole metres; beside what the site takes from another file, where it does. */
export function elevationEdits(cell: Cell, elevation: number | undefined): readonly TextEdit[] {
	if (elevation === undefined || cell.read.places.has("elevation")) return [];
	const text = `${Math.round(elevation)} m`;
	const latitude = cell.read.places.get("latitude");
	const edit = latitude
		? insertBefore(cell, latitude, "elevation", text)
		: setKey(cell, "", "elevation", { yaml: text });
	return edit ? [edit] : [];
}

/** Two skylines differ nowhere by more than this, degrees: nothing is lost when one takes the other's place. */
const SAME_SKYLINE = 0.2;

/** What of a site's own skyline is lost when another takes its place whole: none where it is flat at 0°, or as good as the same. */
export function lostSkyline(
	cell: CellOf<"site">,
	points: readonly SkyPoint[],
): { readonly count: number; readonly altitude: number; readonly bearing: number } | undefined {
	const own = cell.read.places.has("skyline") ? cell.read.content?.skyline : [];
	const [first] = own ?? [];
	if (!own || !first || own.every(([, altitude]) => altitude === 0)) return undefined;
	const [was, is] = [skylineOf(own), skylineOf(points)];
	const isSame = [...own, ...points].every(
		([bearing]) => Math.abs(was.skylineAt(bearing) - is.skylineAt(bearing)) <= SAME_SKYLINE,
	);
	if (isSame) return undefined;
	const [bearing, altitude] = own.reduce((highest, one) => (one[1] > highest[1] ? one : highest), first);
	return { count: own.length, altitude, bearing };
}
