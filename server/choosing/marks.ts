/** What the method at the cursor can be pointed at, as choices: loaded on first use. */
import { clockOf } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { nightFor, proposedBy } from "../../shared/evaluate/proposals.ts";
import { suggestionsFor, withCost } from "../../shared/evaluate/suggestions.ts";
import { type Edit, setKey } from "../../shared/findings/finding.ts";
import type { AnyMethod, MethodContent } from "../../shared/methods/methods.ts";
import { methodName, methodOf } from "../../shared/methods/methods.ts";
import { errorDegrees } from "../../shared/notation/angle.ts";
import { nightClock } from "../../shared/outputs/clock.ts";
import type { Cell } from "../../shared/plan/plan.ts";
import type { MarkChoice, MarksAnswer } from "../../shared/protocol/choices.ts";
import type { Given } from "../../shared/text/scalar.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { PlanText } from "../plan-text.ts";
import { workspaceEdit } from "../text-edits.ts";

const words = sentences("mark-choice", {
	at: "{name} at {clock}",
	axis: "axis within {error} (95 %)",
	noMethod: "The plan has no method that is pointed at a star, a body or a landmark.",
	noMarks: "The {method} is not pointed at anything: there is nothing to choose.",
	none: "Nothing that the {method} could be pointed at is in view tonight while you are on site.",
	noNight: "The site needs coordinates and the night a date before anything can be offered.",
});

interface Pointed {
	readonly cell: Cell;
	readonly method: AnyMethod;
	readonly content: MethodContent;
}

/** The marks of the method the cursor is in; elsewhere of the plan's first that has any. */
export function marksAt(document: PlanText, evaluation: Evaluation, here: Cell | undefined): MarksAnswer {
	const nothing = (problem: string): MarksAnswer => ({ choices: [], problem });
	const own = here && pointedBy(here);
	const method = own ?? evaluation.plan.cells.map(pointedBy).find((one) => one && hasMarks(one.method));
	if (!method) return nothing(told(words.noMethod()));
	const name = methodName(method.method, method.content);
	if (!hasMarks(method.method)) return nothing(told(words.noMarks({ method: name })));
	if (!evaluation.tonight) return nothing(told(words.noNight()));
	const choices = choicesOf(document, evaluation, method);
	return choices.length > 0 ? { choices, problem: "" } : nothing(told(words.none({ method: name })));
}

function pointedBy(cell: Cell): Pointed | undefined {
	const content = cell.read.kind === "method" ? cell.read.content : undefined;
	return content?.kind && { cell, method: methodOf(content.kind), content };
}

/** Whether a method names what it is pointed at, and that can be found for it. */
const hasMarks = ({ markKeys, search, propose }: AnyMethod): boolean =>
	markKeys.length > 0 && (search !== undefined || propose !== undefined);

function choicesOf(document: PlanText, evaluation: Evaluation, { cell, method, content }: Pointed): MarkChoice[] {
	const { night, tonight } = evaluation;
	if (!night || !tonight) return [];
	const choice = (label: string, detail: string, keys: Readonly<Record<string, Given>>): MarkChoice => {
		const edits = Object.entries(keys).map(([key, value]) => setKey(cell, "", key, value));
		return {
			label,
			detail,
			edit: workspaceEdit(
				document,
				edits.filter((edit): edit is Edit => edit !== undefined),
			),
		};
	};
	const { search } = method;
	if (search)
		return suggestionsFor(evaluation, method, content).map((found) => {
			const { name, at } = found;
			const keys = search.timed ? { ...found.keys, at: clockOf(night.zone, at) } : found.keys;
			return choice(
				search.timed ? told(words.at({ name, clock: nightClock(night, at) })) : name,
				told(withCost(evaluation, method, content, found, search.choice(found))),
				keys,
			);
		});
	return [...proposedBy(method, nightFor(evaluation, method) ?? tonight)].map(({ keys, by, radius95 }) => {
		const [first] = Object.values(keys);
		const label = typeof first === "object" ? told(by).trim() : String(first);
		return choice(label, told(words.axis({ error: errorDegrees(radius95) })), keys);
	});
}
