/** A lens that was solved from stars, written into the plan's lens. */
import { stillReads } from "../plan/cell-edits.ts";
import { setBehind } from "../plan/key-behind.ts";
import { cellsOf, type Plan } from "../plan/plan.ts";
import type { TextEdit } from "../text/edits.ts";
import { asYaml } from "../text/scalar.ts";

/** What a plan can keep of a lens: its name there, millimetres, and the terms of its distortion. */
export interface SolvedLens {
	readonly lens: string;
	readonly focalLength: number;
	readonly k1: number;
	readonly k2: number;
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
