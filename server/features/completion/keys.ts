/** Keys of a mapping, the missing ones first, and one more entry of a list. */
import { CompletionItemKind } from "vscode-languageserver";
import { METHOD_KEYS } from "../../../shared/cells/method/keys.ts";
import { isEither } from "../../../shared/notation/either.ts";
import { isExtended } from "../../../shared/notation/extended.ts";
import { fieldsOf, isList } from "../../../shared/notation/list.ts";
import { type Field, isMapping } from "../../../shared/notation/mapping.ts";
import type { Notation } from "../../../shared/notation/notation.ts";
import { modelAt } from "../../../shared/plan/field-at.ts";
import { readPlan } from "../../../shared/plan/plan.ts";
import { itemTemplate } from "../../../shared/plan/skeleton.ts";
import { sentences, told } from "../../../shared/text/sentence.ts";
import { GAP, indented, type Template, template } from "../../../shared/text/template.ts";
import { isLast, offersFirst, type Place } from "./place.ts";
import type { Proposal } from "./proposal.ts";

const words = sentences("completion.keys", {
	required: "required, {what}",
	doc: "{doc}{otherwise}\n\nExample: `{example}`",
	otherwise: "\n\nWithout it: {otherwise}.",
	entry: "one more entry of `{key}`",
});

/** Whether a word is followed by its colon. */
export const isNamed = (after: string): boolean => /^\s*:/.test(after);

/** The keys of a mapping, or of the mappings that may stand at a place. */
export const fieldsIn = (shape: Notation): readonly [string, Field][] =>
	(isEither(shape) ? shape.mappings : isExtended(shape) ? [shape.taken] : [shape]).flatMap((one) =>
		isMapping(one) ? Object.entries(one.fields) : [],
	);

/** As what a list that may begin with another plan's is written so far; undefined: as nothing yet. */
function writtenAs({ cell, context }: Place): "list" | "mapping" | undefined {
	if (context.flow) return "mapping";
	const [, inline = "", below = ""] = /^[a-z]+:([^\n]*)((?:\n[^\n]*)*)/m.exec(cell.text) ?? [];
	const opening = /^[ \t]*([[{])/.exec(inline)?.[1];
	if (opening !== undefined) return opening === "{" ? "mapping" : "list";
	let at = cell.text.length - below.length;
	for (const line of below.split("\n")) {
		const [from, to] = [at, at + line.length];
		at = to + 1;
		// The line that is being typed may yet become either.
		if (/^\s*(?:#|---|\.\.\.|$)/.test(line) || (from <= context.from && context.from <= to)) continue;
		return /^\s*-(?:\s|$)/.test(line) ? "list" : "mapping";
	}
	return undefined;
}

/** Keys that are not there yet; of a method those of its kind. `before`: what is written before the key. */
export function keysAt(place: Place, shape: Notation, before = ""): readonly Proposal[] {
	const { cell, path, context, after, inFront } = place;
	const prefix = path === "" ? "" : `${path}.`;
	const method = cell.read.kind === "method" && path === "" ? cell.read.content?.kind : undefined;
	const belongs = (key: string): boolean => method === undefined || (METHOD_KEYS.get(key)?.includes(method) ?? true);
	const own = (key: string): boolean => method !== undefined && METHOD_KEYS.has(key);
	// A word that is a key already has its value: only its name is written, where that value can be its own.
	const named = isNamed(after);
	// Before another entry of a flow mapping, and on its own line before another key.
	const isBefore = context.flow && /^\s*[^\s:,}\]#]/.test(after);
	const indent = " ".repeat(context.indent + before.length);
	const behind = isBefore ? [inFront ? ", " : ","] : inFront ? [`\n${indent}`] : [];
	if (isExtended(shape) && writtenAs(place) === "list") return [];
	return alternative(shape, place)
		.filter(([key]) => !cell.read.places.has(`${prefix}${key}`) && belongs(key))
		.filter(([key]) => !named || fits(place, prefix, `${before}${key}`))
		.map(([key, field], i): Proposal => {
			const what = told(field.shape.describe());
			const text = named ? [key] : keyText(key, field, context.flow, indent);
			return {
				label: key,
				beside: field.required ? told(words.required({ what })) : what,
				doc: docOf(field),
				kind: CompletionItemKind.Property,
				// Entries of one's own are written more often than those of another plan.
				rank: `${isExtended(shape) ? 4 : 2}${field.required ? 0 : own(key) ? 1 : 2}${String(i).padStart(2, "0")}`,
				text: [before, ...text, ...behind],
				goesOn: !named && goesOn(field),
			};
		});
}

/** The keys that may stand beside those that are written: of several mappings those of the ones that have these. */
function alternative(shape: Notation, { cell, path, context }: Place): readonly [string, Field][] {
	if (!isEither(shape)) return fieldsIn(shape);
	const inside = path === "" ? "" : `${path}.`;
	const word = cell.text.slice(context.from).match(/^[\w-]*/)?.[0] ?? "";
	const written = fieldsIn(shape).flatMap(([key]) => (key !== word && cell.read.places.has(inside + key) ? [key] : []));
	return shape.mappings
		.filter((one) => isMapping(one) && written.every((key) => Object.hasOwn(one.fields, key)))
		.flatMap((one) => fieldsIn(one));
}

/** Whether the value that stands behind the word at the cursor can be a key's. */
function fits({ cell, context, after }: Place, inside: string, key: string): boolean {
	const read = readPlan(cell.text.slice(0, context.from) + key + after).cells[0]?.read;
	const value = read?.places.get(inside + key.trim());
	const [from, to] = [value?.whole?.from ?? value?.value.from ?? 0, value?.whole?.to ?? value?.value.to ?? 0];
	return !read?.problems.some((one) => from < to && from <= one.from && one.from < to);
}

const docOf = ({ doc, otherwise, example }: Field): string =>
	told(words.doc({ doc, otherwise: otherwise === undefined ? "" : [words.otherwise({ otherwise })], example }));

/** Whether keys or values can be offered behind a key. */
const goesOn = (field: Field): boolean =>
	(fieldsOf(field.shape) !== undefined && !isEither(field.shape)) || offersFirst([GAP], field);

/** A key with what follows it: a space, or a new line with the indentation of what belongs under it. */
function keyText(key: string, { shape }: Field, flow: boolean, indent: string): Template {
	if (!flow && isMapping(shape)) return template`${key}:\n${indent}  ${GAP}`;
	if (!flow && isList(shape) && isMapping(shape.item)) return template`${key}:\n${indent}  - ${GAP}`;
	return template`${key}: ${GAP}`;
}

/** One more entry of the list that the cursor is in, where nothing but blanks is before it on its line. */
export function entriesAt(place: Place): readonly Proposal[] {
	const { kind, path, context, cell } = place;
	if (context.flow || !isLast(place)) return [];
	const parts = path === "" ? [] : path.split(".");
	const list = modelAt(kind, path)?.shape;
	// In a list and not in one of its entries; else in an entry, whose list is the path without its number.
	if (list && isExtended(list) && writtenAs(place) === "mapping") return [];
	if (list && isList(list) && isMapping(list.item)) return [entry(parts, kind, list.item, 0, context.indent)];
	const [last] = parts.slice(-1);
	const outer =
		last !== undefined && /^\d+$/.test(last) ? modelAt(kind, parts.slice(0, -1).join("."))?.shape : undefined;
	const dash = dashBefore(cell.text, context.from, context.indent);
	if (!outer || !isList(outer) || !isMapping(outer.item) || dash === undefined) return [];
	const columns = context.indent - dash - (context.glued ? 1 : 0);
	return [entry(parts.slice(0, -1), kind, outer.item, columns, dash)];
}

function entry(list: readonly string[], kind: string, item: Notation, columnsBefore: number, indent: number): Proposal {
	const needed = fieldsIn(item).flatMap(([key, { required }]) => (required ? [key] : []));
	return {
		label: `- ${needed.join(", ")}`,
		beside: told(words.entry({ key: list[list.length - 1] ?? kind })),
		kind: CompletionItemKind.Struct,
		rank: "30",
		filter: `- ${needed.join(" ")}`,
		columnsBefore,
		text: indented(itemTemplate(item), " ".repeat(indent)),
	};
}

/** The column of the dash whose entry holds keys at an indentation, above an offset. */
function dashBefore(text: string, offset: number, indent: number): number | undefined {
	const above = text.slice(0, offset).split("\n").slice(0, -1).reverse();
	for (const line of above) {
		const match = /^( *)- +\S/.exec(line);
		if (match && (match[1] as string).length < indent) return (match[1] as string).length;
	}
	return undefined;
}
