/** Names of sites, lenses, trackers, landmarks, openings and targets: where they are given and where they are used. */

import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import type { NameSpace } from "../../shared/notation/notation.ts";
import { isReference } from "../../shared/notation/reference.ts";
import { modelAt } from "../../shared/plan/field-at.ts";
import { type Pick as PickAt, picked } from "../../shared/plan/pick.ts";
import { type Cell, inText } from "../../shared/plan/plan.ts";

export interface NamePlace {
	readonly space: NameSpace | "target" | "site" | "tracker";
	readonly name: string;
	readonly role: "definition" | "reference";
	readonly cell: Cell;
	/** Offsets of the value in the text, quotes included; of its first line. */
	readonly from: number;
	readonly to: number;
	/** Where all of it ends. */
	readonly end: number;
	/** Whether it is in a flow collection. */
	readonly flow: boolean;
}

/** Every place of the plan where a name is given or used. */
export function namePlaces({ plan }: Pick<Evaluation, "plan">): readonly NamePlace[] {
	const places: NamePlace[] = [];
	// What an alias names again is given, or used, in one place.
	const seen = new Set<number>();
	for (const cell of plan.cells) {
		for (const { place, found } of picked(cell, namedAt)) {
			const { from, to } = inText(cell, place.value);
			if (seen.has(from)) continue;
			seen.add(from);
			places.push({ ...found, cell, from, to, end: inText(cell, place.whole ?? place.value).to, flow: place.flow });
		}
	}
	return places;
}

const namedAt: PickAt<Omit<NamePlace, "cell" | "from" | "to" | "end" | "flow">> = (kind, path, { source, value }) => {
	if (source === undefined || value.to <= value.from) return undefined;
	const name = source.trim();
	const shape = modelAt(kind, path)?.shape;
	if (shape && isReference(shape)) return { space: shape.to, name, role: "reference" };
	const space = definitionSpace(kind, path);
	return space && { space, name, role: "definition" };
};

function definitionSpace(kind: string, path: string): NamePlace["space"] | undefined {
	if ((kind === "lens" || kind === "site" || kind === "tracker") && path === "name") return kind;
	if (kind === "site" && /^landmarks\.\d+\.name$/.test(path)) return "landmark";
	if (kind === "site" && /^(?:openings|obstructions)\.\d+\.name$/.test(path)) return "opening";
	if (kind === "targets" && /^\d+\.name$/.test(path)) return "target";
	return undefined;
}

/** The name at an offset, and all its places. */
export function nameAt(
	evaluation: Pick<Evaluation, "plan">,
	offset: number,
): { readonly here: NamePlace; readonly all: readonly NamePlace[] } | undefined {
	const places = namePlaces(evaluation);
	const here = places.find(({ from, to }) => from <= offset && offset <= to);
	return here && { here, all: places.filter(({ space, name }) => space === here.space && name === here.name) };
}
