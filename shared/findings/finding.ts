/**
 * Findings: something wrong or worth knowing, with a code, a severity, a place, a reason with numbers, and fixes.
 * One file a rule, in a folder named after the code's area; `rules.ts` is their index. A rule holds its words (title,
 * explanation, messages), an example that is wrong and others that are right (all run as tests), and the check.
 */
import type { CellKindName } from "../cells/kinds.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import { placesBelow } from "../plan/places.ts";
import { type Cell, inText, type Plan, placeIn } from "../plan/plan.ts";
import type { Problem, Span } from "../plan/problem.ts";
import { beforeKey, entryText } from "../text/before-key.ts";
import { type Given, written } from "../text/scalar.ts";
import type { Phrase, Sentences } from "../text/sentence.ts";

/** error: cannot work. warning: will disappoint. info: good to know. */
export type Severity = "error" | "warning" | "info";

export interface Edit extends Span {
	readonly text: string;
}

/** A change that removes a finding, as edits of the plan's text. */
export interface Fix {
	readonly title: Phrase;
	/** Whether it may be applied without a look: it cannot change what was meant. */
	readonly safe: boolean;
	readonly edits: readonly Edit[];
}

/** What a rule says: where in a cell (or in the whole text, when no cell is meant), why, and the fixes. */
export interface Found {
	readonly cell: Cell | undefined;
	/** Offsets in the cell's slice. */
	readonly span: Span;
	readonly message: Phrase;
	/** What it takes a search to find is made when it is asked for. */
	readonly fixes?: readonly Fix[] | (() => readonly Fix[]);
	/** Where the rule's own severity does not fit. */
	readonly severity?: Severity;
}

/** An example: cells by kind that replace those of a plan that checks clean (`null` removes one), or a whole text. */
export type Example = Partial<Record<CellKindName, string | readonly string[] | null>> | { readonly text: string };

/** One example, or several. */
export type Examples = Example | readonly Example[];

/** Examples as a list. */
export const examplesOf = (examples: Examples): readonly Example[] =>
	Array.isArray(examples) ? examples : [examples as Example];

/** The sentences of a rule: its title, its explanation (Markdown: what it means, why it matters, what to do), and more. */
export type RuleWords = Pick<Sentences<{ readonly title: string; readonly about: string }>, "title" | "about">;

export interface Rule {
	/** `area/problem`: a contract, never renamed. */
	readonly code: string;
	readonly severity: Severity;
	readonly words: RuleWords;
	/** What the explanation shows. */
	readonly wrong: Example;
	/** Right, if only just: as near to the rule's threshold as one can write. */
	readonly right: Examples;
	/** One step over the threshold from one of these: the least that is wrong. */
	readonly over?: Examples;
	/**
	 * Looks at each target by itself: what it finds at one follows from that target and from `FOR_EACH_TARGET`, whatever the
	 * others are, and stands in its entry. It is not asked again for a target that stays as it is.
	 */
	readonly each?: "target";
	readonly find: (evaluation: Evaluation) => Iterable<Found>;
}

/** What a rule may use that looks at each target by itself. */
export const FOR_EACH_TARGET = ["site", "night", "tracker", "aligned"] as const satisfies readonly (keyof Evaluation)[];

export interface Finding {
	readonly code: string;
	readonly severity: Severity;
	/** Index of its cell, or undefined for the whole plan. */
	readonly cell: Cell | undefined;
	/** Offsets in the text. */
	readonly from: number;
	readonly to: number;
	readonly message: string;
	/** Made when they are asked for. */
	readonly fixes: readonly ToldFix[];
}

/** A fix as it is shown. */
export interface ToldFix extends Omit<Fix, "title"> {
	readonly title: string;
}

/** Checks the parts of a rule. */
export const rule = (parts: Rule): Rule => parts;

/** The place of a value, or of a key, at a path of a cell. */
export function at(
	cell: Cell,
	path: string,
	part: "key" | "value" = "value",
): { readonly cell: Cell; readonly span: Span } {
	const place = placeIn(cell, path);
	return {
		cell,
		span:
			part === "key"
				? (place.key ?? place.value)
				: place.value.to > place.value.from
					? place.value
					: (place.key ?? place.value),
	};
}

/** The place of a cell as a whole: the word of its kind. */
export const atCell = (cell: Cell): { readonly cell: Cell; readonly span: Span } => at(cell, "", "key");

/** The place of what is wrong with a plan as a whole: its first visible character, or its start when it has none. */
export function atStart({ text }: Plan): { readonly cell: undefined; readonly span: Span } {
	const from = text.slice(0, 10_000).search(/[^\s\uFEFF]/);
	return { cell: undefined, span: from < 0 ? { from: 0, to: 0 } : { from, to: from + 1 } };
}

/** Replaces the value at a path: all of it, however many lines it goes over. Undefined where the text has none there. */
export function replaceValue(cell: Cell, path: string, value: Given): Edit | undefined {
	const place = cell.read.places.get(path);
	if (!place) return undefined;
	const { from, to } = place.whole ?? place.value;
	const text = written(value, { flow: place.flow, old: cell.text.slice(from, to) });
	// What began on a line below its key, as a list may at the key's own column, is written behind the key.
	const between = place.key && cell.text.slice(place.key.to, from);
	const colon = between?.includes("\n") ? /^["']?[ \t]*:(?=\s*$)/.exec(between) : undefined;
	if (!place.key || !colon) return { ...inText(cell, { from, to }), text };
	return { ...inText(cell, { from: place.key.to + colon[0].length, to }), text: ` ${text}` };
}

/** Replaces what a problem lies in with what belongs there. */
export function replaceWrong(cell: Cell, problem: Problem, value: Given): Edit {
	const { from, to } = problem.whole ?? problem;
	// Whether it stands in a flow collection is not known: what is plain there is plain everywhere.
	return { ...inText(cell, { from, to }), text: written(value, { flow: true, old: cell.text.slice(from, to) }) };
}

/** What a text's lines end with. */
export const lineBreakOf = (text: string): string => (text.includes("\r\n") ? "\r\n" : "\n");

/** Puts a key in front of the first key of the mapping at a path; undefined for an empty or missing mapping. */
export function insertKey(cell: Cell, path: string, key: string, value: Given): Edit | undefined {
	const prefix = path === "" ? "" : `${path}.`;
	for (const [childPath, place] of placesBelow(cell.read.places, path)) {
		if (childPath === "" || !childPath.startsWith(prefix) || childPath.slice(prefix.length).includes(".") || !place.key)
			continue;
		const { insertAt, indent } = beforeKey(cell.text, place.key.from, place.flow);
		if (insertAt === undefined) return undefined;
		const entry = `${key}: ${written(value, { flow: place.flow })}`;
		return {
			...inText(cell, { from: insertAt, to: insertAt }),
			text: entryText(entry, indent, lineBreakOf(cell.text)),
		};
	}
	return undefined;
}

/** Replaces a value, or puts the key in when it is not there. */
export function setKey(cell: Cell, path: string, key: string, value: Given): Edit | undefined {
	const full = path === "" ? key : `${path}.${key}`;
	return cell.read.places.has(full) ? replaceValue(cell, full, value) : insertKey(cell, path, key, value);
}

/** Puts a new cell at the end of the plan. */
export function appendCell(plan: Plan, text: string): Edit {
	const { length } = plan.text;
	const newline = lineBreakOf(plan.text);
	const start = length === 0 || plan.text.endsWith("\n") ? "" : newline;
	const marker = plan.text.trim() === "" ? "" : `---${newline}`;
	return { from: length, to: length, text: `${start}${marker}${text.replace(/\n/g, newline)}${newline}` };
}

/** A fix of edits, some of which may not be possible. */
export function fix(title: Phrase, safe: boolean, ...edits: readonly (Edit | undefined)[]): readonly Fix[] {
	const possible = edits.filter((edit) => edit !== undefined);
	return possible.length === edits.length ? [{ title, safe, edits: possible }] : [];
}
