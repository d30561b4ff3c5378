/** Semantic tokens: stars and bodies, quantities, bearings, times and dates, names and words of the model. */
import type { SemanticTokens } from "vscode-languageserver";
import type { Colour } from "../../shared/notation/notation.ts";
import { modelAt } from "../../shared/plan/field-at.ts";
import { type Pick, picked } from "../../shared/plan/pick.ts";
import type { PlanDocument } from "../plan-document.ts";
import { isIn, type PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";

/** The legend, in the order of the numbers sent. */
const TYPES: readonly Colour[] = ["class", "number", "enumMember", "variable", "event", "property"];

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

/** The number of a place's colour. */
const colourAt: Pick<number> = (kind, path, { value, source }) => {
	const colour = modelAt(kind, path)?.shape.colour;
	// Only scalars are coloured; items of lists are known by their numbers.
	const scalar = source !== undefined || /(?:^|\.)\d+$/.test(path);
	return colour === undefined || !scalar || value.to <= value.from ? undefined : TYPES.indexOf(colour);
};

export function tokensOf(document: PlanText, plan: PlanDocument): SemanticTokens {
	// A value that an alias names again has one place.
	const seen = new Set<number>();
	const found: { line: number; character: number; length: number; type: number }[] = [];
	for (const cell of plan.evaluation(document).plan.cells) {
		for (const { place, found: type } of picked(cell, colourAt)) {
			const { value } = place;
			if (seen.has(cell.start + value.from) || !isIn(document, cell.start + value.from)) continue;
			seen.add(cell.start + value.from);
			const { line, character } = document.positionAt(cell.start + value.from);
			found.push({ line, character, length: value.to - value.from, type: type });
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
