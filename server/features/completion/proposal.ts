/** Something that can be accepted at the cursor, and the protocol's item for what a client can take of it. */
import {
	type ClientCapabilities,
	type CompletionItem,
	type CompletionItemKind,
	InsertTextFormat,
	InsertTextMode,
	type Range,
} from "vscode-languageserver";
import { hasGaps, snippetText, type Template, withoutGaps } from "../../../shared/text/template.ts";

export interface Proposal {
	readonly label: string;
	/** What it is, beside the label. */
	readonly beside: string;
	readonly doc?: string;
	readonly kind: CompletionItemKind;
	/** Its place among the others: they are sorted by it as text. */
	readonly rank: string;
	/** What is compared with what is typed, where it is not the label. */
	readonly filter?: string;
	readonly text: Template;
	/** How many columns before the word it begins. */
	readonly columnsBefore?: number;
	/** Something can be offered where it leaves the cursor. */
	readonly goesOn?: boolean;
	/** With the next letter typed it is another one. */
	readonly ofTyped?: boolean;
	/** Without its gaps it says nothing. */
	readonly needsGaps?: boolean;
}

/** What a client can take. */
export interface Taking {
	readonly snippets: boolean;
	readonly labelDetails: boolean;
	/** It knows VS Code's commands. */
	readonly commands: boolean;
}

export function takingOf({ textDocument }: ClientCapabilities, commands: boolean): Taking {
	const item = textDocument?.completion?.completionItem;
	return {
		snippets: item?.snippetSupport ?? false,
		labelDetails: item?.labelDetailsSupport ?? false,
		commands,
	};
}

/** The items of a client; `rangeFrom` gives the range that is replaced, beginning so many columns before the word. */
export const itemsOf = (
	proposals: readonly Proposal[],
	taking: Taking,
	rangeFrom: (columnsBefore: number) => Range,
): CompletionItem[] =>
	proposals.filter(({ needsGaps }) => taking.snippets || !needsGaps).map((one) => itemOf(one, taking, rangeFrom));

function itemOf(
	{ label, beside, doc, kind, rank, filter, text, columnsBefore = 0, goesOn }: Proposal,
	{ snippets, labelDetails, commands }: Taking,
	rangeFrom: (columnsBefore: number) => Range,
): CompletionItem {
	const snippet = snippets && hasGaps(text);
	return {
		label,
		kind,
		detail: beside,
		...(labelDetails && beside !== "" ? { labelDetails: { description: beside } } : {}),
		...(doc === undefined ? {} : { documentation: doc }),
		sortText: rank,
		filterText: filter ?? label,
		textEdit: { range: rangeFrom(columnsBefore), newText: snippet ? snippetText(text) : withoutGaps(text) },
		insertTextFormat: snippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
		// The lines are indented already.
		insertTextMode: InsertTextMode.asIs,
		...(commands && goesOn ? { command: { title: "Suggest", command: "editor.action.triggerSuggest" } } : {}),
	};
}
