/**
 * Findings: something wrong or worth knowing, with a code, a severity, a place, a reason with numbers, and fixes.
 * One file a rule, in a folder named after the code's area; `rules.ts` is their index. A rule holds its words (title,
 * explanation, messages), an example that is wrong and others that are right (all run as tests), and the check.
 */
import type { CellKindName } from "../cells/kinds.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import type { Ignore } from "../plan/ignores.ts";
import { type Cell, type Plan, placeIn } from "../plan/plan.ts";
import type { Span } from "../plan/problem.ts";
import type { TextEdit } from "../text/edits.ts";
import type { Phrase, Sentences } from "../text/sentence.ts";

export {
	appendCell,
	appendItem,
	insertKey,
	lineBreakOf,
	replaceValue,
	replaceWrong,
	setKey,
} from "../plan/cell-edits.ts";

/**
 * error: this part of the plan is wrong or cannot be carried out. warning: it will give less than was planned. info, shown
 * as a note: worth knowing.
 */
export type Severity = "error" | "warning" | "info";

export type Edit = TextEdit;

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
	/** Places of members of a group whom it concerns, beside the one at whose entry it stands. */
	readonly concerns?: readonly number[] | undefined;
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
	/** What it shows instead of that, where it is not the first that is right: what one would write. */
	readonly instead?: Example;
	/** Right, if only just: as near to the rule's threshold as one can write. */
	readonly right: Examples;
	/** One step over the threshold from one of these: the least that is wrong. */
	readonly over?: Examples;
	/**
	 * Looks at each target by itself: what it finds at one follows from that target and from `FOR_EACH_TARGET`, whatever the
	 * others are, and stands in its entry. It is not asked again for a target that stays as it is.
	 */
	readonly each?: "target";
	/** It weighs cells of the plan against each other: not asked of a library that lacks one of them. */
	readonly whole?: true;
	/** It is about what could hurt somebody: no comment hides it. */
	readonly safety?: true;
	readonly find: (evaluation: Evaluation) => Iterable<Found>;
	/** Looks at what the others have found, after them; nothing that it finds can be ignored. */
	readonly after?: (evaluation: Evaluation, others: Others) => Iterable<Found>;
}

/** For a rule that finds nothing before the others have. */
export const nothing = (): readonly Found[] => [];

/** What a rule that comes after the others may ask of them. */
export interface Others {
	/** The codes of all rules. */
	readonly codes: readonly string[];
	/** Of these, those that no comment hides. */
	readonly fixed: readonly string[];
	/** The comments that hide a finding. */
	readonly used: ReadonlySet<Ignore>;
	/** What has been found so far. */
	readonly told: () => readonly Finding[];
	/** The findings of another plan: one of a group. */
	readonly check: (evaluation: Evaluation) => readonly Finding[];
}

/** Whether what a rule finds is shown whatever a comment says: it keeps a plan from being read, or could hurt somebody. */
export const cannotBeIgnored = ({ code, safety }: Rule): boolean =>
	safety === true || /^(?:structure|ignore)\//.test(code);

/** What a rule may use that looks at each target by itself. */
export const FOR_EACH_TARGET = ["site", "night", "tracker", "axis"] as const satisfies readonly (keyof Evaluation)[];

export interface Finding {
	readonly code: string;
	readonly severity: Severity;
	/** Index of its cell, or undefined for the whole plan. */
	readonly cell: Cell | undefined;
	/** Offsets in the text. */
	readonly from: number;
	readonly to: number;
	readonly message: string;
	readonly concerns?: readonly number[] | undefined;
	/** Made when they are asked for. */
	readonly fixes: readonly ToldFix[];
}

/** A fix as it is shown. */
export interface ToldFix extends Omit<Fix, "title"> {
	readonly title: string;
}

/** What the explanation of a rule shows instead of its wrong example. */
export const insteadOf = ({ instead, right }: Rule): Example => instead ?? (examplesOf(right)[0] as Example);

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

/** A fix of edits, some of which may not be possible. */
export function fix(title: Phrase, safe: boolean, ...edits: readonly (Edit | undefined)[]): readonly Fix[] {
	const possible = edits.filter((edit) => edit !== undefined);
	return possible.length === edits.length ? [{ title, safe, edits: possible }] : [];
}
