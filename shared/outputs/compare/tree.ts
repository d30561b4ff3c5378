/** The text of a cell as a tree: what is written at each path, lists item by item. */
import type { Cell } from "../../plan/plan.ts";

/** What is written at a path. */
export interface Branch {
	/** The last part of its path. */
	readonly key: string;
	/** As it is written; a scalar without its quotes. */
	readonly text: string;
	readonly is: "scalar" | "mapping" | "list" | "points";
	readonly below: ReadonlyMap<string, Branch>;
	/** Offset in the slice. */
	readonly from: number;
}

/** The tree of a cell; undefined where it could not be read. */
export function treeOf({ text, read }: Cell): Branch | undefined {
	if (read.kind === undefined || read.content === undefined) return undefined;
	const root = growing("", "", 0);
	for (const [path, { key, value, whole, source }] of read.places) {
		const span = whole ?? value;
		let at = root;
		for (const part of path === "" ? [] : path.split(".")) {
			let next = at.below.get(part);
			if (!next) {
				next = growing(part, "", span.from);
				at.below.set(part, next);
			}
			at = next;
		}
		at.source = source;
		at.from = (key ?? value).from;
		at.text = source ?? text.slice(span.from, span.to);
	}
	return grown(root);
}

interface Growing {
	readonly key: string;
	text: string;
	from: number;
	source: string | undefined;
	readonly below: Map<string, Growing>;
}

const growing = (key: string, text: string, from: number): Growing => ({
	key,
	text,
	from,
	source: undefined,
	below: new Map(),
});

function grown({ key, text, from, source, below }: Growing): Branch {
	const branches = new Map([...below].map(([part, one]) => [part, grown(one)]));
	return { key, text: source ?? withoutComments(text), from, is: kindOf(text, source, branches), below: branches };
}

function kindOf(text: string, source: string | undefined, below: ReadonlyMap<string, Branch>): Branch["is"] {
	if (below.size === 0) return "scalar";
	if (source !== undefined || ![...below.values()].every(isItem)) return "mapping";
	const items = [...below.values()];
	return items.every((item) => item.is === "scalar" && /^\[|^- /.test(item.text)) && /^[[-]/.test(text)
		? "points"
		: "list";
}

/** A text that goes over several lines on one, without the comments at their ends: what they say is no value. */
const withoutComments = (text: string): string =>
	text
		.split("\n")
		.map((line) => line.replace(/(^|\s)#.*$/, "").trim())
		.filter((line) => line !== "")
		.join("\n");

/** Whether it is an item of a list, and not the value of a key. */
export const isItem = ({ key }: { readonly key: string }): boolean => /^\d+$/.test(key);

/** What an item of a list is called: its name, else what its first key says; a value that is no mapping by itself. */
export function itemName({ is, text, below }: Branch): string {
	const [first] = below.values();
	return is === "scalar" || is === "points" ? text : (below.get("name")?.text ?? first?.text ?? text);
}

/** The items of a list with where they begin, in the order of the text. */
export const entriesOf = ({ below }: Branch): readonly { readonly name: string; readonly from: number }[] =>
	[...below.values()]
		.filter(isItem)
		.map((item) => ({ name: itemName(item), from: item.from }))
		.sort((a, b) => a.from - b.from);
