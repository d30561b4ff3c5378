/**
 * Reuse: a `site`, `lens` or `tracker` cell with `from: ../sites/chapel.lode.yaml` takes the cell of its kind from
 * another plan; keys of its own override. Paths are relative and stay inside the workspace; cycles end.
 */
import { CELL_KINDS, type CellKindName } from "../cells/kinds.ts";
import { isMapping } from "../notation/mapping.ts";
import { type Cell, cellsOf, type Plan } from "./plan.ts";
import type { ReadCell } from "./read.ts";

/** Where the text of another plan is: `undefined` while it is being fetched. */
export type OtherPlan = { readonly plan: Plan } | { readonly missing: "not-found" | "outside" } | undefined;

/** Gives the plan at a path, as the workspace names it. */
export type Library = (path: string) => OtherPlan;

export interface ReuseProblem {
	readonly cell: Cell;
	readonly type: "not-relative" | "outside" | "not-found" | "no-cell" | "cycle";
	readonly from: string;
	readonly kind: CellKindName;
}

/** A cell that takes from another plan, and where that is. */
export interface ReuseLink {
	readonly cell: Cell;
	/** Path of the other plan, as the workspace names it. */
	readonly path: string;
	/** The cell that was taken, in the other plan's text. */
	readonly target: Cell | undefined;
}

/** Kinds that may take from another plan. */
export const REUSED_KINDS = ["site", "lens", "tracker"] as const satisfies readonly CellKindName[];
/** At most so many plans are followed, one taking from the next. */
export const DEEPEST = 8;

/** `relative` as seen from the folder of `base`; undefined when it is absolute, names a scheme, or leaves the root. */
export function resolvePath(base: string, relative: string): string | undefined {
	if (relative === "" || /^[/\\]|^[A-Za-z][A-Za-z0-9+.-]*:|\\|\0/.test(relative)) return undefined;
	const parts = base.split("/").slice(0, -1);
	for (const part of relative.split("/")) {
		if (part === "" || part === ".") continue;
		if (part !== "..") parts.push(part);
		else if (parts.length === 0 || parts[parts.length - 1] === "") return undefined;
		else parts.pop();
	}
	return parts.join("/");
}

export interface JoinedPlan extends Plan {
	readonly reuse: { readonly problems: readonly ReuseProblem[]; readonly links: readonly ReuseLink[] };
}

/** Joins plans with what they take from others. Equal inputs give the same cell objects: keep one for a document. */
export class PlanJoiner {
	readonly #joined = new WeakMap<ReadCell, { readonly other: unknown; readonly read: ReadCell }>();

	join(plan: Plan, path: string, library: Library): JoinedPlan {
		const problems: ReuseProblem[] = [];
		const links: ReuseLink[] = [];
		const cells = plan.cells.map((cell): Cell => {
			const { read } = cell;
			const from = fromOf(cell);
			if (from === undefined || !read.kind) return cell;
			const found = this.#take(cell, from, path, library, [path], problems, cell);
			if (found?.path !== undefined) links.push({ cell, path: found.path, target: found.target });
			if (!found?.value) return cell;
			return { ...cell, read: this.#merge(read as ReadCell, found.value) };
		});
		return { ...plan, cells, reuse: { problems, links } };
	}

	/** The value another plan has for a cell, what that one takes itself included. */
	#take(
		cell: Cell,
		from: string,
		base: string,
		library: Library,
		visited: readonly string[],
		problems: ReuseProblem[],
		shown: Cell,
	): { path?: string; target?: Cell; value?: object } | undefined {
		const kind = cell.read.kind as CellKindName;
		const problem = (type: ReuseProblem["type"]): undefined => void problems.push({ cell: shown, type, from, kind });
		const path = resolvePath(base, from);
		if (path === undefined) return problem(/^[/\\]|:/.test(from) ? "not-relative" : "outside");
		if (visited.includes(path) || visited.length > DEEPEST) {
			problem("cycle");
			return { path };
		}
		const other = library(path);
		if (!other) return { path };
		if ("missing" in other) {
			problem(other.missing);
			return { path };
		}
		const name = (cell.read.content as { name?: string } | undefined)?.name;
		const candidates = cellsOf(other.plan, kind);
		const target =
			candidates.find(({ read }) => (read.content as { name?: string } | undefined)?.name === name) ?? candidates[0];
		if (!target) {
			problem("no-cell");
			return { path };
		}
		const own = target.read.content as object | undefined;
		const further = fromOf(target);
		const below =
			further === undefined
				? undefined
				: this.#take(target, further, path, library, [...visited, path], problems, shown);
		return { path, target, value: below?.value ? { ...below.value, ...own } : (own ?? {}) };
	}

	#merge(read: ReadCell, other: object): ReadCell {
		const known = this.#joined.get(read);
		if (known && sameValues(known.other as object, other)) return known.read;
		const joined = { ...read, content: { ...other, ...(read.content as object | undefined) } } as ReadCell;
		this.#joined.set(read, { other, read: joined });
		return joined;
	}
}

const sameValues = (a: object, b: object): boolean => {
	const [one, two] = [a as Record<string, unknown>, b as Record<string, unknown>];
	const keys = Object.keys(one);
	return keys.length === Object.keys(two).length && keys.every((key) => Object.is(one[key], two[key]));
};

/** The path a cell takes from, when it does. */
export function fromOf({ read }: Cell): string | undefined {
	if (!read.kind || !(REUSED_KINDS as readonly string[]).includes(read.kind)) return undefined;
	return (read.content as { from?: string } | undefined)?.from;
}

/** Required keys that a cell lacks even with what it takes: the reader leaves them to this when there is a `from`. */
export function stillMissing(cell: Cell): readonly string[] {
	const { kind, content: value } = cell.read;
	const shape = kind && CELL_KINDS[kind].shape;
	if (!shape || !isMapping(shape) || fromOf(cell) === undefined) return [];
	return Object.entries(shape.fields).flatMap(([key, field]) =>
		field.required && !Object.hasOwn((value as object | undefined) ?? {}, key) && !cell.read.places.has(key)
			? [key]
			: [],
	);
}
