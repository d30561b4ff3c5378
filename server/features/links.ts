/** Links: the path of another plan that a cell takes from. */
import type { DocumentLink } from "vscode-languageserver";
import { inText, placeIn } from "../../shared/plan/plan.ts";
import type { PlanDocument } from "../plan-document.ts";
import { isIn, locationOf, type PlanText, planUri } from "../plan-text.ts";
import type { Feature, Session } from "../session.ts";

export const links: Feature = {
	capabilities: { documentLinkProvider: {} },
	listen(session) {
		session.connection.onDocumentLinks(({ textDocument }) =>
			session.guarded("links", textDocument.uri, (document, plan) => linksOf(session, document, plan)),
		);
	},
};

export function linksOf({ library }: Pick<Session, "library">, document: PlanText, plan: PlanDocument): DocumentLink[] {
	return plan.takesFrom(document).flatMap(({ cell, path }) => {
		const { from, to } = inText(cell, placeIn(cell, "from").value);
		return isIn(document, from)
			? [{ range: locationOf(document, from, to).range, target: library.uriOf(planUri(document), path) }]
			: [];
	});
}
