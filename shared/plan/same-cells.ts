/** By what a cell is the same cell in another state of its plan: methods by kind and mark, lenses by name, all by their kind. */
import { type MethodContent, methodOf } from "../methods/methods.ts";
import type { Cell } from "./plan.ts";

/** The surest sign first; cells of different kinds have none in common. */
export const SIGNS: readonly ((cell: Cell) => string | undefined)[] = [
	(cell) => signed(cell, ownName(cell)),
	(cell) => signed(cell, cell.text.trim()),
	(cell) => signed(cell, cell.read.kind === "method" ? (methodContent(cell)?.kind ?? "") : ""),
];

const signed = ({ read }: Cell, sign: string | undefined): string | undefined =>
	sign === undefined ? undefined : `${read.kind ?? ""} ${sign}`;

/** The name of a lens; of a method its kind and what it is pointed at. */
function ownName(cell: Cell): string | undefined {
	if (cell.read.kind === "lens") return (cell.read.content as { name?: string } | undefined)?.name;
	const content = methodContent(cell);
	const key = content?.kind && methodOf(content.kind).search?.key;
	const mark = key && (content as Readonly<Record<string, unknown>>)[key];
	return mark === undefined ? undefined : `${content?.kind} ${JSON.stringify(mark)}`;
}

const methodContent = ({ read }: Cell): MethodContent | undefined =>
	read.kind === "method" ? read.content : undefined;
