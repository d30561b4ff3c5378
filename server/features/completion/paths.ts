/** What a cell may take: the plans that hold one of its kind, and the names of those in the plan it takes from. */
import { CompletionItemKind } from "vscode-languageserver";
import type { CellKindName } from "../../../shared/cells/kinds.ts";
import { modelAt } from "../../../shared/plan/field-at.ts";
import { listText } from "../../../shared/text/list.ts";
import { scalarText } from "../../../shared/text/scalar.ts";
import { sentences, told } from "../../../shared/text/sentence.ts";
import type { PlanIndex } from "../../plan-index.ts";
import type { Place } from "./place.ts";
import type { Proposal } from "./proposal.ts";

/** More are not offered at once: those in the nearest folders come first. */
const MOST_PATHS = 100;

/** Offered behind `from`, and behind the name of a cell that takes from another. */
export function othersToTake(index: PlanIndex, own: string, place: Place): readonly Proposal[] {
	const { context, path, kind, cell } = place;
	if (context.part !== "value" || !modelAt(kind, path)) return [];
	if (path === "from") return pathsToTake(index, own, kind, place);
	if (path !== "name" || cell.read.from === undefined) return [];
	const old = /^["']/.exec(context.prefix)?.[0] ?? "";
	const self = index.cellsOf(index.keyOf(own))?.find((one) => one.index === cell.index);
	const others = (self?.takes && index.cellsOf(self.takes.uri)) ?? [];
	const names = others.flatMap((one) => (one.kind === kind ? (one.content.name ?? []) : []));
	return [...new Set(names)].slice(0, MOST_PATHS).map(
		(name, i): Proposal => ({
			label: name,
			beside: told(words.inThere({ kind, path: cell.read.from ?? "" })),
			kind: CompletionItemKind.Reference,
			rank: `4${String(i).padStart(4, "0")}`,
			filter: scalarText(name, { flow: context.flow, old }),
			text: [scalarText(name, { flow: context.flow, old })],
		}),
	);
}

const words = sentences("completion.paths", { inThere: "{kind} in {path}" });

/** The plans that a cell of `own` may take from, with the names of the cells that would be taken. */
function pathsToTake(index: PlanIndex, own: string, kind: CellKindName, { context }: Place): readonly Proposal[] {
	const old = /^["']/.exec(context.prefix)?.[0] ?? "";
	const here = index.keyOf(own);
	const found = [...index.all()].flatMap(([uri, cells]) => {
		const wanted = cells.filter((one) => one.kind === kind);
		if (uri === here || wanted.length === 0) return [];
		const path = relativePath(index.pathOf(here), index.pathOf(uri));
		return path === undefined
			? []
			: [{ path, names: wanted.flatMap(({ content }) => content.name ?? content.kind ?? []) }];
	});
	const steps = (path: string): number => path.split("/").length;
	return found
		.sort((a, b) => steps(a.path) - steps(b.path) || (a.path < b.path ? -1 : 1))
		.slice(0, MOST_PATHS)
		.map(
			({ path, names }, i): Proposal => ({
				label: path,
				beside: names.length > 0 ? listText(names.slice(0, 3)) : kind,
				kind: CompletionItemKind.File,
				rank: `4${String(i).padStart(4, "0")}`,
				filter: scalarText(path, { flow: context.flow, old }),
				text: [scalarText(path, { flow: context.flow, old })],
			}),
		);
}

/** A path as seen from the folder of another; both from the root on. */
export function relativePath(from: string, to: string): string | undefined {
	const [base, other] = [from.split("/").slice(0, -1), to.split("/")];
	if (base.includes("") || other.includes("")) return undefined;
	let common = 0;
	while (common < base.length && common < other.length - 1 && base[common] === other[common]) common++;
	return [...base.slice(common).map(() => ".."), ...other.slice(common)].join("/");
}
