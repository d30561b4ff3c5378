/** Edits by offsets as the protocol's edits by positions. */
import type { TextEdit } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { Edit } from "../shared/findings/finding.ts";

export const textEdits = (document: TextDocument, edits: readonly Edit[]): TextEdit[] =>
	edits.map(({ from, to, text }) => ({ range: { start: document.positionAt(from), end: document.positionAt(to) }, newText: text }));
