/** Formatting of a whole plan, or of what is in one cell of a notebook. */
import { MessageType, ShowMessageNotification, type TextEdit } from "vscode-languageserver";
import { sentences, told } from "../../shared/text/sentence.ts";
import { isIn, locationOf, type PlanText, spanOf } from "../plan-text.ts";
import type { Feature, OnRequest } from "../session.ts";

export const formatting: Feature = {
	capabilities: { documentFormattingProvider: true },
	listen(session) {
		session.connection.onDocumentFormatting(({ textDocument }) =>
			session.answered("formatting", textDocument.uri, (document, _, { formatEdits, unparsed }) => {
				const left = leftAsItIs(document, unparsed);
				if (left)
					void session.connection.sendNotification(ShowMessageNotification.type, {
						type: MessageType.Info,
						message: left,
					});
				return formatted(document, formatEdits);
			}),
		);
	},
};

const words = sentences("feature.formatting", {
	one: "The cell in line {line} does not parse: it was left as it is.",
	many: "{count} cells do not parse, the first in line {line}: they were left as they are.",
});

/** What is said of cells that cannot be formatted. */
function leftAsItIs(document: PlanText, unparsed: OnRequest["unparsed"]): string | undefined {
	const cells = unparsed(document.getText()).filter(({ start }) => isIn(document, start));
	const [first] = cells;
	if (!first) return undefined;
	const line = document.positionAt(first.start + (/^---[^\n]*\n/.exec(first.text)?.[0].length ?? 0)).line + 1;
	return told(cells.length === 1 ? words.one({ line }) : words.many({ count: cells.length, line }));
}

/** The edits that format what is in a text. */
function formatted(document: PlanText, formatEdits: OnRequest["formatEdits"]): TextEdit[] {
	const span = spanOf(document);
	return formatEdits(document.getText())
		.filter(({ from, to }) => from >= span.from && to <= span.to)
		.map(({ from, to, text }) => ({ range: locationOf(document, from, to).range, newText: text }));
}
