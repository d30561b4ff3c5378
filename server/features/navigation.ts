/** Definition, references, highlights and rename of named lenses, landmarks, openings and targets. */

import { DocumentHighlightKind, type Location, ResponseError } from "vscode-languageserver";
import { inText, placeIn } from "../../shared/plan/plan.ts";
import { scalarText } from "../../shared/text/scalar.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { PlanDocument } from "../plan-document.ts";
import { isIn, locationOf, type PlanText, planUri } from "../plan-text.ts";
import type { Feature, Session } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";
import { nameAt } from "./names.ts";

const words = sentences("feature.navigation", {
	onlyNamesLenses: "Only names of lenses, landmarks, openings and targets can be renamed.",
	nameCannotBe: "A name cannot be empty.",
});

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
		connection.onDefinition(async ({ textDocument, position }) => {
			const taken = await session.guardedWhenRead("definition", textDocument.uri, (document, plan) =>
				takenAt(session, document, plan, document.offsetAt(position)),
			);
			if (taken) return taken;
			const at = found(textDocument.uri, position);
			return (at?.all ?? [])
				.filter(({ role }) => role === "definition")
				.map(({ from, to }) => locationOf(at?.document as PlanText, from, to));
		});
		connection.onReferences(({ textDocument, position, context }) => {
			const at = found(textDocument.uri, position);
			return (at?.all ?? [])
				.filter(({ role }) => context.includeDeclaration || role === "reference")
				.map(({ from, to }) => locationOf(at?.document as PlanText, from, to));
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
		connection.onRenameRequest(({ textDocument, position, newName }) => {
			const at = found(textDocument.uri, position);
			if (!at?.here) throw new ResponseError(0, told(words.onlyNamesLenses()));
			if (newName.trim() === "") throw new ResponseError(0, told(words.nameCannotBe()));
			const text = at.document.getText();
			return workspaceEdit(
				at.document,
				(at.all ?? []).map(({ from, end, flow }) => ({
					from,
					to: end,
					text: scalarText(newName, { flow, old: text.slice(from, end) }),
				})),
			);
		});
	},
};

/** The cell of another plan that a cell takes from, when the cursor is on its `from`. */
function takenAt(session: Session, document: PlanText, plan: PlanDocument, offset: number): Location | undefined {
	for (const { cell, path, target } of plan.takesFrom(document)) {
		const span = inText(cell, placeIn(cell, "from").value);
		if (offset < span.from || offset > span.to || !target) continue;
		const { library } = session.library.seenFrom(planUri(document));
		const other = library(path);
		const text = other && "plan" in other ? other.plan.text : "";
		const before = text.slice(0, target.start + (target.read.places.get("")?.key?.from ?? 0)).split("\n");
		const start = { line: before.length - 1, character: (before[before.length - 1] ?? "").length };
		return {
			uri: session.library.uriOf(planUri(document), path),
			range: { start, end: { line: start.line, character: start.character + (target.read.kind?.length ?? 0) } },
		};
	}
	return undefined;
}
