/** Outline: cells, targets, landmarks, openings; and the names of all open plans for the workspace's symbols. */
import { type DocumentSymbol, SymbolKind, type WorkspaceSymbol } from "vscode-languageserver";
import { type Cell, cellName } from "../../shared/plan/plan.ts";
import type { PlanDocument } from "../plan-document.ts";
import { isIn, type PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";

export const symbols: Feature = {
	capabilities: { documentSymbolProvider: { label: "Lodebook" }, workspaceSymbolProvider: true },
	listen(session) {
		const { connection, documents } = session;
		connection.onDocumentSymbol(({ textDocument }) => session.guarded("symbols", textDocument.uri, symbolsOf));
		connection.onWorkspaceSymbol(({ query }): WorkspaceSymbol[] => {
			const wanted = query.toLowerCase();
			const uris = [...documents.all(), ...session.notebooks.all().flatMap(({ cells }) => cells)].map(({ uri }) => uri);
			return uris.flatMap((uri) => {
				const all = (session.guarded("symbols", uri, symbolsOf) ?? []).flatMap((symbol) => [
					symbol,
					...(symbol.children ?? []),
				]);
				return all
					.filter(({ name }) => name.toLowerCase().includes(wanted))
					.slice(0, 200)
					.map(({ name, kind, selectionRange }) => ({ name, kind, location: { uri, range: selectionRange } }));
			});
		});
	},
};

const KINDS: Readonly<Record<string, SymbolKind>> = {
	plan: SymbolKind.File,
	site: SymbolKind.Namespace,
	night: SymbolKind.Event,
	lens: SymbolKind.Object,
	tracker: SymbolKind.Object,
	method: SymbolKind.Method,
	targets: SymbolKind.Array,
	note: SymbolKind.String,
	log: SymbolKind.Array,
};

const MOST_SYMBOLS = 2000;

export function symbolsOf(document: PlanText, plan: PlanDocument): DocumentSymbol[] {
	const evaluation = plan.evaluation(document);
	let left = MOST_SYMBOLS;
	return evaluation.plan.cells.flatMap((cell) => {
		const place = cell.read.places.get("");
		if (!cell.read.kind || !place?.key || !isIn(document, cell.start + place.key.from) || left-- <= 0) return [];
		const range = {
			start: document.positionAt(cell.start + place.key.from),
			end: document.positionAt(cell.start + contentEnd(cell)),
		};
		const selectionRange = { start: range.start, end: document.positionAt(cell.start + place.key.to) };
		const name = cellName(evaluation.plan, cell);
		const method = evaluation.methods.find((one) => one.cell === cell)?.value;
		return [
			{
				name: method ? method.name : name,
				detail: name === cell.read.kind ? "" : cell.read.kind,
				kind: KINDS[cell.read.kind] ?? SymbolKind.Object,
				range,
				selectionRange,
				children: childrenOf(document, cell),
			},
		];
	});
}

function childrenOf(document: PlanText, cell: Cell): DocumentSymbol[] {
	const found: DocumentSymbol[] = [];
	const seen = new Set<number>();
	for (const [path, place] of cell.read.places) {
		const match = /^(?:(landmarks|openings|obstructions)\.)?\d+\.name$/.exec(path);
		if (!match || place.source === undefined || place.value.to <= place.value.from || seen.has(place.value.from))
			continue;
		seen.add(place.value.from);
		const item = cell.read.places.get(path.replace(/\.name$/, ""))?.value ?? place.value;
		const selectionRange = {
			start: document.positionAt(cell.start + place.value.from),
			end: document.positionAt(cell.start + place.value.to),
		};
		const start = document.positionAt(cell.start + Math.min(item.from, place.value.from));
		const end = document.positionAt(cell.start + Math.max(item.to, place.value.to));
		found.push({
			name: place.source.trim() || "unnamed",
			kind:
				match[1] === undefined ? SymbolKind.Field : match[1] === "landmarks" ? SymbolKind.Key : SymbolKind.Interface,
			range: { start, end },
			selectionRange,
		});
	}
	return found;
}

/** Where a cell's content ends: its last character that is no blank line. */
export const contentEnd = ({ text }: Cell): number => text.trimEnd().length;
