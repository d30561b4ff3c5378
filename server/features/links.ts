/** Links: the path of another plan that a cell takes from. */
import type { DocumentLink } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { inText, placeIn } from "../../shared/plan/plan.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { Feature, Session } from "../session.ts";

export const links: Feature = {
	capabilities: () => ({ documentLinkProvider: {} }),
	listen(session) {
		session.connection.onDocumentLinks(({ textDocument }) => session.guarded("links", textDocument.uri, (document, plan) => linksOf(session, document, plan)));
	},
};

export function linksOf({ library }: Pick<Session, "library">, document: TextDocument, plan: PlanDocument): DocumentLink[] {
	plan.reckoning(document);
	return plan.takesFrom.map(({ cell, path }) => {
		const span = inText(cell, placeIn(cell, "from").value);
		return { range: { start: document.positionAt(span.from), end: document.positionAt(span.to) }, target: library.uriOf(document.uri, path) };
	});
}
