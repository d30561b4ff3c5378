/**
 * Every kind of cell with its keys: the model of a plan. The reader, the JSON Schema, completion, hovers and the
 * reference page are made from it.
 */
import { type Decoded, extended, list, markdown, type Shape } from "../notation/shape.ts";
import { lens } from "./lens/keys.ts";
import { logEntry } from "./log/keys.ts";
import { method } from "./method/keys.ts";
import { night } from "./night/keys.ts";
import { plan } from "./plan/keys.ts";
import { SETTINGS_FILE, settings } from "./settings/keys.ts";
import { site } from "./site/keys.ts";
import { TARGETS_OF_ANOTHER, target } from "./targets/keys.ts";
import { tracker } from "./tracker/keys.ts";

/** A kind of cell: its shape, whether a plan needs one, and whether there may be several. */
export interface CellKind<T = unknown> {
	readonly shape: Shape<T>;
	readonly doc: string;
	readonly required: boolean;
	readonly many: boolean;
}
const kind = <T>(shape: Shape<T>, doc: string, { required = false, many = false } = {}): CellKind<T> => ({
	shape,
	doc,
	required,
	many,
});

/** Every kind of cell. A new kind is a line here. */
export const CELL_KINDS = {
	plan: kind(plan, "The title of the plan and the format it is written in.", { required: true }),
	site: kind(site, "The site: where it is, what it hides and what it shows.", { required: true }),
	night: kind(night, "The evening's date and the clock times of arriving and leaving.", { required: true }),
	lens: kind(lens, "A lens on a camera. Several lenses need names.", { required: true, many: true }),
	tracker: kind(tracker, "The tracker, its head, and how well they are set."),
	method: kind(
		method,
		"A method of polar alignment: setting the tracker's axis on the celestial pole. The first is the plan, the others are fallbacks, the best first.",
		{
			required: true,
			many: true,
		},
	),
	targets: kind(
		extended(target, TARGETS_OF_ANOTHER, { min: 1, max: 500 }),
		"What is photographed, when, with which lens and for how long.",
		{ required: true },
	),
	note: kind(markdown(), "Markdown for those who go: what to bring, where to walk, what to watch for.", { many: true }),
	log: kind(
		list(logEntry, { max: 1000 }),
		"What happened: drifts measured on frames, from which the axis error follows.",
	),
	settings: kind(settings, `What holds for all plans of a folder: read from \`${SETTINGS_FILE}\` at its root alone.`),
} as const satisfies Record<string, CellKind>;

export type CellKindName = keyof typeof CELL_KINDS;
/** Their names, in the order in which a plan is written. */
export const CELL_KIND_NAMES = Object.keys(CELL_KINDS) as readonly CellKindName[];
export type CellContent<K extends CellKindName> = Decoded<(typeof CELL_KINDS)[K]["shape"]>;
