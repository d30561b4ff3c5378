/** What changed in the text of two states of a cell: key by key, and in lists by what their items are. */
import { pairUp, reordered } from "../../text/pairs.ts";
import { type Branch, isItem, itemName } from "./tree.ts";

export interface KeyChange {
	readonly cell: string;
	/** Name of the item it belongs to, in a list. */
	readonly of: string | null;
	/** Path of the key in its cell, or in the item; empty for all of it. `order` where a list has another one. */
	readonly key: string;
	/** As written; null when it is not there. */
	readonly before: string | null;
	readonly after: string | null;
}

/** Items of a list that are the same in both states, by the names that they have, and those of one state alone. */
export interface Named {
	/** By the old name. */
	readonly renamed: Map<string, string>;
	readonly added: Set<string>;
	readonly removed: Set<string>;
}

/** The name of the list of a key, for its own order. */
export const ORDER = "order";

/** Whether what changed is the order of a list and nothing of what is in it. */
export const isOrder = ({ key }: KeyChange): boolean => key === ORDER || key.endsWith(`.${ORDER}`);

/** Key by key what is another in two states of a cell; `named` is told which items of its lists are the same. */
export function keyChanges(cell: string, before: Branch, after: Branch, named: Named): readonly KeyChange[] {
	const changes: KeyChange[] = [];
	differ(before, after, "", null);
	return changes;

	function add(key: string, of: string | null, was: string | undefined, is: string | undefined): void {
		changes.push({ cell, of, key, before: was ?? null, after: is ?? null });
	}

	function differ(old: Branch, now: Branch, key: string, of: string | null): void {
		if (old.text === now.text && old.text !== "") return;
		if (old.is === "points" && now.is === "points") {
			const stretch = differentStretch(old, now);
			if (stretch) add(key, of, stretch.before, stretch.after);
		} else if (isWhole(old) || isWhole(now)) {
			if (flat(old.text) !== flat(now.text)) add(key, of, old.text, now.text);
		} else {
			const [was, is] = [itemsOf(old), itemsOf(now)];
			if (was.length + is.length > 0) items(was, is, key, of);
			for (const part of new Set([...keysOf(old), ...keysOf(now)])) {
				const [one, other] = [old.below.get(part), now.below.get(part)];
				const path = key === "" ? part : `${key}.${part}`;
				if (one && other) differ(one, other, path, of);
				else add(path, of, one?.text, other?.text);
			}
		}
	}

	function items(before: readonly Branch[], after: readonly Branch[], key: string, of: string | null): void {
		const pairs = pairUp(before, after, [
			(item) => item.below.get("name")?.text,
			(item) => flat(item.text),
			(item) => (item.is === "mapping" ? contentWithoutName(item) : undefined),
			(item) => (item.is === "mapping" && !item.below.has("name") ? itemName(item) : undefined),
		]);
		for (const { before: was, after: is } of pairs) {
			const name = itemName((is ?? was) as Branch);
			const owner = of === null ? name : `${of}, ${name}`;
			if (was && is) {
				const oldName = itemName(was);
				if (oldName !== name) named.renamed.set(oldName, name);
				differ(was, is, key, owner);
			} else {
				(is ? named.added : named.removed).add(name);
				add(key, owner, was?.text, is?.text);
			}
		}
		const order = reordered(before, pairs, itemName);
		if (order) add(key === "" ? ORDER : `${key}.${ORDER}`, of, order.before, order.after);
	}
}

/** All that is written as a cell that is there in one state only. */
export const wholeCell = (cell: string, before: string | undefined, after: string | undefined): KeyChange => ({
	cell,
	of: null,
	key: "",
	before: before === undefined ? null : withoutMarker(before),
	after: after === undefined ? null : withoutMarker(after),
});

const withoutMarker = (text: string): string => text.replace(/^---[ \t]*(?:\r?\n|$)/, "").trim();

/** Told as one text: a value, or a list of nothing but values. */
const isWhole = ({ is, below }: Branch): boolean =>
	is === "scalar" || is === "points" || (is === "list" && [...below.values()].every((item) => item.is === "scalar"));

/** The items of a list; of a list that begins with another plan's those that it adds. */
const itemsOf = ({ below }: Branch): readonly Branch[] => [...below.values()].filter(isItem);

/** Keys of a mapping. What is added to another plan's list is in its items. */
const keysOf = ({ below }: Branch): readonly string[] =>
	[...below.values()].some(isItem)
		? [...below.keys()].filter((key) => key !== "add" && !isItem({ key }))
		: [...below.keys()];

const flat = (text: string): string => text.replace(/\s+/g, " ").trim();

const contentWithoutName = ({ below }: Branch): string =>
	[...below]
		.filter(([part]) => part !== "name")
		.map(([part, { text }]) => `${part}: ${flat(text)}`)
		.join("\n");

/** Of two lists of points what is not alike at their beginnings and ends; undefined where all is. */
function differentStretch(
	old: Branch,
	now: Branch,
): { readonly before: string | undefined; readonly after: string | undefined } | undefined {
	const [before, after] = [old, now].map(({ below }) => [...below.values()].map(({ text }) => flat(text)));
	if (!before || !after) return undefined;
	const most = Math.min(before.length, after.length);
	let start = 0;
	while (start < most && before[start] === after[start]) start++;
	let end = 0;
	while (end < most - start && before.at(-1 - end) === after.at(-1 - end)) end++;
	if (start === before.length && start === after.length) return undefined;
	const text = (all: readonly string[]): string | undefined => {
		const part = all.slice(start, all.length - end);
		return part.length === 0
			? undefined
			: [start > 0 ? "…" : "", part.join(", "), end > 0 ? "…" : ""].filter((one) => one !== "").join(" ");
	};
	return { before: text(before), after: text(after) };
}
