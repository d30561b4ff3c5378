/**
 * Completion: kinds of cells with a filled-in skeleton, keys with the missing ones first, values by what fits there:
 * words, names, zones, guide stars ranked by how well they work tonight, bodies in view, clock times when things happen.
 */
import {
	type CompletionItem,
	CompletionItemKind,
	type CompletionList,
	InsertTextFormat,
	type TextEdit,
} from "vscode-languageserver";
import { CELL_KIND_NAMES, CELL_KINDS, type CellKindName } from "../../shared/cells/kinds.ts";
import { METHOD_KEYS } from "../../shared/cells/method/keys.ts";
import { clockOf } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { momentsOf } from "../../shared/evaluate/moments.ts";
import { searchFilling, suggestionsFor } from "../../shared/evaluate/suggestions.ts";
import { degrees } from "../../shared/notation/angle.ts";
import { bearingWithPoint } from "../../shared/notation/bearing.ts";
import { isEither } from "../../shared/notation/either.ts";
import { isList } from "../../shared/notation/list.ts";
import { type Field, isMapping } from "../../shared/notation/mapping.ts";
import type { CompletionContext, Named, NameSpace, Notation, Offer } from "../../shared/notation/notation.ts";
import { cellAt, modelAt } from "../../shared/plan/field-at.ts";
import type { Cell } from "../../shared/plan/plan.ts";
import { kindsToAdd, skeletonOf } from "../../shared/plan/skeleton.ts";
import { apparentDirection, BODY_NAMES, findBody } from "../../shared/sky/place.ts";
import { type CursorContext, cursorContext } from "../../shared/text/cursor.ts";
import { scalarText } from "../../shared/text/scalar.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";

export const completion: Feature = {
	capabilities: { completionProvider: { triggerCharacters: [" ", ":", "-", "{", "[", ",", '"', "\n"] } },
	listen(session) {
		session.connection.onCompletion(({ textDocument, position }) =>
			session.guarded("completion", textDocument.uri, (document, plan): CompletionList => {
				const found = completionsAt(document, plan, document.offsetAt(position));
				// The command that offers a value at once is VS Code's.
				const items = session.ownClient ? found : found.map(({ command, ...item }) => item);
				// A list that was cut is asked for again as one types on.
				return { items, isIncomplete: items.length >= MOST_NAMES };
			}),
		);
	},
};

/** How many names are offered at once, those that work and the brightest first. */
const MOST_NAMES = 250;

/** What is offered at the cursor. */
export function completionsAt(document: PlanText, plan: PlanDocument, offset: number): CompletionItem[] {
	const evaluation = plan.evaluation(document);
	const cell = cellAt(evaluation.plan.cells, offset);
	if (!cell) return [];
	const context = cursorContext(cell.text, offset - cell.start);
	if (!context) return [];
	const edit = editor(document, cell, context, offset);
	if (context.path.length === 0) return context.part === "key" ? kinds(cell, evaluation, edit) : [];
	const [kind, ...inner] = context.path as [CellKindName, ...string[]];
	if (!CELL_KIND_NAMES.includes(kind)) return [];
	const path = inner.join(".");
	const model = modelAt(kind, path);
	if (!model) return [];
	if (context.part === "key")
		return keys(cell, model.shape, path, context, edit, hasColon(cell.text, offset - cell.start));
	return values(
		model.shape,
		{ cell, evaluation, path, kind, typed: context.prefix.replace(/^["']/, "").toLowerCase() },
		// In the quotes that are typed, if any are.
		(value) => scalarText(value, { flow: context.flow, old: /^["']/.exec(context.prefix)?.[0] ?? "" }),
		edit,
	);
}

type Edit = (text: string) => TextEdit;

/** Replaces the word being typed, to its end: quotes and what is behind the cursor included. */
function editor(document: PlanText, cell: Cell, context: CursorContext, offset: number): Edit {
	const end = offset + restOf(cell.text, context, offset - cell.start).length;
	const range = { start: document.positionAt(cell.start + context.from), end: document.positionAt(end) };
	return (newText) => ({ range, newText });
}

/** What is behind the cursor of the word it is in: to its closing quote, or to what ends a plain one. */
function restOf(text: string, { flow, part, prefix }: CursorContext, offset: number): string {
	const found = (end: RegExp): string | undefined => {
		end.lastIndex = offset;
		return end.exec(text)?.[0];
	};
	const quoted =
		part === "key"
			? undefined
			: prefix.startsWith('"')
				? found(/(?:[^"\\\n\r]|\\[^\n\r])*"/y)
				: prefix.startsWith("'")
					? found(/(?:[^'\n\r]|'')*'/y)
					: undefined;
	if (quoted !== undefined) return quoted;
	// A hash begins a comment only behind white space.
	const end = part === "key" ? /[\w-]*/y : flow ? /(?:[^,}\]\n\r#]|(?<!\s)#)*/y : /(?:[^\n\r#]|(?<!\s)#)*/y;
	return found(end)?.trimEnd() ?? "";
}

function kinds(cell: Cell, { plan }: Evaluation, edit: Edit): CompletionItem[] {
	if (cell.read.kind) return [];
	return kindsToAdd(plan).map(({ kind, missing }, i) => ({
		label: kind,
		kind: CompletionItemKind.Module,
		detail: missing ? "required" : "",
		documentation: CELL_KINDS[kind].doc,
		sortText: `${missing ? 0 : 1}${String(i).padStart(2, "0")}`,
		filterText: kind,
		textEdit: edit(skeletonOf(kind)),
	}));
}

/** Whether the word at an offset is a key already: only its name is then written. */
const hasColon = (text: string, offset: number): boolean => /^[\w-]*\s*:/.test(text.slice(offset, offset + 80));

function keys(
	cell: Cell,
	shape: Notation,
	path: string,
	{ flow, indent }: CursorContext,
	edit: Edit,
	named: boolean,
): CompletionItem[] {
	const mapping = isEither(shape) ? shape.mappings : [shape];
	const fields = mapping.flatMap((one) => (isMapping(one) ? Object.entries(one.fields) : []));
	const prefix = path === "" ? "" : `${path}.`;
	const typed = (key: string): boolean => cell.read.places.has(`${prefix}${key}`);
	const method = cell.read.kind === "method" && path === "" ? cell.read.content?.kind : undefined;
	const belongs = (key: string): boolean => method === undefined || (METHOD_KEYS.get(key)?.includes(method) ?? true);
	const own = (key: string): boolean => method !== undefined && METHOD_KEYS.has(key);
	return fields
		.filter(([key]) => !typed(key) && belongs(key))
		.map(([key, field], i) => ({
			label: key,
			kind: CompletionItemKind.Property,
			detail: `${field.required ? "required, " : ""}${told(field.shape.describe())}`,
			documentation: `${field.doc}${field.otherwise === undefined ? "" : `\n\nWithout it: ${field.otherwise}.`}\n\nExample: ${field.example}`,
			sortText: `${field.required ? 0 : own(key) ? 1 : 2}${String(i).padStart(2, "0")}`,
			filterText: key,
			textEdit: edit(named ? key : keyText(key, field, flow, indent)),
			insertTextFormat: InsertTextFormat.PlainText,
			// Offer the value at once.
			command: { title: "Suggest", command: "editor.action.triggerSuggest" },
		}));
}

/** A key with what follows it: a space, or a new line with the indentation of what belongs under it. */
function keyText(key: string, { shape }: Field, flow: boolean, indent: number): string {
	if (flow) return `${key}: `;
	if (isMapping(shape)) return `${key}:\n${" ".repeat(indent + 2)}`;
	if (isList(shape) && isMapping(shape.item)) return `${key}:\n${" ".repeat(indent + 2)}- `;
	return `${key}: `;
}

interface Place {
	readonly cell: Cell;
	readonly evaluation: Evaluation;
	readonly path: string;
	readonly kind: CellKindName;
	/** What is typed of the value, in lower case. */
	readonly typed: string;
}

const OFFER_KINDS: Readonly<Record<Offer["kind"], CompletionItemKind>> = {
	value: CompletionItemKind.Value,
	word: CompletionItemKind.EnumMember,
	name: CompletionItemKind.Reference,
	sky: CompletionItemKind.Constant,
	moment: CompletionItemKind.Event,
	mapping: CompletionItemKind.Struct,
};

function values(shape: Notation, place: Place, write: (value: string) => string, edit: Edit): CompletionItem[] {
	return shape.complete(contextOf(place)).map(({ label, detail, kind, yaml, order, filter }, i) => {
		const text = yaml ?? write(label);
		return {
			label,
			detail: typeof detail === "string" ? detail : told(detail),
			kind: OFFER_KINDS[kind],
			filterText: filter ?? text,
			sortText: String(order ?? i).padStart(4, "0"),
			textEdit: edit(text),
		};
	});
}

const words = sentences("completion", {
	lens: "{focalLength} mm f/{fNumber}",
	bodyThen: "altitude {altitude}, bearing {bearing} half-way through your time on site",
});

/** What notations ask of the plan. */
function contextOf(place: Place): CompletionContext {
	const { evaluation, kind, path, typed } = place;
	return {
		example: modelAt(kind, path)?.field?.example,
		typed,
		most: MOST_NAMES,
		zoneThere: () => evaluation.site?.zoneThere,
		names: (space) => namesOf(space, evaluation),
		moments() {
			const { night } = evaluation;
			return night
				? momentsOf(evaluation).map(({ at, what }) => ({ name: clockOf(night.zone, at), detail: what }))
				: [];
		},
		ranked: () => rankedTonight(place),
		bodies: (known) => bodiesNamed(place, known),
	};
}

function namesOf(space: NameSpace, { plan, site, lenses, landmarks }: Evaluation): readonly Named[] {
	if (space === "lens") {
		return plan.cells.flatMap(({ read }) => {
			if (read.kind !== "lens" || !read.content?.name) return [];
			const { name } = read.content;
			const camera = lenses.find(({ value }) => value?.name === name)?.value?.camera;
			return { name, detail: camera ? words.lens({ focalLength: camera.focalLength, fNumber: camera.fNumber }) : "" };
		});
	}
	const named =
		space === "landmark"
			? (site?.content.landmarks ?? [])
			: [
					...(site?.content.openings ?? []),
					...(site?.content.obstructions ?? []).filter(({ window }) => window !== undefined),
				];
	return named.flatMap(({ name }) => {
		if (!name) return [];
		const landmark = landmarks.find((one) => one.name === name);
		return { name, detail: landmark ? bearingWithPoint(landmark.bearing) : "" };
	});
}

/** Stars and bodies that work here tonight, as the method's own search says. */
function rankedTonight({ evaluation, cell, path }: Place): readonly Named[] {
	const { night } = evaluation;
	const content = cell.read.kind === "method" ? cell.read.content : undefined;
	const method = content && searchFilling(path);
	if (!content || !method?.search) return [];
	const { detail } = method.search;
	const clock = (at: number): string => (night ? clockOf(night.zone, at) : "");
	return suggestionsFor(evaluation, method, content).map((found) => ({
		name: found.name,
		detail: detail(found, clock),
	}));
}

/** Bodies where they may be named, and where they are half-way through the time on site. */
function bodiesNamed({ evaluation }: Place, known: ReadonlySet<string>): readonly Named[] {
	const { night, site } = evaluation;
	const middle = night ? (night.onSite.from + night.onSite.until) / 2 : undefined;
	return BODY_NAMES.filter((name) => !known.has(name)).map((name) => {
		const body = findBody(name);
		const direction = body && site && middle !== undefined ? apparentDirection(body, site.spot, middle) : undefined;
		const detail = direction
			? words.bodyThen({ altitude: degrees(direction.altitude), bearing: bearingWithPoint(direction.azimuth) })
			: "";
		return { name, detail };
	});
}
