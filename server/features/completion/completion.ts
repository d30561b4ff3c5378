/**
 * Completion: a whole plan in an empty file, cells, keys with the missing ones first, values computed for this plan. What
 * is accepted is right at its place: its lines are indented as the place wants them, and what only the user can know is
 * a gap, never an example.
 */
import type { CompletionItem, CompletionList, Range } from "vscode-languageserver";
import { CELL_KIND_NAMES, type CellKindName } from "../../../shared/cells/kinds.ts";
import { isExtended } from "../../../shared/notation/extended.ts";
import { isList } from "../../../shared/notation/list.ts";
import { isMapping } from "../../../shared/notation/mapping.ts";
import { cellAt, modelAt } from "../../../shared/plan/field-at.ts";
import type { Cell } from "../../../shared/plan/plan.ts";
import { type CursorContext, cursorContext } from "../../../shared/text/cursor.ts";
import type { PlanDocument } from "../../plan-document.ts";
import type { PlanIndex } from "../../plan-index.ts";
import { CellText, type PlanText, planUri } from "../../plan-text.ts";
import type { Feature, Session } from "../../session.ts";
import { cellsToAdd, cellsToBegin } from "./cells.ts";
import { entriesAt, fieldsIn, isNamed, keysAt } from "./keys.ts";
import { othersToTake } from "./paths.ts";
import { isLast, type Place } from "./place.ts";
import { itemsOf, type Proposal, type Taking, takingOf } from "./proposal.ts";
import { MOST_NAMES, valuesAt } from "./values.ts";

export const completion: Feature = {
	capabilities: {
		completionProvider: {
			triggerCharacters: [" ", ":", "-", "{", "[", ",", '"', "\n"],
			completionItem: { labelDetailsSupport: true },
		},
	},
	listen(session) {
		session.connection.onCompletion(async ({ textDocument, position }) => {
			const text = session.text(textDocument.uri);
			// All plans are looked at where one of them is to be named, and not before.
			if (text && isTaking(text, text.offsetAt(position))) await Promise.race([session.index.ready(), rested()]);
			const nights = text && isDating(text, text.offsetAt(position)) ? await nightsAhead(session) : undefined;
			return session.guarded("completion", textDocument.uri, (document, plan): CompletionList => {
				const taking = takingOf(session.client, session.ownClient);
				return completionsAt(document, plan, document.offsetAt(position), taking, session.index, nights);
			});
		});
	},
};

/** Whether the line of an offset begins like one that takes from another plan. */
const isTaking = (text: PlanText, offset: number): boolean =>
	/(?:^|[\s{,])(?:from|name):[^\n]*$/.test(text.getText().slice(Math.max(0, offset - 500), offset));

/** Whether a date is typed at an offset. */
const isDating = (text: PlanText, offset: number): boolean =>
	/(?:^|[\s{,])date:\s*[^\n:]*$/.test(text.getText().slice(Math.max(0, offset - 500), offset));

/** The next good nights; where they cannot be loaded, all else is offered. */
const nightsAhead = (session: Session): Promise<Place["nights"]> =>
	session
		.loaded(() => import("../../choosing/good-nights.ts"))
		.then(
			(loaded) => loaded.nightsAhead,
			() => undefined,
		);

/** So long somebody who types is kept waiting, and no longer. */
const rested = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 1000));

const NOTHING: CompletionList = { items: [], isIncomplete: false };

/** What is offered at the cursor. */
export function completionsAt(
	document: PlanText,
	plan: PlanDocument,
	offset: number,
	taking: Taking,
	index?: PlanIndex,
	nights?: Place["nights"],
): CompletionList {
	const evaluation = plan.evaluation(document);
	const cell = cellAt(evaluation.plan.cells, offset);
	const context = cell && cursorContext(cell.text, offset - cell.start);
	if (!cell || !context) return NOTHING;
	const [kind, ...inner] = context.path.length === 0 ? [kindIn(cell)] : context.path;
	const rest = restOf(cell.text, context, offset - cell.start);
	const inFront = isKind(kind) && isBeforeKey(kind, inner.join("."), context, rest);
	const end = inFront ? offset : offset + rest.length;
	const after = cell.text.slice(end - cell.start);
	// A key in front of something else would stand on its line and make a word of both; a cell's kind is none of its keys.
	if (!context.flow && context.part === "key" && !inFront && /^[ \t]*[^\s#:]/.test(after)) return NOTHING;
	if (context.path.length === 0 && context.part === "key" && context.prefix + rest === kind) return NOTHING;
	const place = {
		evaluation: evaluation.inPlaceOf(cell),
		plan: evaluation.plan,
		cell,
		path: inner.join("."),
		context,
		after,
		inFront,
		nights,
	};
	const own = isKind(kind)
		? [
				...(index ? othersToTake(index, planUri(document), { ...place, kind }) : []),
				...proposalsAt({ ...place, kind }, document instanceof CellText),
			]
		: context.path.length === 0 && context.part === "key"
			? cellsToBegin(evaluation.plan, isNamed(after))
			: [];
	const proposals = context.glued ? own.map(unglued) : own;
	const rangeFrom = (columns: number): Range => ({
		start: document.positionAt(cell.start + context.from - columns),
		end: document.positionAt(end),
	});
	const items: CompletionItem[] = itemsOf(proposals, taking, rangeFrom);
	// A list that was cut, or made of what is typed, is asked for again as one types on.
	return { items, isIncomplete: items.length >= MOST_NAMES || proposals.some(({ ofTyped }) => ofTyped) };
}

/** Whether what is behind the cursor is a key by itself, and no part of the word that is typed. */
function isBeforeKey(kind: CellKindName, path: string, { part, prefix }: CursorContext, rest: string): boolean {
	const shape = part === "key" && rest !== "" ? modelAt(kind, path)?.shape : undefined;
	const names = shape ? fieldsIn(shape).map(([key]) => key) : [];
	return names.includes(rest) && !(prefix !== "" && names.includes(prefix + rest));
}

/** The blank before it comes with what is accepted; what begins further left brings its own dash. */
const unglued = (one: Proposal): Proposal =>
	(one.columnsBefore ?? 0) > 0 ? one : { ...one, text: [" ", ...one.text] };

/** What is offered inside a cell. A notebook's cell is one of the plan's: no other can begin in it. */
function proposalsAt(place: Place, alone: boolean): readonly Proposal[] {
	const { context, path, kind } = place;
	const shape = modelAt(kind, path)?.shape;
	if (!shape) return [];
	if (context.part === "value") {
		// What is written under its key: Enter behind the colon begins a line and accepts nothing.
		const below = !context.flow && context.glued && (isMapping(shape) || (isList(shape) && isMapping(shape.item)));
		return below ? [] : valuesAt(place, shape);
	}
	const ends = !alone && !context.flow && isLast(place) && onOwnLine(place);
	const next = ends ? cellsToAdd(place.plan, context.indent) : [];
	// At the first column, the keys of the cell come with their indentation.
	const before = context.path.length === 0 ? indentIn(place.cell) : "";
	if (before === undefined) return next;
	if (context.path.length === 0 && isList(shape)) {
		const own = entriesAt({ ...place, context: { ...context, indent: before.length } });
		const keys = isExtended(shape) ? keysAt(place, shape, before) : [];
		return [...own.map((one) => ({ ...one, text: [before, ...one.text] })), ...keys, ...next];
	}
	// An item of a list that is no mapping is a value.
	if (fieldsIn(shape).length === 0 && !isList(shape)) return context.path.length === 0 ? next : valuesAt(place, shape);
	return [...keysAt(place, shape, before), ...(place.inFront ? [] : entriesAt(place)), ...next];
}

const isKind = (word: string | undefined): word is CellKindName => CELL_KIND_NAMES.includes(word as CellKindName);

/** The kind of a cell, also while it does not parse. */
const kindIn = ({ read, text }: Cell): string | undefined =>
	read.kind ?? CELL_KIND_NAMES.find((kind) => new RegExp(`^${kind}:(?=\\s|$)`, "m").test(text));

/** Whether only blanks are before the word on its line. */
const onOwnLine = ({ cell, context }: Place): boolean => /(?:^|\n)[ \t]*$/.test(cell.text.slice(0, context.from));

/** The indentation of what is under a cell's kind; undefined where it is written in one line. */
function indentIn({ text }: Cell): string | undefined {
	const [, inline = "", next = ""] = /^[a-z]+:([^\n]*)(?:\n(?:[ \t]*(?:#[^\n]*)?\n)*( +)(?=\S))?/m.exec(text) ?? [];
	return inline.replace(/#.*/, "").trim() === "" ? next || "  " : undefined;
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
	const end = part === "key" ? /(?!---)[\w-]*/y : flow ? /(?:[^,}\]\n\r#]|(?<!\s)#)*/y : /(?:[^\n\r#]|(?<!\s)#)*/y;
	return found(end)?.trimEnd() ?? "";
}
