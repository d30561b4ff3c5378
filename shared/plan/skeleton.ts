/** What a cell is begun with: the keys it needs, with gaps for what only its writer knows. */
import { CELL_KIND_NAMES, CELL_KINDS, type CellKindName } from "../cells/kinds.ts";
import { SETTINGS_FILE } from "../cells/settings/keys.ts";
import { isList } from "../notation/list.ts";
import { type Field, type Fields, isMapping } from "../notation/mapping.ts";
import type { Notation } from "../notation/notation.ts";
import { typedText } from "../text/scalar.ts";
import { GAP, indented, joined, type Template, template } from "../text/template.ts";
import { isLibrary, type Plan } from "./plan.ts";

/** Keys that are not required but that nearly every plan has. */
const USUAL: Readonly<Partial<Record<CellKindName, readonly string[]>>> = {
	lens: ["f-number", "pixels"],
	tracker: ["head"],
	log: ["at", "frame", "star", "drift"],
};

/** Cells without which nothing is planned, and what nearly every plan aligns with. */
const BEGUN = CELL_KIND_NAMES.filter((kind) => CELL_KINDS[kind].required || kind === "tracker");

/**
 * The kinds of which a plan may have another cell, and whether it lacks the one it needs. A library needs none, and may
 * have several of whatever is picked by its name.
 */
export function kindsToAdd(
	plan: Pick<Plan, "cells" | "path">,
): readonly { readonly kind: CellKindName; readonly missing: boolean }[] {
	const { cells, path } = plan;
	const library = isLibrary(plan);
	const present = new Set(cells.map(({ read }) => read.kind));
	const ofGroup = cells.some(({ read }) => read.kind === "plan" && read.content?.kind === "group");
	return CELL_KIND_NAMES.filter(
		(kind) =>
			(CELL_KINDS[kind].many || !present.has(kind) || (library && isPickedByName(kind))) &&
			(kind !== "settings" || path === SETTINGS_FILE) &&
			(kind !== "group" || ofGroup),
	).map((kind) => ({
		kind,
		missing: CELL_KINDS[kind].required && !present.has(kind) && !library,
	}));
}

/** Whether others take a cell of a kind by its name. */
export const isPickedByName = (kind: CellKindName): boolean => CELL_KINDS[kind].shape.inside?.("name") !== undefined;

/** A cell to fill in. */
export function skeletonOf(kind: CellKindName, known: Readonly<Record<string, string>> = {}): Template {
	const { shape } = CELL_KINDS[kind];
	if (shape.type === "text") return template`${kind}: |\n  ${GAP}`;
	const inner = isList(shape) ? itemTemplate(shape.item, USUAL[kind]) : keysTemplate(shape, USUAL[kind], known);
	return [`${kind}:\n  `, ...indented(inner, "  ")];
}

/** All cells of a plan to fill in, in their order; `known`: values that need not be asked for. */
export const wholePlan = (known: Readonly<Record<string, string>> = {}): Template => [
	...joined(
		BEGUN.map((kind) => skeletonOf(kind, known)),
		"\n---\n",
	),
	"\n",
];

/** An entry of a list, behind its dash. */
export const itemTemplate = (item: Notation, usual?: readonly string[]): Template => [
	"- ",
	...indented(keysTemplate(item, usual), "  "),
];

/** A key with a gap for its value, or gaps for the keys it needs. */
export const keyTemplate = (key: string, { shape }: Field): Template => [`${key}: `, ...valueTemplate(shape)];

function valueTemplate(shape: Notation): Template {
	const yaml = shape.sketch?.().yaml;
	return yaml === undefined ? [GAP] : typeof yaml === "string" ? [yaml] : yaml;
}

function keysTemplate(
	shape: Notation,
	usual: readonly string[] = [],
	known: Readonly<Record<string, string>> = {},
): Template {
	const fields: Fields = isMapping(shape) ? shape.fields : {};
	const begun = Object.entries(fields).filter(([key, { required }]) => required || usual.includes(key));
	return joined(
		begun.map(([key, field]) => {
			const value = known[key];
			return value === undefined ? keyTemplate(key, field) : [`${key}: ${typedText(value)}`];
		}),
		"\n",
	);
}
