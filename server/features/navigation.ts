/** Definition, references, highlights and rename of names, over all plans that mean the same by them; who takes a cell. */
import { DocumentHighlightKind, type Location, type WorkspaceEdit } from "vscode-languageserver";
import { isIn, locationOf, type PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";
import { type NamePlace, nameAt } from "./names.ts";

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
		/** The places of a name in all plans that mean the same by it. */
		const everywhere = async (
			uri: string,
			position: { line: number; character: number },
			isWanted: (place: NamePlace) => boolean,
		): Promise<Location[]> => {
			const text = session.text(uri);
			const named = text && (await (await loaded()).sharedName(session.index, text, text.offsetAt(position)));
			return (named?.files ?? []).flatMap(({ text: other, places }) =>
				places.filter(isWanted).map(({ from, to }) => locationOf(other, from, to)),
			);
		};
		connection.onDefinition(async ({ textDocument, position }) => {
			const { takenAt } = await loaded();
			const taken = await session.guardedWhenRead("definition", textDocument.uri, (document, plan) =>
				takenAt(session, document, plan, document.offsetAt(position)),
			);
			if (taken) return taken;
			const at = found(textDocument.uri, position);
			const own = (at?.all ?? [])
				.filter(({ role }) => role === "definition")
				.map(({ from, to }) => locationOf(at?.document as PlanText, from, to));
			return own.length > 0 || !at ? own : everywhere(textDocument.uri, position, ({ role }) => role === "definition");
		});
		connection.onReferences(async ({ textDocument, position, context }) => {
			const text = session.text(textDocument.uri);
			const users = text && (await (await loaded()).usersAt(session.index, text, text.offsetAt(position)));
			return (
				users ??
				everywhere(textDocument.uri, position, ({ role }) => context.includeDeclaration || role === "reference")
			);
		});
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
