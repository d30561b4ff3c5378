/** Names of lenses, landmarks, openings and targets: where they are given and where they are used. */

import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import type { NameSpace } from "../../shared/notation/notation.ts";
import { isReference } from "../../shared/notation/reference.ts";
import { modelAt } from "../../shared/plan/field-at.ts";
import { type Cell, inText } from "../../shared/plan/plan.ts";

export interface NamePlace {
	readonly space: NameSpace | "target";
	readonly name: string;
	readonly role: "definition" | "reference";
	readonly cell: Cell;
	/** Offsets of the value in the text, quotes included; of its first line. */
	readonly from: number;
	readonly to: number;
	/** Where all of it ends. */
	readonly end: number;
	/** Whether it stands in a flow collection. */
	readonly flow: boolean;
}

/** Every place of the plan where a name is given or used. */
export function namePlaces({ plan }: Evaluation): readonly NamePlace[] {
	const places: NamePlace[] = [];
	// What an alias names again is given, or used, in one place.
	const seen = new Set<number>();
	for (const cell of plan.cells) {
		const { kind } = cell.read;
		if (!kind) continue;
		for (const [path, place] of cell.read.places) {
			if (place.source === undefined || place.value.to <= place.value.from) continue;
			const shape = modelAt(kind, path)?.shape;
			const space = shape && isReference(shape) ? shape.to : definitionSpace(kind, path);
			const span = inText(cell, place.whole ?? place.value);
			if (!space || seen.has(span.from)) continue;
			seen.add(span.from);
			places.push({
				space,
				name: place.source.trim(),
				role: shape && isReference(shape) ? "reference" : "definition",
				cell,
				...inText(cell, place.value),
				end: span.to,
				flow: place.flow,
			});
		}
	}
	return places;
}

function definitionSpace(kind: string, path: string): NamePlace["space"] | undefined {
	if (kind === "lens" && path === "name") return "lens";
	if (kind === "site" && /^landmarks\.\d+\.name$/.test(path)) return "landmark";
	if (kind === "site" && /^openings\.\d+\.name$/.test(path)) return "opening";
	if (kind === "targets" && /^\d+\.name$/.test(path)) return "target";
	return undefined;
}

/** The name at an offset, and all its places. */
export function nameAt(
	evaluation: Evaluation,
	offset: number,
): { readonly here: NamePlace; readonly all: readonly NamePlace[] } | undefined {
	const places = namePlaces(evaluation);
	const here = places.find(({ from, to }) => from <= offset && offset <= to);
	return here && { here, all: places.filter(({ space, name }) => space === here.space && name === here.name) };
}
