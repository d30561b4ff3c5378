/** A lens that was solved from stars, written into the plan's lens. */
import { DISTORTION_WITHIN } from "../cells/lens/keys.ts";
import type { EvaluatedLens } from "../cells/lens/lens.ts";
import type { LensMap } from "../frames/lens-map.ts";
import { stillReads } from "../plan/cell-edits.ts";
import { setBehind } from "../plan/key-behind.ts";
import { cellsOf, type Plan } from "../plan/plan.ts";
import type { TextEdit } from "../text/edits.ts";
import { asYaml } from "../text/scalar.ts";
import type { Measured } from "./measure.ts";

/** What a plan can keep of a lens: its name there, millimetres, and the terms of its distortion. */
export interface SolvedLens {
	readonly lens: string;
	readonly focalLength: number;
	readonly k1: number;
	readonly k2: number;
}

/** The focal length by the stars, millimetres. */
export const solvedFocalLength = ({ focal, width, height }: LensMap, { camera }: EvaluatedLens): number =>
	(focal * Math.max(...camera.sensor)) / Math.max(width, height);

/** What the plan can keep of the lens; undefined where the stars were too few to solve all of it, or say what no lens does. */
export function solvedLens({
	map,
	lens,
	lensKnown,
}: Pick<Measured, "map" | "lens" | "lensKnown">): SolvedLens | undefined {
	if (!map || !lensKnown) return undefined;
	const { k1, k2 } = DISTORTION_WITHIN;
	if (map.k1 < k1.min || map.k1 > k1.max || map.k2 < k2.min || map.k2 > k2.max) return undefined;
	return { lens: lens.name, focalLength: solvedFocalLength(map, lens), k1: map.k1, k2: map.k2 };
}

const rounded = (value: number, places: number): string => String(Number(value.toFixed(places)));

/** Key and value, each as a lens has it. */
const keysOf = ({ focalLength, k1, k2 }: SolvedLens) =>
	[
		["focal-length", `${rounded(focalLength, 2)} mm`],
		["distortion", `{ k1: ${rounded(k1, 4)}, k2: ${rounded(k2, 4)} }`],
	] as const;

/** `focal-length: 24.13 mm` and `distortion: { … }`, as lines. */
export const lensKeysText = (solved: SolvedLens): string =>
	keysOf(solved)
		.map(([key, value]) => `${key}: ${value}`)
		.join(", ");

/** Puts them into the plan's lens of that name; none where this file has no such lens, or the plan would not be read with them. */
export function lensEdits(plan: Plan, solved: SolvedLens): readonly TextEdit[] {
	const cell = cellsOf(plan, "lens").find(({ read }) => (read.content?.name ?? "lens") === solved.lens);
	if (!cell) return [];
	const edits = keysOf(solved).flatMap(([key, value]) => setBehind(cell, "", key, asYaml(value), "focal-length") ?? []);
	return stillReads(plan, edits) ? edits : [];
}
