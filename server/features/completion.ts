/**
 * Completion: kinds of cells with a filled-in skeleton, keys with the missing ones first, values by what belongs there:
 * words, names, zones, guide stars ranked by how well they work tonight, bodies in view, clock times when things happen.
 */
import {
	type CompletionItem,
	CompletionItemKind,
	type CompletionList,
	InsertTextFormat,
	type TextEdit,
} from "vscode-languageserver";
import {
	CELL_KIND_NAMES,
	CELL_KINDS,
	type CellKindName,
	METHOD_KEYS,
	SENSOR_FORMATS,
} from "../../shared/cells/kinds.ts";
import { clockOf, knownZones } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { momentsOf } from "../../shared/evaluate/moments.ts";
import { bodiesOf, starsFor } from "../../shared/evaluate/suggestions.ts";
import type { Field, ShapeData } from "../../shared/notation/shape.ts";
import { bearingWithPoint, degrees } from "../../shared/notation/spoken.ts";
import { cellAt, modelAt } from "../../shared/plan/field-at.ts";
import type { Cell } from "../../shared/plan/plan.ts";
import { describeShape } from "../../shared/plan/read.ts";
import { kindsToAdd, skeletonOf } from "../../shared/plan/skeleton.ts";
import { apparentDirection, BODY_NAMES, findBody } from "../../shared/sky/place.ts";
import { starSpellings } from "../../shared/sky/stars.ts";
import { type CursorContext, cursorContext } from "../../shared/text/cursor.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";

export const completion: Feature = {
	capabilities: { completionProvider: { triggerCharacters: [" ", ":", "-", "{", "[", ",", '"', "\n"] } },
	listen(session) {
		session.connection.onCompletion(({ textDocument, position }) =>
			session.guarded("completion", textDocument.uri, (document, plan): CompletionList => {
				const items = completionsAt(document, plan, document.offsetAt(position));
				// A list that was cut is asked for again as one types on.
				return { items, isIncomplete: items.length >= MOST_NAMES };
			}),
		);
	},
};

/** How many names are offered at once, those that work and the brightest first. */
const MOST_NAMES = 250;

/** What is offered where the cursor stands. */
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
		edit,
	);
}

type Edit = (text: string) => TextEdit;

/** Replaces the word being typed, to its end: quotes and what stands behind the cursor included. */
function editor(document: PlanText, cell: Cell, { from, flow, part }: CursorContext, offset: number): Edit {
	const end = part === "key" ? /^[\w-]*/ : flow ? /^[^,}\]\n\r]*/ : /^[^\n\r#]*/;
	const rest = end.exec(cell.text.slice(offset - cell.start))?.[0].trimEnd() ?? "";
	const range = { start: document.positionAt(cell.start + from), end: document.positionAt(offset + rest.length) };
	return (newText) => ({ range, newText });
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
	shape: ShapeData,
	path: string,
	{ flow, indent }: CursorContext,
	edit: Edit,
	named: boolean,
): CompletionItem[] {
	const mapping = shape.type === "either" ? shape.mappings : [shape];
	const fields = mapping.flatMap((one) => (one.type === "mapping" ? Object.entries(one.fields) : []));
	const prefix = path === "" ? "" : `${path}.`;
	const typed = (key: string): boolean => cell.read.places.has(`${prefix}${key}`);
	const method = cell.read.kind === "method" && path === "" ? cell.read.content?.kind : undefined;
	const belongs = (key: string): boolean =>
		method === undefined || !METHOD_KEYS[key] || METHOD_KEYS[key].includes(method);
	const own = (key: string): boolean => method !== undefined && METHOD_KEYS[key] !== undefined;
	return fields
		.filter(([key]) => !typed(key) && belongs(key))
		.map(([key, field], i) => ({
			label: key,
			kind: CompletionItemKind.Property,
			detail: `${field.required ? "required, " : ""}${describeShape(field.shape)}`,
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
	if (shape.type === "mapping") return `${key}:\n${" ".repeat(indent + 2)}`;
	if (shape.type === "list" && shape.item.type === "mapping") return `${key}:\n${" ".repeat(indent + 2)}- `;
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

function values(shape: ShapeData, place: Place, edit: Edit): CompletionItem[] {
	const { evaluation, path } = place;
	const item = (
		label: string,
		detail: string,
		i: number,
		text = label,
		kind: CompletionItemKind = CompletionItemKind.Value,
	): CompletionItem => ({
		label,
		detail,
		kind,
		filterText: text,
		sortText: String(i).padStart(4, "0"),
		textEdit: edit(text),
	});
	switch (shape.type) {
		case "word":
			// `true` and `false` as words are quoted, so that they stay words.
			return Object.entries(shape.words).map(([word, doc], i) =>
				item(word, doc, i, word === "true" ? '"true"' : word, CompletionItemKind.EnumMember),
			);
		case "flag":
			return ["true", "false"].map((word, i) => item(word, "", i));
		case "sensor":
			return Object.entries(SENSOR_FORMATS).map(([name, [width, height]], i) =>
				item(name, `${width} x ${height} mm`, i, name, CompletionItemKind.EnumMember),
			);
		case "zone": {
			const there = evaluation.site?.zoneThere;
			return [
				...(there ? [item(there, "where the coordinates lie", 0)] : []),
				...knownZones()
					.filter((zone) => zone !== there)
					.map((zone, i) => item(zone, "", i + 1)),
			];
		}
		case "reference": {
			const names =
				shape.to === "lens"
					? evaluation.plan.cells.flatMap(({ read }) =>
							read.kind === "lens" && read.content?.name ? [read.content.name] : [],
						)
					: (evaluation.site?.content[shape.to === "landmark" ? "landmarks" : "openings"] ?? []).flatMap(
							({ name }) => name ?? [],
						);
			return names.map((name, i) =>
				item(name, referenceDetail(shape.to, name, evaluation), i, name, CompletionItemKind.Reference),
			);
		}
		case "sky-name":
			return skyNames(place, item);
		case "either":
			return [
				...values(shape.scalar, place, edit),
				item(
					"{ azimuth, altitude }",
					"a fixed direction",
					9000,
					"{ azimuth: 90, altitude: 10 }",
					CompletionItemKind.Struct,
				),
			];
		case "clock": {
			const { night } = evaluation;
			if (!night) return [];
			return momentsOf(evaluation).map(({ at, what }, i) => ({
				...item(clockOf(night.zone, at), what, i, `"${clockOf(night.zone, at)}"`, CompletionItemKind.Event),
				filterText: `"${clockOf(night.zone, at)} ${what}`,
			}));
		}
		case "list":
			return path.endsWith("stars") ? skyNames(place, item) : [];
		default: {
			const example = modelAt(place.kind, path)?.field?.example;
			return example === undefined ? [] : [item(example, "for example", 0)];
		}
	}
}

function referenceDetail(to: string, name: string, { landmarks, lenses }: Evaluation): string {
	if (to === "lens") {
		const lens = lenses.find(({ value }) => value?.name === name)?.value;
		return lens ? `${lens.camera.focalLength} mm f/${lens.camera.fNumber}` : "";
	}
	const landmark = landmarks.find((one) => one.name === name);
	return landmark ? bearingWithPoint(landmark.bearing) : "";
}

type Item = (label: string, detail: string, i: number, text?: string, kind?: CompletionItemKind) => CompletionItem;

/** Stars and bodies: those that work here tonight first, with altitude, bearing, time and miss. */
function skyNames({ evaluation, cell, path, typed }: Place, item: Item): CompletionItem[] {
	const { tonight, night, site } = evaluation;
	const ranked: CompletionItem[] = [];
	const clock = (at: number): string => (night ? clockOf(night.zone, at) : "");
	if (tonight && path === "guide-star") {
		const method = cell.read.kind === "method" ? cell.read.content : undefined;
		for (const { star, best, direction, miss, neighbour } of starsFor(method, tonight)) {
			const mind = neighbour ? `; mind ${neighbour.star.name}, ${degrees(neighbour.separation)} away` : "";
			ranked.push(
				item(
					star.name,
					`${clock(best)}, ${degrees(direction.altitude)} high, misses by ${degrees(miss, 2)}, magnitude ${star.magnitude.toFixed(1)}${mind}`,
					ranked.length,
					star.name,
					CompletionItemKind.Constant,
				),
			);
		}
	} else if (tonight && path === "body") {
		for (const { name, at, direction, radius95 } of bodiesOf(evaluation)) {
			ranked.push(
				item(
					name,
					`${clock(at)}, ${degrees(direction.altitude)} high at ${bearingWithPoint(direction.azimuth)}, leaves ${degrees(radius95)}`,
					ranked.length,
					name,
					CompletionItemKind.Constant,
				),
			);
		}
	}
	const known = new Set(ranked.map(({ label }) => label));
	const middle = night ? (night.onSite.from + night.onSite.until) / 2 : undefined;
	const bodies = path === "guide-star" || path.startsWith("stars") || path === "star" ? [] : BODY_NAMES;
	for (const name of bodies) {
		if (known.has(name)) continue;
		const body = findBody(name);
		const direction = body && site && middle !== undefined ? apparentDirection(body, site.spot, middle) : undefined;
		ranked.push(
			item(
				name,
				direction
					? `${degrees(direction.altitude)} high at ${bearingWithPoint(direction.azimuth)} in the middle of the stay`
					: "",
				1000 + ranked.length,
			),
		);
	}
	return [
		...ranked,
		...starsLike(typed, known, MOST_NAMES - ranked.length).map((name, i) => item(name, "star", 2000 + i)),
	];
}

/** Names of stars that have the letters typed in their order, as editors match them. */
function starsLike(typed: string, known: ReadonlySet<string>, most: number): readonly string[] {
	const found: string[] = [];
	for (const name of starSpellings()) {
		if (found.length >= most) break;
		if (!known.has(name) && hasInOrder(name.toLowerCase(), typed)) found.push(name);
	}
	return found;
}

function hasInOrder(name: string, typed: string): boolean {
	let at = 0;
	for (const letter of typed) {
		at = name.indexOf(letter, at) + 1;
		if (at === 0) return false;
	}
	return true;
}
