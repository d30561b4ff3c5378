/** A cell of a kind to start from: its required keys, and those most plans have, filled with examples. */
import { CELL_KIND_NAMES, CELL_KINDS, type CellKindName } from "../cells/kinds.ts";
import { FIRST_METHOD } from "../methods/methods.ts";
import { isList } from "../notation/list.ts";
import { isMapping } from "../notation/mapping.ts";
import type { Notation } from "../notation/notation.ts";
import type { Plan } from "./plan.ts";

/** Keys that are not required but that nearly every plan has. */
const USUAL: Readonly<Partial<Record<CellKindName, readonly string[]>>> = {
	site: ["elevation"],
	night: ["arrive", "leave"],
	lens: ["f-number", "pixels"],
	tracker: ["head", "tilt-scale", "level", "pan-scale"],
	method: ["at", ...(FIRST_METHOD.usual ?? [])],
	targets: ["from", "frames", "gap", "trail"],
	log: ["at", "frame", "star", "drift"],
};

/** The kinds of which a plan may have another cell, and whether it lacks the one it needs. */
export function kindsToAdd({
	cells,
}: Pick<Plan, "cells">): readonly { readonly kind: CellKindName; readonly missing: boolean }[] {
	const present = new Set(cells.map(({ read }) => read.kind));
	return CELL_KIND_NAMES.filter((kind) => CELL_KINDS[kind].many || !present.has(kind)).map((kind) => ({
		kind,
		missing: CELL_KINDS[kind].required && !present.has(kind),
	}));
}

/** The text of a cell to start from; it reads without a problem of structure. */
export function skeletonOf(kind: CellKindName): string {
	const { shape } = CELL_KINDS[kind];
	if (shape.type === "text") return `${kind}: |\n  Bring the low tripod.`;
	return `${kind}:\n${lines(kind, shape, "  ")}`;
}

function lines(kind: CellKindName, shape: Notation, indent: string): string {
	if (isList(shape) && isMapping(shape.item)) {
		return lines(kind, shape.item, `${indent}  `).replace(/^ {4}/, "  - ");
	}
	if (!isMapping(shape)) return "";
	return Object.entries(shape.fields)
		.filter(([key, field]) => field.required || USUAL[kind]?.includes(key))
		.map(([key, field]) => `${indent}${key}: ${field.example}`)
		.join("\n");
}
