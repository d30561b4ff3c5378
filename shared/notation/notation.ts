/**
 * Notations: the ways in which a value of a plan may be written. A notation is one file and knows everything about
 * itself: how it is read and what may be wrong with it, what it is in words, its JSON Schema, what can be offered while
 * it is typed, its colour, and how a value is written. A key of the model names its notation (`cells/`); the reader, the
 * schema, completion, hovers, colours and the reference page ask it.
 *
 * Every key of a read mapping is optional in its type: a plan is half-typed most of the time, and a broken value is
 * left out of what was read (the reader says why), never guessed.
 */
import type { Node } from "yaml";
import type { Phrase } from "../text/sentence.ts";
import type { Span } from "../text/span.ts";
import type { Template } from "../text/template.ts";
import type { Field } from "./mapping.ts";
import type { NodeReader } from "./node.ts";

declare const valueType: unique symbol;

export interface Notation<T = unknown> {
	/** Its name, for the code: `bearing`. */
	readonly type: string;
	/** What it is, in words, with its article. */
	readonly describe: () => Phrase;
	/** The same at more length, where there is room for it. */
	readonly explain: () => Phrase;
	/** Reads what stands at a path; tells the reader what is wrong with it, and gives undefined, when it cannot. */
	readonly read: (node: Node, at: Span, path: string, reader: NodeReader) => T | undefined;
	/** Its JSON Schema (2020-12). */
	readonly schema: () => JsonSchema;
	/** What can be offered where it is typed, the best first. */
	readonly complete: (context: CompletionContext) => readonly Offer[];
	/** The type of its semantic token. */
	readonly colour: Colour | undefined;
	/** What its values name in the sky, if anything: a star, or any body. */
	readonly names?: "star" | "body" | undefined;
	/** What is offered for it as a whole: its keys, with gaps for their values. */
	readonly sketch?: () => Offer;
	/** Nothing at all is as good as a value of it: there is nothing wrong with a key that has none. */
	readonly mayBeEmpty?: true;
	/** Whether a text needs quotes, so that no older YAML reader takes it for something else. */
	readonly quoted?: (source: string) => boolean;
	/** What stands under it: at a key, or at an item's number. */
	readonly inside?: (part: string) => Inside | undefined;
	/** Other ways to write the same value. */
	readonly rewrite?: (source: string, context: RewriteContext) => readonly Rewriting[];
	readonly [valueType]?: T;
}

/** The type of a notation's values. */
export type Decoded<N> = N extends { readonly [valueType]?: infer T } ? Exclude<T, undefined> : never;

export type JsonSchema = { readonly [key: string]: unknown };

/** Standard types of semantic tokens, so that every theme colours them. */
export type Colour = "class" | "number" | "enumMember" | "variable" | "event" | "property";

/** A notation inside another one, and the field if a key leads to it. */
export interface Inside {
	readonly shape: Notation;
	readonly field: Field | undefined;
}

/** What a name may point at. */
export type NameSpace = "lens" | "landmark" | "opening";

/** A name, a word or a time, and what it is. */
export interface Named {
	readonly name: string;
	/** How a list shows it, where that is not how it is written. */
	readonly shown?: string;
	readonly detail: Phrase | string;
}

/** What notations may ask of the plan while a value is typed. */
export interface CompletionContext {
	/** What is typed of the value, in lower case. */
	readonly typed: string;
	/** The same as it was typed. */
	readonly source: string;
	/** How many names are offered at once. */
	readonly most: number;
	/** The time zone in which the site lies. */
	readonly zoneThere: () => string | undefined;
	/** The names that the plan gives to things of a kind. */
	readonly names: (space: NameSpace) => readonly Named[];
	/** The next good nights, by their dates. */
	readonly nights: () => readonly Named[];
	/** Clock times at which something happens. */
	readonly moments: () => readonly Named[];
	/** Stars and bodies that serve here tonight, the best first. */
	readonly ranked: () => readonly Named[];
	/** Bodies that may be named here, without those that are known. */
	readonly bodies: (known: ReadonlySet<string>) => readonly Named[];
	/** Why a star or body cannot be used here tonight; undefined where it can, or where that is not known. */
	readonly useless: (name: string) => Phrase | undefined;
}

/** Something that can be typed. */
export interface Offer {
	readonly label: string;
	/** How a list shows it, where that is not how it is written. */
	readonly shown?: string | undefined;
	readonly detail: Phrase | string;
	readonly kind: "value" | "word" | "name" | "sky" | "moment" | "mapping";
	/** What is written, as YAML; else the label is, as a text in the quotes it needs. */
	readonly yaml?: string | Template;
	/** Its place among the offers, where it is not that in the list. */
	readonly order?: number;
	/** What is compared with what is typed, where it is not the text. */
	readonly filter?: string;
	/** It is made of what is typed: with the next letter it is another one. */
	readonly ofTyped?: boolean;
}

export interface RewriteContext {
	/** The site's magnetic declination, degrees, when it is known. */
	readonly declination: number | undefined;
}

/** Another way to write a value. */
export interface Rewriting {
	readonly title: Phrase;
	readonly text: string;
}
