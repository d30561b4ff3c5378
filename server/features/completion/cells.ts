/** Cells: a whole plan where there is none yet, and the kinds that may stand at a place. */
import { CompletionItemKind } from "vscode-languageserver";
import { CELL_KINDS, type CellKindName } from "../../../shared/cells/kinds.ts";
import { fieldsOf } from "../../../shared/notation/list.ts";
import { isLibrary, type Plan } from "../../../shared/plan/plan.ts";
import { kindsToAdd, skeletonOf, wholePlan } from "../../../shared/plan/skeleton.ts";
import { sentences, told } from "../../../shared/text/sentence.ts";
import { offersFirst } from "./place.ts";
import type { Proposal } from "./proposal.ts";

const words = sentences("completion.cells", {
	whole: "new plan",
	wholeAbout: "all its cells, to fill in",
	wholeDoc: "Every cell that a plan needs, with a gap for each value that only you know.",
	missing: "the plan needs it",
	fallback: "fallback {number}",
	another: "one more cell",
});

/** A plan from its first line to its last, where there is nothing yet. */
const whole = (): Proposal => ({
	label: told(words.whole()),
	beside: told(words.wholeAbout()),
	doc: told(words.wholeDoc()),
	kind: CompletionItemKind.Snippet,
	rank: "00",
	filter: "new plan",
	text: wholePlan(),
});

/** Kinds of cells where a cell begins; `named`: its colon is there already. */
export const cellsToBegin = (plan: Plan, named: boolean): readonly Proposal[] => [
	...(plan.text.trim() === "" ? [whole()] : []),
	...kindsToAdd(plan).map(({ kind, missing }, i) => {
		const own = cell(plan, kind, missing, `1${missing ? 0 : 1}${two(i)}`);
		return named ? { ...own, text: [kind], goesOn: false } : own;
	}),
];

/** Kinds of cells that may come after the one the cursor is in, at its end. */
export const cellsToAdd = (plan: Plan, indent: number): readonly Proposal[] =>
	kindsToAdd(plan).map(({ kind, missing }, i) => {
		const own = cell(plan, kind, missing, `8${missing ? 0 : 1}${two(i)}`);
		return { ...own, columnsBefore: indent, text: ["---\n", ...own.text] };
	});

const two = (number: number): string => String(number).padStart(2, "0");

function cell(plan: Plan, kind: CellKindName, missing: boolean, rank: string): Proposal {
	const text = skeletonOf(kind);
	const [first] = Object.values(fieldsOf(CELL_KINDS[kind].shape) ?? {}).filter(({ required }) => required);
	const there = plan.cells.filter(({ read }) => read.kind === kind).length;
	const beside = missing
		? words.missing()
		: kind === "method" && there > 0 && !isLibrary(plan)
			? words.fallback({ number: there })
			: words.another();
	return {
		label: kind,
		beside: told(beside),
		doc: CELL_KINDS[kind].doc,
		kind: CompletionItemKind.Module,
		rank,
		text,
		goesOn: offersFirst(text, first),
	};
}
