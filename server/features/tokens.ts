/** Semantic tokens: stars and bodies, quantities, bearings, times and dates, names and words of the model. */
import type { SemanticTokens } from "vscode-languageserver";
import type { ShapeData } from "../../shared/notation/shape.ts";
import { modelAt } from "../../shared/plan/field-at.ts";
import type { PlanDocument } from "../plan-document.ts";
import { isIn, type PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";

/** Standard token types, so that every theme colours them. */
const TYPES = ["class", "number", "enumMember", "variable", "event", "property"] as const;

const TYPE_OF: Readonly<Partial<Record<ShapeData["type"], (typeof TYPES)[number]>>> = {
	"sky-name": "class",
	quantity: "number",
	bearing: "number",
	coordinate: "number",
	sensor: "number",
	"pixel-count": "number",
	word: "enumMember",
	reference: "variable",
	clock: "event",
	date: "event",
	zone: "variable",
	either: "class",
};

export const tokens: Feature = {
	capabilities: {
		semanticTokensProvider: { legend: { tokenTypes: [...TYPES], tokenModifiers: [] }, full: true },
	},
	listen(session) {
		session.connection.languages.semanticTokens.on(
			({ textDocument }): SemanticTokens => session.guarded("tokens", textDocument.uri, tokensOf) ?? { data: [] },
		);
	},
};

export function tokensOf(document: PlanText, plan: PlanDocument): SemanticTokens {
	const found: { line: number; character: number; length: number; type: number }[] = [];
	for (const cell of plan.evaluation(document).plan.cells) {
		const { kind, places } = cell.read;
		if (!kind) continue;
		for (const [path, { value, source }] of places) {
			const type = TYPE_OF[modelAt(kind, path)?.shape.type ?? "text"];
			if (
				type === undefined ||
				(source === undefined && !/\.stars\.\d+$|^stars\.\d+$/.test(path)) ||
				value.to <= value.from ||
				!isIn(document, cell.start + value.from)
			)
				continue;
			const { line, character } = document.positionAt(cell.start + value.from);
			found.push({ line, character, length: value.to - value.from, type: TYPES.indexOf(type) });
		}
	}
	found.sort((a, b) => a.line - b.line || a.character - b.character);
	const data: number[] = [];
	let [line, character] = [0, 0];
	for (const token of found) {
		const deltaLine = token.line - line;
		data.push(deltaLine, deltaLine === 0 ? token.character - character : token.character, token.length, token.type, 0);
		[line, character] = [token.line, token.character];
	}
	return { data };
}
