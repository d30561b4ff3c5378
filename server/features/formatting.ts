/** Formatting of a whole plan, or of what is in one cell of a notebook. */
import type { TextEdit } from "vscode-languageserver";
import { formatEdits } from "../../shared/plan/format.ts";
import { locationOf, type PlanText, spanOf } from "../plan-text.ts";
import type { Feature } from "../session.ts";

export const formatting: Feature = {
	capabilities: { documentFormattingProvider: true },
	listen(session) {
		session.connection.onDocumentFormatting(({ textDocument }) =>
			session.guarded("formatting", textDocument.uri, (document) => formatted(document)),
		);
	},
};

export function formatted(document: PlanText): TextEdit[] {
	const span = spanOf(document);
	return formatEdits(document.getText())
		.filter(({ from, to }) => from >= span.from && to <= span.to)
		.map(({ from, to, text }) => ({ range: locationOf(document, from, to).range, newText: text }));
}
