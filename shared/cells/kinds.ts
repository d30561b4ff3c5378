/**
 * Every kind of cell with its keys: the model of a plan. The reader, the JSON Schema, completion, hovers and the
 * reference page are made from it.
 */
import { type Decoded, extended, list, markdown, type Shape } from "../notation/shape.ts";
import { texts } from "../text/sentence.ts";
import { MOST_MEMBERS, member } from "./group/keys.ts";
import { lens } from "./lens/keys.ts";
import { logEntry } from "./log/keys.ts";
import { method } from "./method/keys.ts";
import { night } from "./night/keys.ts";
import { plan } from "./plan/keys.ts";
import { settings } from "./settings/keys.ts";
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

/** What each kind is for. */
const docs = texts("cell", {
	plan: "The title of the plan and the format it is written in.",
	site: "The site: where it is, what it hides and what it shows.",
	night: "The evening's date and the clock times of arriving and leaving.",
	lens: "A lens on a camera. Several lenses need names.",
	tracker: "The tracker, its head, and how well they are set.",
	method:
		"A method of polar alignment: setting the tracker's axis on the celestial pole. The first is the plan, the others are fallbacks, the best first.",
	targets: "What is photographed, when, with which lens and for how long.",
	note: "Markdown for those who go: what to bring, where to walk, what to watch for.",
	log: "What happened: drifts measured on frames, from which the axis error follows.",
	group: "The people who come, each with the plan of a kit. Only for a plan of `kind: group`.",
	settings: "What applies to all plans of a folder: read only from `lodebook.lode.yaml` at its root.",
});

/** Every kind of cell. A new kind is a line here. */
export const CELL_KINDS = {
	plan: kind(plan, docs.plan, { required: true }),
	site: kind(site, docs.site, { required: true }),
	night: kind(night, docs.night, { required: true }),
	lens: kind(lens, docs.lens, { required: true, many: true }),
	tracker: kind(tracker, docs.tracker),
	method: kind(method, docs.method, {
		required: true,
		many: true,
	}),
	targets: kind(extended(target, TARGETS_OF_ANOTHER, { min: 1, max: 500 }), docs.targets, { required: true }),
	note: kind(markdown(), docs.note, { many: true }),
	log: kind(list(logEntry, { max: 1000 }), docs.log),
	group: kind(list(member, { min: 1, max: MOST_MEMBERS }), docs.group),
	settings: kind(settings, docs.settings),
} as const satisfies Record<string, CellKind>;

export type CellKindName = keyof typeof CELL_KINDS;
/** Their names, in the order in which a plan is written. */
export const CELL_KIND_NAMES = Object.keys(CELL_KINDS) as readonly CellKindName[];
export type CellContent<K extends CellKindName> = Decoded<(typeof CELL_KINDS)[K]["shape"]>;
