/** Formatting of a whole plan. */
import type { TextEdit } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { formatEdits } from "../../shared/plan/format.ts";
import type { Feature } from "../session.ts";
import { textEdits } from "../text-edits.ts";

export const formatting: Feature = {
	capabilities: () => ({ documentFormattingProvider: true }),
	listen(session) {
		session.connection.onDocumentFormatting(({ textDocument }) => session.guarded("formatting", textDocument.uri, (document) => formatted(document)));
	},
};

export const formatted = (document: TextDocument): TextEdit[] => textEdits(document, formatEdits(document.getText()));
