/** Nodes of a YAML document as notations see them, and what reads the nodes inside them. */
import { isAlias, isMap, isScalar, isSeq, type Node, type Pair, type Scalar, type YAMLMap } from "yaml";
import type { Span } from "../text/span.ts";
import type { Field } from "./mapping.ts";
import type { Notation } from "./notation.ts";
import type { Got, ValueProblem } from "./problem.ts";

export type Entry = Pair<Node, Node | null>;

/** What reads a document: it follows aliases, keeps to bounds, and keeps places and problems. */
export interface NodeReader {
	/** Whether as many values were read as may be. */
	readonly full: boolean;
	/** Reads a node at a path in a notation. */
	value(path: string, node: Node, notation: Notation): unknown;
	/** Reads the value of a mapping's entry, whose place it keeps. */
	entry(path: string, entry: Entry, field: Field, flow: boolean): unknown;
	/** Keeps the place of a list's item. */
	item(path: string, node: Node, flow: boolean): void;
	/** The entries of a mapping, those of mappings merged into it after its own. */
	entries(node: YAMLMap): readonly Entry[];
	/** Where a node stands, cut at the end of its first line. */
	span(node: Node): Span;
	keySpan(entry: Entry): Span;
	/** Where the key stands that leads to a path. */
	keyAt(path: string): Span | undefined;
	/** Where a missing key can be put, if anywhere, and with what indentation (undefined in a flow mapping). */
	insertion(node: YAMLMap): { readonly insertAt: number | undefined; readonly indent: string | undefined };
	/** What can be cut out to take away an entry that says the same as an earlier one; undefined when they differ. */
	repeated(first: Entry, second: Entry): Span | undefined;
	report(problem: ValueProblem, at: Span): void;
}

/** The text of a scalar as a person reads it: unquoted, but numbers and dates as typed. */
export function scalarText(node: Scalar): string {
	return typeof node.value === "string" ? node.value : (node.source ?? String(node.value));
}

/** A text short enough for a message, in one line. */
export const clip = (text: string): string =>
	(text.length > 60 ? `${text.slice(0, 57)}…` : text).replace(/[\r\n\t]+/g, " ");

/** The key of an entry, as `scalarText` and `clip` give it; empty for a key that is a list or a mapping. */
export function keyText(entry: Entry): string {
	return isScalar(entry.key) ? clip(scalarText(entry.key)) : "";
}

/** What a node is, for a message. */
export function gotOf(node: Node): Got {
	if (isMap(node)) return { what: "mapping" };
	if (isSeq(node)) return { what: "list" };
	if (isAlias(node)) return { what: "alias" };
	return isScalar(node) ? { what: "text", text: clip(scalarText(node)) } : { what: "nothing" };
}
