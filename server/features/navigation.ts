/** Definition, references, highlights and rename of names, over all plans that mean the same by them; who takes a cell. */
import { DocumentHighlightKind, type Location, ResponseError, type WorkspaceEdit } from "vscode-languageserver";
import { inText, placeIn, readPlan } from "../../shared/plan/plan.ts";
import { scalarText } from "../../shared/text/scalar.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { PlanDocument } from "../plan-document.ts";
import { isIn, locationOf, type PlanText, planUri } from "../plan-text.ts";
import type { Feature, Session } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";
import { type NamePlace, nameAt } from "./names.ts";

const words = sentences("feature.navigation", {
	onlyNamesLenses: "Only names of sites, lenses, trackers, landmarks, openings and targets can be renamed.",
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
		/** The same in all plans: loaded on first use. */
		const shared = async (text: PlanText, offset: number) =>
			(await session.loaded(() => import("./shared-names.ts"))).sharedName(session.index, text, offset);
		/** The places of a name in all plans that mean the same by it. */
		const everywhere = async (
			uri: string,
			position: { line: number; character: number },
			isWanted: (place: NamePlace) => boolean,
		): Promise<Location[]> => {
			const text = session.text(uri);
			const named = text && (await shared(text, text.offsetAt(position)));
			return (named?.files ?? []).flatMap(({ text: other, places }) =>
				places.filter(isWanted).map(({ from, to }) => locationOf(other, from, to)),
			);
		};
		connection.onDefinition(async ({ textDocument, position }) => {
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
			const users = text && (await usersAt(session, text, text.offsetAt(position)));
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
			const named = text && (await shared(text, text.offsetAt(position)));
			if (!named) throw new ResponseError(0, told(words.onlyNamesLenses()));
			if (newName.trim() === "") throw new ResponseError(0, told(words.nameCannotBe()));
			const edits = named.files.map(({ text: other, places }) => {
				const old = other.getText();
				return workspaceEdit(
					other,
					places.map(({ from, end, flow }) => ({
						from,
						to: end,
						text: scalarText(newName, { flow, old: old.slice(from, end) }),
					})),
				);
			});
			return { changes: Object.assign({}, ...edits.map(({ changes }) => changes)) };
		});
	},
};

/** Where others take the cell whose kind the cursor is on; undefined where it is on none, or nobody takes it. */
async function usersAt({ index }: Session, text: PlanText, offset: number): Promise<Location[] | undefined> {
	const cell = readPlan(text.getText()).cells.find(({ start, read }) => {
		const key = read.places.get("")?.key;
		return key !== undefined && offset >= start + key.from && offset <= start + key.to;
	});
	if (!cell) return undefined;
	await index.ready();
	const users = index.usersOf(planUri(text), cell.index);
	return users.length > 0 ? users.flatMap(({ cell: { takes } }) => (takes ? [takes.at] : [])) : undefined;
}

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
