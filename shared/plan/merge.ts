/**
 * Two plans that came from one, merged cell by cell: a cell that only one side changed is that side's; in a cell that both
 * changed, keys and the entries of lists are merged each for itself, and texts line by line. Nothing is decided that both
 * changed in different ways: both stand there between conflict markers.
 */
import { CELL_KINDS } from "../cells/kinds.ts";
import { linesOf, mergeLines } from "../text/merge-lines.ts";
import { pairUp, reordered } from "../text/pairs.ts";
import { type Cell, readPlan } from "./plan.ts";
import { SIGNS } from "./same-cells.ts";

export interface Merged {
	readonly text: string;
	/** How many places have conflict markers. */
	readonly conflicts: number;
}

export interface MergeOptions {
	/** Characters of a marker. */
	readonly size?: number;
	/** What the sides are called behind their markers. */
	readonly ours?: string;
	readonly theirs?: string;
}

export function mergePlans(base: string, ours: string, theirs: string, options: MergeOptions = {}): Merged {
	if (base === ours || ours === theirs) return { text: theirs, conflicts: 0 };
	if (base === theirs) return { text: ours, conflicts: 0 };
	const lineEnd = lineEndOf(ours);
	const [b, o, t] = [base, ours, theirs].map((text) => even(text, lineEnd)) as [string, string, string];
	const markers = new Markers(options);
	let text = markers.whole(o, t, () => mergeCells(b, o, t, markers));
	if (!/\n$/.test(ours) && !/\n$/.test(theirs)) text = text.replace(/\n$/, "");
	const mark = ours.startsWith("\uFEFF") ? "\uFEFF" : "";
	return { text: mark + (lineEnd === "\r\n" ? text.replace(/\n/g, "\r\n") : text), conflicts: markers.count };
}

/** A part of a text that is merged for itself. */
interface Part {
	readonly text: string;
	/** What it is the same part by in another state. */
	readonly signs: readonly (string | undefined)[];
}

/** Parts one after the other. */
interface Parts {
	readonly head: string;
	readonly parts: readonly Part[];
	readonly tail: string;
	/** Whether another order is another meaning. */
	readonly ordered: boolean;
	/** The parts of a part. */
	readonly within: (text: string) => Parts | undefined;
	/** Merged parts one after the other, each ending its line; undefined where that cannot be written. */
	readonly join: (parts: readonly string[]) => string | undefined;
}

class Markers {
	count = 0;
	readonly #options: MergeOptions;

	constructor(options: MergeOptions) {
		this.#options = options;
	}

	conflict = (ours: string, theirs: string): string => {
		const { size = 7, ours: own = "ours", theirs: other = "theirs" } = this.#options;
		this.count++;
		const line = (sign: string, name = ""): string => `${sign.repeat(size)}${name === "" ? "" : ` ${name}`}\n`;
		return `${line("<", own)}${ended(ours)}${line("=")}${ended(theirs)}${line(">", other)}`;
	};

	/** All of it as one conflict where the merge could not be read again, though both sides can. */
	whole(ours: string, theirs: string, merge: () => string): string {
		const text = merge();
		if (this.count > 0 || !isReadable(ours) || !isReadable(theirs) || isReadable(text)) return text;
		return this.conflict(ours, theirs);
	}
}

const isReadable = (text: string): boolean => {
	const { cells, cut } = readPlan(text);
	return cut === undefined && cells.every(({ read }) => read.kind !== undefined && !isBroken(read.problems));
};
const isBroken = (problems: readonly { readonly type: string }[]): boolean =>
	problems.some(({ type }) => type === "yaml" || type === "repeated-key");

function mergeCells(base: string, ours: string, theirs: string, markers: Markers): string {
	const [b, o, t] = [cellParts(base), cellParts(ours), cellParts(theirs)];
	if (!b || !o || !t) return mergeLines(base, ours, theirs, markers.conflict);
	return (/^---[ \t]*\n/.exec(ours)?.[0] ?? "") + mergeParts(b, o, t, markers);
}

/** The cells of a plan; undefined where it has more than a plan may have. */
function cellParts(text: string): Parts | undefined {
	const { cells, cut } = readPlan(text);
	if (cut !== undefined) return undefined;
	return {
		head: "",
		parts:
			text === ""
				? []
				: cells.map((cell) => ({
						text: withoutMarker(cell.text),
						signs: [...SIGNS.map((sign) => sign(cell)), onlyOne(cell)],
					})),
		tail: "",
		ordered: true,
		within: keyParts,
		// Each cell but the first behind a marker, wherever it was before.
		join: (parts) =>
			parts.map((part, place) => (place > 0 && !/^(?:---|%)/.test(part) ? `---\n${part}` : part)).join(""),
	};
}

/** A plan has one cell of most kinds. */
const onlyOne = ({ read: { kind } }: Cell): string | undefined => (kind && !CELL_KINDS[kind].many ? kind : undefined);

/** The sign by which a part is told that was changed, and which two new parts may share without being the same. */
const LIKE = 2;

/** A marker that says nothing else is put back when the cells are joined. */
const withoutMarker = (text: string): string => text.replace(/^---[ \t]*\n/, "");

function merged(
	base: string | undefined,
	ours: string,
	theirs: string,
	markers: Markers,
	within: Parts["within"],
): string {
	if (ours === theirs || theirs === base) return ours;
	if (ours === base) return theirs;
	if (base === undefined) return markers.conflict(ours, theirs);
	const [b, o, t] = [within(base), within(ours), within(theirs)];
	if (b && o && t) return mergeParts(b, o, t, markers);
	return mergeLines(base, ours, theirs, markers.conflict);
}

/** A part as the three have it. */
interface Entry {
	readonly base: Part | undefined;
	ours: Part | undefined;
	theirs: Part | undefined;
}

function mergeParts(base: Parts, ours: Parts, theirs: Parts, markers: Markers): string {
	const signs = (base.parts[0] ?? ours.parts[0] ?? theirs.parts[0])?.signs.map(
		(_, place) => (part: Part) => part.signs[place],
	);
	// What is there word for word is the same part, though another bears its name.
	const [withOurs, withTheirs] = [ours, theirs].map(({ parts }) =>
		pairUp(base.parts, parts, [({ text }) => text.trim(), ...(signs ?? [])]),
	);
	const entries = new Map<Part, Entry>(
		base.parts.map((part) => [part, { base: part, ours: undefined, theirs: undefined }]),
	);
	const ofPart = new Map<Part, Entry>();
	for (const { before, after } of withOurs ?? []) {
		if (!after) continue;
		const entry = (before && entries.get(before)) ?? { base: undefined, ours: after, theirs: undefined };
		entry.ours = after;
		ofPart.set(after, entry);
	}
	const added = ours.parts.filter((part) => ofPart.get(part)?.base === undefined);
	const newTheirs = (withTheirs ?? []).flatMap(({ before, after }) => (after && !before ? [after] : []));
	const both = new Map(
		pairUp(
			added,
			newTheirs,
			(signs ?? []).filter((_, place) => place !== LIKE),
		).flatMap(({ before, after }) => (before && after ? [[after, before] as const] : [])),
	);
	for (const { before, after } of withTheirs ?? []) {
		if (!after) continue;
		const twin = both.get(after);
		const entry: Entry = (before && entries.get(before)) ??
			(twin && ofPart.get(twin)) ?? { base: undefined, ours: undefined, theirs: after };
		entry.theirs = after;
		ofPart.set(after, entry);
	}
	const orderOf = (pairs: typeof withOurs) =>
		reordered(base.parts, pairs ?? [], ({ signs: [name], text }) => name ?? text);
	const [byOurs, byTheirs] = base.ordered ? [orderOf(withOurs), orderOf(withTheirs)] : [];
	if (byOurs && byTheirs && byOurs.after !== byTheirs.after) return markers.conflict(whole(ours), whole(theirs));
	const [first, second] = byTheirs && !byOurs ? [theirs, ours] : [ours, theirs];
	const order = first.parts.map((part) => ofPart.get(part) as Entry);
	let previous: Entry | undefined;
	for (const part of second.parts) {
		const entry = ofPart.get(part) as Entry;
		if (!order.includes(entry)) order.splice(previous ? order.indexOf(previous) + 1 : 0, 0, entry);
		previous = entry;
	}
	const counted = markers.count;
	const text = order.map(({ base: was, ours: one, theirs: other }) => {
		if (one && other) return merged(was?.text, one.text, other.text, markers, base.within);
		const left = (one ?? other) as Part;
		if (!was) return left.text;
		// One side took it out: it goes, unless the other changed it meanwhile.
		if (left.text.trimEnd() === was.text.trimEnd()) return "";
		return markers.conflict(one?.text ?? "", other?.text ?? "");
	});
	const body = base.join(text.filter((part) => part !== "").map(ended));
	if (body === undefined) {
		markers.count = counted;
		return markers.conflict(whole(ours), whole(theirs));
	}
	const leaf = (was: string, one: string, other: string): string => merged(was, one, other, markers, () => undefined);
	return leaf(base.head, ours.head, theirs.head) + body + leaf(base.tail, ours.tail, theirs.tail);
}

const whole = ({ head, parts, tail, join }: Parts): string =>
	head + (join(parts.map(({ text }) => ended(text))) ?? "") + tail;

const ended = (text: string): string => (text === "" || text.endsWith("\n") ? text : `${text}\n`);

/** The keys of a cell, or the entries of its list, as it is usually written: each on lines of its own. */
function keyParts(text: string): Parts | undefined {
	const lines = linesOf(text);
	const at = lines.findIndex((line) => /^[a-z-]+:\s*(?:#.*)?$/.test(line.trimEnd()));
	return at < 0 ? undefined : blockParts(lines.slice(0, at + 1).join(""), lines.slice(at + 1));
}

function blockParts(head: string, lines: readonly string[]): Parts | undefined {
	const isContent = (line: string): boolean => /^\s*[^\s#]/.test(line) && !/^\.\.\.\s*$/.test(line);
	const indentOf = (line: string): number => line.length - line.trimStart().length;
	const first = lines.find(isContent);
	if (first === undefined) return undefined;
	const indent = indentOf(first);
	const isList = first.slice(indent).startsWith("- ");
	if (!isList && indent === 0) return undefined;
	if (lines.some((line) => isContent(line) && indentOf(line) < indent)) return undefined;
	const begins = (line: string): boolean =>
		isContent(line) &&
		indentOf(line) === indent &&
		(isList ? line.slice(indent).startsWith("- ") : /^[\w-]+:(?:\s|$)/.test(line.slice(indent)));
	let end = lines.length;
	while (end > 0 && !isContent(lines[end - 1] as string)) end--;
	const parts: string[] = [];
	let waiting = "";
	for (const line of lines.slice(0, end)) {
		if (begins(line)) {
			parts.push(waiting + line);
			waiting = "";
		} else if (isContent(line)) {
			if (parts.length === 0) return undefined;
			parts[parts.length - 1] += waiting + line;
			waiting = "";
		} else waiting += line;
	}
	return {
		head,
		parts: parts.map((text) => ({ text, signs: isList ? itemSigns(text) : [keyOf(text), undefined] })),
		tail: lines.slice(end).join(""),
		ordered: isList,
		within: isList ? (text) => itemParts(text, indent) : () => undefined,
		join: (all) => all.join(""),
	};
}

const keyOf = (text: string): string | undefined => /^\s*([\w-]+):/m.exec(text)?.[1];

/** An entry by its name, by its text, and by all but its name. */
function itemSigns(text: string): readonly (string | undefined)[] {
	const name = /(?:^|\n)\s*(?:- )?\s*name:\s*(.+?)\s*(?:#.*)?(?:\n|$)|[{,]\s*name:\s*("[^"]*"|[^,}]+)/.exec(text);
	const called = name?.[1] ?? name?.[2];
	const rest = called === undefined ? undefined : text.replace(called, "").trim();
	return [called?.trim(), text.trim(), rest];
}

/** The keys of an entry, its dash taken for white space meanwhile: it stands before the first, whichever that is. */
function itemParts(text: string, indent: number): Parts | undefined {
	const dash = new RegExp(`^( {${indent}})- `, "m");
	const parts = dash.test(text) ? blockParts("", linesOf(text.replace(dash, "$1  "))) : undefined;
	if (!parts || parts.ordered) return undefined;
	return {
		...parts,
		join(all) {
			const lines = linesOf(all.join(""));
			const first = lines.findIndex((line) => /^\s*[^\s#]/.test(line));
			// Where the first key is a conflict, either side needs the dash.
			if (first < 0 || !lines[first]?.startsWith(" ".repeat(indent + 2))) return undefined;
			return lines
				.map((line, at) => (at === first ? `${line.slice(0, indent)}- ${line.slice(indent + 2)}` : line))
				.join("");
		},
	};
}

/** `\r\n` where every line ends with it. */
function lineEndOf(text: string): "\n" | "\r\n" | undefined {
	const [all, both] = [text.split("\n").length - 1, text.split("\r\n").length - 1];
	return both === 0 ? "\n" : both === all ? "\r\n" : undefined;
}

/** Without a byte-order mark, with the line ends of our side, and one at its end. */
const even = (text: string, lineEnd: string | undefined): string =>
	ended(lineEnd === undefined ? text.replace(/^\uFEFF/, "") : text.replace(/^\uFEFF/, "").replace(/\r\n/g, "\n"));
