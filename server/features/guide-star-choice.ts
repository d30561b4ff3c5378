/** Guide stars of a method as choices: asked for by a command of the extension. */
import { clockOf } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { momentarySuggestions, type Suggestions, suggestionsFor } from "../../shared/evaluate/suggestions.ts";
import { setKey } from "../../shared/findings/finding.ts";
import { methodOf } from "../../shared/methods/methods.ts";
import { cellAt } from "../../shared/plan/field-at.ts";
import type { Cell } from "../../shared/plan/plan.ts";
import { GUIDE_STARS, type StarChoice } from "../../shared/protocol/choices.ts";
import { answer } from "../../shared/protocol/message.ts";
import { told } from "../../shared/text/sentence.ts";
import type { Feature } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";

export const guideStarChoice: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, GUIDE_STARS, ({ uri, line }) =>
			session.guarded("guide stars", uri, (document, plan): StarChoice[] => {
				const evaluation = plan.evaluation(document);
				const { night, plan: read } = evaluation;
				const here = cellAt(read.cells, document.offsetAt({ line: Number(line) || 0, character: 0 }));
				const searched = searchAt(evaluation, here) ?? momentarySuggestions(evaluation);
				if (!searched?.cell || !night) return [];
				const { cell, method, found } = searched;
				return found.map((one) => {
					const clock = clockOf(night.zone, one.at);
					const taken = Object.entries(one.keys).map(([key, value]) => setKey(cell, "", key, value));
					const edits = [...taken, setKey(cell, "", "at", clock)].filter((edit) => edit !== undefined);
					return {
						label: `${one.name} at ${clock}`,
						detail: method.search ? told(method.search.choice(one)) : "",
						edit: workspaceEdit(document, edits),
					};
				});
			}),
		);
	},
};

/** What the method of a cell searches for, if it searches. */
function searchAt(evaluation: Evaluation, cell: Cell | undefined): Suggestions | undefined {
	const content = cell?.read.kind === "method" ? cell.read.content : undefined;
	const method = content?.kind && methodOf(content.kind);
	if (!content || !method?.search?.timed) return undefined;
	return { method, content, cell, found: suggestionsFor(evaluation, method, content) };
}
