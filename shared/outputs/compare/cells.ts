/** Which cells of two plans are the same cell: methods by kind and mark, lenses by name, others by their kind. */

import { type Cell, cellName, type Plan } from "../../plan/plan.ts";
import { SIGNS } from "../../plan/same-cells.ts";
import { pairUp } from "../../text/pairs.ts";
import { sentences, told } from "../../text/sentence.ts";

const words = sentences("output.compare.cells", { unreadable: "unreadable cell" });

/** A cell of both plans, or of one of them. */
export interface CellPair {
	/** `site`, `method 2`, `lens wide`: by its place and name in the new plan, or in the old one when it is gone. */
	readonly label: string;
	readonly before: Cell | undefined;
	readonly after: Cell | undefined;
}

export function cellPairs(before: Plan, after: Plan): readonly CellPair[] {
	const [old, now] = [labels(before), labels(after)];
	const kinds = new Set([...after.cells, ...before.cells].map(({ read }) => read.kind));
	return [...kinds].flatMap((kind) => {
		const of = ({ cells }: Plan): readonly Cell[] => cells.filter(({ read }) => read.kind === kind);
		return pairUp(of(before), of(after), SIGNS).map((pair): CellPair => {
			const label = (pair.after && now.get(pair.after)) ?? (pair.before && old.get(pair.before)) ?? "";
			return { label, before: pair.before, after: pair.after };
		});
	});
}

const SEVERAL = new Set(["lens", "method", "note"]);

function labels(plan: Plan): ReadonlyMap<Cell, string> {
	const labelled = new Map<Cell, string>();
	const counts = new Map<string, number>();
	const used = new Set<string>();
	for (const cell of plan.cells) {
		const kind = cell.read.kind ?? told(words.unreadable());
		const count = (counts.get(kind) ?? 0) + 1;
		counts.set(kind, count);
		const name = kind === "lens" ? cellName(plan, cell) : "";
		const label =
			!SEVERAL.has(kind) && count === 1
				? kind
				: name !== "" && name !== kind && !used.has(`${kind} ${name}`)
					? `${kind} ${name}`
					: `${kind} ${count}`;
		used.add(label);
		labelled.set(cell, label);
	}
	return labelled;
}
