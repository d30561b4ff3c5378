/**
 * Names over files: a name is given in one plan and used there, and in every plan that takes the cell it is given in. Who
 * gives a thing of that name itself means that one.
 */
import {
	type Location,
	type ReferenceParams,
	ResponseError,
	type TextDocumentPositionParams,
	type WorkspaceEdit,
} from "vscode-languageserver";
import type { CellKindName } from "../../shared/cells/kinds.ts";
import { inText, type Plan, placeIn, readPlan } from "../../shared/plan/plan.ts";
import { DEEPEST } from "../../shared/plan/reuse.ts";
import { scalarText } from "../../shared/text/scalar.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { IndexedCell, PlanIndex } from "../plan-index.ts";
import { locationOf, type PlanText, planUri } from "../plan-text.ts";
import type { Session } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";
import { type NamePlace, nameAt, namePlaces } from "./names.ts";

const words = sentences("feature.navigation", {
	onlyNamesLenses: "Only names of sites, lenses, trackers, landmarks, openings and targets can be renamed.",
	nameCannotBe: "A name cannot be empty.",
});

/** The places of a name in one file. */
export interface PlacesIn {
	readonly text: PlanText;
	readonly places: readonly NamePlace[];
}

/** The kind of cell in which a thing is given its name. */
const GIVEN_IN: Readonly<Record<NamePlace["space"], CellKindName>> = {
	lens: "lens",
	landmark: "site",
	opening: "site",
	target: "targets",
	site: "site",
	tracker: "tracker",
};

/** By its name a cell is picked out of another plan: it is the same name in both. */
const isPicking = (space: NamePlace["space"]): boolean => space === "site" || space === "lens" || space === "tracker";

/** Every place of the name at an offset, in the plan itself first. */
async function sharedName(
	index: PlanIndex,
	text: PlanText,
	offset: number,
): Promise<{ readonly here: NamePlace; readonly files: readonly PlacesIn[] } | undefined> {
	const own = nameAt({ plan: readPlan(text.getText()) }, offset);
	if (!own) return undefined;
	const { here } = own;
	await index.ready();
	const root = await giving(index, text, here);
	const files: PlacesIn[] = [{ text, places: own.all }];
	if (!root) return { here, files };
	const others = new Set([root.uri, ...index.usersOf(root.uri, root.cell).map(({ uri }) => uri)]);
	others.delete(index.keyOf(planUri(text)));
	for (const uri of others) {
		const other = await index.text(uri);
		if (!other) continue;
		const places = placesOf(readPlan(other.getText()), here);
		const isOwn = places.some(({ role }) => role === "definition") && uri !== root.uri && !isPicking(here.space);
		if (places.length > 0 && !isOwn) files.push({ text: other, places });
	}
	return { here, files };
}

const placesOf = (plan: Plan, { space, name }: NamePlace): readonly NamePlace[] =>
	namePlaces({ plan }).filter((one) => one.space === space && one.name === name);

/** The file and the cell in which the name is given: from the plan on, as far up as it is taken. */
async function giving(
	index: PlanIndex,
	text: PlanText,
	here: NamePlace,
): Promise<{ readonly uri: string; readonly cell: number } | undefined> {
	const kind = GIVEN_IN[here.space];
	let uri = index.keyOf(planUri(text));
	let places = placesOf(readPlan(text.getText()), here);
	let only: IndexedCell | undefined;
	for (let deep = 0; deep <= DEEPEST; deep++) {
		const cells = (index.cellsOf(uri) ?? []).filter((one) => one.kind === kind);
		const given = places.find(({ role }) => role === "definition")?.cell.index;
		const cell: IndexedCell | undefined =
			cells.find((one) => one.index === given) ?? only ?? cells.find(({ takes }) => takes);
		if (!cell) return undefined;
		const above = cell.takes && index.takenBy(cell);
		// A name that picks a cell is that of the cell it picks; any other is given where it is written.
		const goesOn = above && (given === undefined || (isPicking(here.space) && above.content.name === here.name));
		if (!goesOn || !cell.takes) return given === undefined ? undefined : { uri, cell: given };
		uri = cell.takes.uri;
		only = above;
		const other = await index.text(uri);
		if (!other) return undefined;
		places = placesOf(readPlan(other.getText()), here);
	}
	return undefined;
}

/** The edits, in all plans that mean the same by it, that give what is named at an offset another name. */
export async function renamed(
	index: PlanIndex,
	text: PlanText | undefined,
	offset: number,
	newName: string,
): Promise<WorkspaceEdit> {
	const named = text && (await sharedName(index, text, offset));
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
}

/** Where others take the cell whose kind the cursor is on; undefined where it is on none, or nobody takes it. */
async function usersAt(index: PlanIndex, text: PlanText, offset: number): Promise<Location[] | undefined> {
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

/** Where the name is given, or the cell that is taken. */
export async function definitionOf(
	session: Session,
	{ textDocument: { uri }, position }: TextDocumentPositionParams,
): Promise<Location | Location[]> {
	const taken = await session.guardedWhenRead("definition", uri, (document, plan) =>
		takenAt(session, document, plan, document.offsetAt(position)),
	);
	if (taken) return taken;
	const own = session.guarded("names", uri, (document, plan) => {
		const all = nameAt(plan.evaluation(document), document.offsetAt(position))?.all;
		return all?.filter(({ role }) => role === "definition").map(({ from, to }) => locationOf(document, from, to));
	});
	if (!own || own.length > 0) return own ?? [];
	return everywhere(session, uri, position, ({ role }) => role === "definition");
}

/** Who takes a cell, or the places of a name. */
export async function referencesTo(
	session: Session,
	{ textDocument: { uri }, position, context }: ReferenceParams,
): Promise<Location[]> {
	const text = session.text(uri);
	const users = text && (await usersAt(session.index, text, text.offsetAt(position)));
	return users ?? everywhere(session, uri, position, ({ role }) => context.includeDeclaration || role === "reference");
}

/** The places of a name in all plans that mean the same by it. */
async function everywhere(
	session: Session,
	uri: string,
	position: TextDocumentPositionParams["position"],
	isWanted: (place: NamePlace) => boolean,
): Promise<Location[]> {
	const text = session.text(uri);
	const named = text && (await sharedName(session.index, text, text.offsetAt(position)));
	return (named?.files ?? []).flatMap(({ text: other, places }) =>
		places.filter(isWanted).map(({ from, to }) => locationOf(other, from, to)),
	);
}
