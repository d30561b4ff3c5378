/** Edits by offsets as the protocol's edits by positions. */
import type { TextEdit, WorkspaceEdit } from "vscode-languageserver";
import type { Edit } from "../shared/findings/finding.ts";
import { locationOf, type PlanText } from "./plan-text.ts";

/** Edits of a plan, each in the text that holds its place: in a notebook they can be in other cells than the one asked about. */
export function workspaceEdit(document: PlanText, edits: readonly Edit[]): WorkspaceEdit {
	const changes: Record<string, TextEdit[]> = {};
	for (const { from, to, text } of edits) {
		const { uri, range } = locationOf(document, from, to);
		changes[uri] ??= [];
		changes[uri].push({ range, newText: text });
	}
	return { changes };
}
