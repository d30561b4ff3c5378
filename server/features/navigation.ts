/** Definition, references, highlights and rename of names, over all plans that mean the same by them; who takes a cell. */
import { DocumentHighlightKind, type WorkspaceEdit } from "vscode-languageserver";
import { isIn, locationOf, type PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";
import { nameAt } from "./names.ts";

export const navigation: Feature = {
	capabilities: {
		definitionProvider: true,
		referencesProvider: true,
		documentHighlightProvider: true,
		renameProvider: { prepareProvider: true },
	},
	listen(session) {
		const { connection } = session;
		const found = (uri: string, position: { line: number; character: number }) =>
			session.guarded("names", uri, (document, plan) => ({
				document,
				...nameAt(plan.evaluation(document), document.offsetAt(position)),
			}));
		/** What looks into all plans: loaded on first use. */
		const loaded = () => session.loaded(() => import("./shared-names.ts"));
		connection.onDefinition(async (at) => (await loaded()).definitionOf(session, at));
		connection.onReferences(async (at) => (await loaded()).referencesTo(session, at));
		connection.onDocumentHighlight(({ textDocument, position }) => {
			const at = found(textDocument.uri, position);
			return (at?.all ?? [])
				.filter(({ from }) => isIn(at?.document as PlanText, from))
				.map(({ from, to, role }) => ({
					range: locationOf(at?.document as PlanText, from, to).range,
					kind: role === "definition" ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
				}));
		});
		connection.onPrepareRename(({ textDocument, position }) => {
			const at = found(textDocument.uri, position);
			return at?.here
				? { range: locationOf(at.document, at.here.from, at.here.to).range, placeholder: at.here.name }
				: null;
		});
		connection.onRenameRequest(async ({ textDocument, position, newName }): Promise<WorkspaceEdit> => {
			const text = session.text(textDocument.uri);
			return (await loaded()).renamed(session.index, text, text?.offsetAt(position) ?? 0, newName);
		});
	},
};
