/**
 * Reuse: a cell with `from: ../sites/chapel.lode.yaml` takes the cell of its kind from another plan; keys of its own
 * override, entries of its own come behind. Paths are relative and stay inside the workspace; cycles end.
 */
import { CELL_KINDS, type CellKindName } from "../cells/kinds.ts";
import { DEFAULT_KEYS, SETTINGS_FILE, type SettingsContent } from "../cells/settings/keys.ts";
import { takesOfKind } from "../methods/takes-by-kind.ts";
import { isList } from "../notation/list.ts";
import { isMapping } from "../notation/mapping.ts";
import { AddedPlaces } from "./places.ts";
import { type Cell, cellsOf, firstValue, isGroup, type Plan } from "./plan.ts";
import type { ReadCell, ReadSlice } from "./read.ts";

/** Where the text of another plan is: `undefined` while it is being fetched. */
export type OtherPlan = { readonly plan: Plan } | { readonly missing: "not-found" | "outside" } | undefined;

/** Gives the plan at a path, as the workspace names it. */
export type Library = (path: string) => OtherPlan;

export interface ReuseProblem {
	readonly cell: Cell;
	readonly type: "not-relative" | "outside" | "not-found" | "no-cell" | "cycle" | "too-many";
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
	/** Where that one takes from itself, and so on. */
	readonly next?: ReuseLink;
}

/** A link with those behind it. */
export function* linksFrom(link: ReuseLink | undefined): Iterable<ReuseLink> {
	for (let one = link; one; one = one.next) yield one;
}

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

type DefaultKind = keyof typeof DEFAULT_KEYS;
type Defaults = NonNullable<SettingsContent["defaults"]>;

/** The settings that hold for a plan; none for their own file. */
export function settingsOf(path: string, library: Library): SettingsContent | undefined {
	return path === SETTINGS_FILE ? undefined : settingsIn(library);
}

/** What the settings' file says. */
export function settingsIn(library: Library): SettingsContent | undefined {
	const file = library(SETTINGS_FILE);
	return file && "plan" in file ? firstValue(file.plan, "settings") : undefined;
}

export interface JoinedPlan extends Plan {
	readonly path: string;
	readonly reuse: { readonly problems: readonly ReuseProblem[]; readonly links: readonly ReuseLink[] };
	readonly group?: readonly GroupMember[] | undefined;
}

/** Somebody of a group with the plan of the kit. */
export interface GroupMember {
	readonly name: string;
	readonly leads: boolean;
	readonly from: string;
	/** Place in the list. */
	readonly place: number;
	/** The kit's plan on the group's site and night; else why there is none. `undefined`: it is being fetched. */
	readonly plan: Plan | undefined;
	readonly missing?: "not-relative" | "outside" | "not-found" | "group";
	/** The magnetic declination that the kit's plan has for itself: one site and night have one for all, so it is not used. */
	readonly declination?: number;
}

/** What a group has for all, and what a kit has of its own. */
const OF_GROUP = new Set<CellKindName | undefined>(["plan", "site", "night"]);
const OF_KIT = new Set<CellKindName | undefined>(["lens", "tracker", "method", "targets"]);

const hasDeclination = ({ read }: Pick<Cell, "read">): boolean =>
	read.kind === "method" && read.content?.declination !== undefined;

/** Whether a laser is allowed was asked for one place: who takes a method has to ask for theirs. */
const CLEARED = "local-rules-checked";

/** What of a method holds at one place only. */
interface OfOnePlace {
	readonly declination?: number;
	readonly [CLEARED]?: boolean;
}

/** What a cell takes: the link to it, and its content with what that one takes itself. */
interface Taken {
	readonly link: ReuseLink;
	readonly content?: object;
}

/** Joins plans with what they take from others. Equal inputs give the same cell objects: keep one for a document. */
export class PlanJoiner {
	readonly #defaulted = new WeakMap<ReadCell, { readonly defaults: Defaults; readonly read: ReadCell }>();
	readonly #common = new WeakMap<ReadCell, { readonly isCleared: boolean; readonly read: ReadCell }>();
	readonly #joined = new WeakMap<ReadCell, { readonly other: object; readonly read: ReadCell }>();

	join(plan: Plan, path: string, library: Library): JoinedPlan {
		const problems: ReuseProblem[] = [];
		const links: ReuseLink[] = [];
		const settings = settingsOf(path, library);
		const cells = plan.cells.map((cell): Cell => {
			const taken = this.#take(cell, path, library, [path], (type) => {
				const { from = "", kind } = cell.read;
				if (kind) problems.push({ cell, type, from, kind });
			});
			if (taken) links.push(taken.link);
			const whole = taken?.content ? { ...cell, read: this.#merge(cell.read as ReadCell, taken.content) } : cell;
			return settings?.defaults ? this.#withDefaults(whole, settings.defaults) : whole;
		});
		const joined: JoinedPlan = { ...plan, cells, path, settings, reuse: { problems, links } };
		const cell = isGroup(plan) ? cellsOf(plan, "group")[0] : undefined;
		if (!cell) return joined;
		const group = (cell.read.content ?? []).map((one, place): GroupMember => {
			const { name = "", from = "", leads = false } = one;
			const known = { name, from, leads, place };
			const other = resolvePath(path, from);
			if (other === undefined)
				return {
					...known,
					plan: undefined,
					missing: /^[/\\]|:/.test(from) || from === "" ? "not-relative" : "outside",
				};
			links.push({ cell, path: other, target: undefined });
			const found = library(other);
			if (!found) return { ...known, plan: undefined };
			if ("missing" in found) return { ...known, plan: undefined, missing: found.missing };
			// A group of groups would have no end.
			if (isGroup(found.plan)) return { ...known, plan: undefined, missing: "group" };
			const kit = this.join(found.plan, other, library);
			links.push(...kit.reuse.links.map((link) => ({ ...link, cell })));
			const shared = cells.filter(({ read }) => OF_GROUP.has(read.kind));
			const own = kit.cells.filter(({ read }) => OF_KIT.has(read.kind));
			const isCleared = cell.read.content?.some((one) => one[CLEARED] === true) ?? false;
			const declination = cellsOf({ ...kit, cells: own }, "method").find(hasDeclination)?.read.content?.declination;
			return {
				...known,
				...(declination !== undefined && { declination }),
				plan: { ...kit, cells: [...shared, ...own.map((one) => this.#forGroup(one, isCleared))] },
			};
		});
		return { ...joined, group };
	}

	/** A kit's method without what was measured or asked at another place; a laser is cleared for all of a group or for none. */
	#forGroup(cell: Cell, isCleared: boolean): Cell {
		if (cell.read.kind !== "method" || !cell.read.content) return cell;
		const read = cell.read as ReadCell;
		const { declination, [CLEARED]: wasCleared, ...content } = read.content as OfOnePlace;
		if (declination === undefined && (wasCleared ?? false) === isCleared) return cell;
		const known = this.#common.get(read);
		const now =
			known?.isCleared === isCleared
				? known.read
				: ({ ...read, content: { ...content, ...(isCleared && { [CLEARED]: true }) } } as ReadCell);
		this.#common.set(read, { isCleared, read: now });
		return { ...cell, read: now };
	}

	/** The cell with the defaults of the settings beside its own keys. */
	#withDefaults(cell: Cell, defaults: Defaults): Cell {
		const read = cell.read as ReadCell;
		const keys =
			read.kind && Object.hasOwn(DEFAULT_KEYS, read.kind) ? DEFAULT_KEYS[read.kind as DefaultKind] : undefined;
		const own = read.content as Readonly<Record<string, unknown>> | undefined;
		if (!keys || !own) return cell;
		const known = this.#defaulted.get(read);
		if (known?.defaults === defaults) return { ...cell, read: known.read };
		const content: Record<string, unknown> = { ...own };
		for (const key of Object.keys(keys)) {
			const value = defaultFor(key, defaults, own);
			if (value === undefined) continue;
			const written = own[key];
			// Of a mapping each key by itself.
			content[key] =
				typeof value === "object" && typeof written === "object" ? { ...value, ...written } : (written ?? value);
		}
		const now = { ...read, content } as ReadCell;
		this.#defaulted.set(read, { defaults, read: now });
		return { ...cell, read: now };
	}

	#take(
		cell: Cell,
		base: string,
		library: Library,
		visited: readonly string[],
		tell: (problem: ReuseProblem["type"]) => void,
	): Taken | undefined {
		const { from, kind } = cell.read;
		if (from === undefined || !kind) return undefined;
		const path = resolvePath(base, from);
		if (path === undefined) {
			tell(/^[/\\]|:/.test(from) ? "not-relative" : "outside");
			return undefined;
		}
		const nothing: Taken = { link: { cell, path, target: undefined } };
		if (visited.includes(path) || visited.length > DEEPEST) {
			tell("cycle");
			return nothing;
		}
		const other = library(path);
		if (!other) return nothing;
		if ("missing" in other) {
			tell(other.missing);
			return nothing;
		}
		const target = meant(cell, other.plan);
		if (!target) {
			tell("no-cell");
			return nothing;
		}
		const below = this.#take(target, path, library, [...visited, path], tell);
		const content = joined(kind, below?.content, (target.read.content as object | undefined) ?? {});
		if (content.cut) tell("too-many");
		const { [CLEARED]: _, ...taken } = content.whole as OfOnePlace;
		return {
			link: { cell, path, target, ...(below && { next: below.link }) },
			content: kind === "method" ? taken : content.whole,
		};
	}

	#merge(read: ReadCell, other: object): ReadCell {
		const known = this.#joined.get(read);
		if (known && sameValues(known.other, other)) return known.read;
		const { places } = read;
		const now = {
			...read,
			content: joined(read.kind, other, (read.content as object | undefined) ?? {}).whole,
			places: places instanceof AddedPlaces && Array.isArray(other) ? places.behind(other.length) : places,
		} as ReadCell;
		this.#joined.set(read, { other, read: now });
		return now;
	}
}

/** What the settings have for a key of a cell; how long a method takes they have by its kind. */
const defaultFor = (key: string, defaults: Defaults, own: object): unknown =>
	key === "takes" ? takesOfKind(defaults.takes, own) : (defaults as Readonly<Record<string, unknown>>)[key];

const meant = ({ read }: Cell, plan: Plan): Cell | undefined => {
	const { kind } = read;
	const candidates = kind ? cellsOf(plan, kind).map((cell) => ({ cell, content: asNamed(cell.read) })) : [];
	return kind && meantAmong({ kind, content: asNamed(read) }, candidates)?.cell;
};

/** What singles a cell out from others of its kind. */
interface Named {
	readonly content: { readonly name?: string; readonly kind?: string };
}

/**
 * The cell of the other plan that is meant: that of the same name, for a method of the same kind; else the first. Among
 * several a name that none of them has means none.
 */
export function meantAmong<T extends Named>(
	{ kind, content }: Named & { readonly kind: CellKindName },
	candidates: readonly T[],
): T | undefined {
	if (kind === "method" && content.kind !== undefined)
		return candidates.find((one) => one.content.kind === content.kind);
	const same = candidates.find((one) => one.content.name === content.name);
	return same ?? (content.name !== undefined && candidates.length > 1 ? undefined : candidates[0]);
}

const asNamed = ({ content }: ReadSlice): Named["content"] => (content as Named["content"] | undefined) ?? {};

/** Own keys beside another cell's, own entries behind another list's; of too long a list the rest is left out. */
function joined(
	kind: CellKindName,
	other: object | undefined,
	own: object,
): { readonly whole: object; readonly cut: boolean } {
	if (!Array.isArray(own)) return { whole: { ...other, ...own }, cut: false };
	const { shape } = CELL_KINDS[kind];
	const all = [...((other ?? []) as readonly unknown[]), ...own];
	const most = isList(shape) ? shape.max : all.length;
	return { whole: all.slice(0, most), cut: all.length > most };
}

const sameValues = (a: object, b: object): boolean => {
	const [one, two] = [a as Record<string, unknown>, b as Record<string, unknown>];
	const keys = Object.keys(one);
	return keys.length === Object.keys(two).length && keys.every((key) => Object.is(one[key], two[key]));
};

/** Required keys that a cell lacks even with what it takes: the reader leaves them to this when there is a `from`. */
export function stillMissing(cell: Cell): readonly string[] {
	const { kind, content: value } = cell.read;
	const shape = kind && CELL_KINDS[kind].shape;
	if (!shape || !isMapping(shape) || cell.read.from === undefined) return [];
	return Object.entries(shape.fields).flatMap(([key, field]) =>
		field.required && !Object.hasOwn((value as object | undefined) ?? {}, key) && !cell.read.places.has(key)
			? [key]
			: [],
	);
}
