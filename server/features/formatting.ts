/** Formatting of a whole plan, or of what is in one cell of a notebook: by `format-edits.ts`, which is loaded on first use. */
import { MessageType, ShowMessageNotification } from "vscode-languageserver";
import type { Feature } from "../session.ts";

export const formatting: Feature = {
	capabilities: { documentFormattingProvider: true },
	listen(session) {
		session.connection.onDocumentFormatting(({ textDocument }) =>
			session.answered("formatting", textDocument.uri, (document, _, { formatted, leftAsItIs }) => {
				const left = leftAsItIs(document);
				if (left)
					void session.connection.sendNotification(ShowMessageNotification.type, {
						type: MessageType.Info,
						message: left,
					});
				return formatted(document);
			}),
		);
	},
};
