/**
 * Sentences: what a person reads, kept beside its owner and apart from the code that decides to say it. An owner
 * declares them with names in braces for what is put in; the compiler asks for exactly these.
 *
 *     const words = sentences("method/needs-key", { needs: "`{kind}` needs `{key}`.{example}", … });
 *     words.needs({ kind, key, example: "" })    // a Phrase: the sentence and its values
 *     told(words.needs({ … }))                   // the text, at the last moment
 *
 * A line break in a template, with the white space around it, counts as one space, so that long sentences can be
 * written over several lines.
 */
import { shown } from "./shown.ts";
import { TRANSLATION } from "./translation.ts";

/** What may be put into a sentence: a number or a text as it is to be read, or other phrases, one after the other. */
export type Filling = string | number | Phrase | readonly Phrase[];

/** A sentence with its values, not yet told. */
export interface Phrase {
	/** `owner.key`: its place in the catalogue (`shared/words/`). */
	readonly key: string;
	readonly template: string;
	readonly values: Readonly<Record<string, Filling>>;
}

/** Names in braces; a brace with a space in it is a brace of the text. */
export type Names<T extends string> = T extends `${string}{${infer After}`
	? (After extends `${infer Name}}${string}` ? OneWord<Name> : never) | Names<After>
	: never;

type OneWord<Name extends string> = Name extends `${string}${" " | "," | ":" | "{" | "\n"}${string}` | ""
	? never
	: Name;

/** Makes a phrase of one sentence. */
export type Say<T extends string> = [Names<T>] extends [never]
	? () => Phrase
	: (values: Readonly<Record<Names<T>, Filling>>) => Phrase;

export type Sentences<W extends Readonly<Record<string, string>>> = { readonly [K in keyof W]: Say<W[K]> };

/** Every sentence that the loaded modules have declared, by key. Filled while modules load, and never after. */
const declared = new Map<string, string>();
export const declaredSentences = (): ReadonlyMap<string, string> => declared;

const NONE: Phrase["values"] = {};

/** The sentences of an owner: a rule's code, `method.square-laser`, `notation.bearing`. */
export function sentences<const W extends Readonly<Record<string, string>>>(owner: string, words: W): Sentences<W> {
	return Object.fromEntries(
		Object.entries(words).map(([name, text]) => {
			const key = `${owner}.${name}`;
			const template =
				(Object.hasOwn(TRANSLATION, key) ? TRANSLATION[key] : undefined) ?? text.replace(/\s*\n\s*/g, " ");
			declared.set(key, template);
			return [name, (values: Phrase["values"] = NONE): Phrase => ({ key, template, values })];
		}),
	) as Sentences<W>;
}

/** Sentences without names, told at once: labels, documentation, help. */
export const texts = <const W extends Readonly<Record<string, string>>>(
	owner: string,
	words: W,
): { readonly [K in keyof W]: string } =>
	Object.fromEntries(
		Object.entries(sentences(owner, words as Readonly<Record<string, string>>)).map(([name, say]) => [
			name,
			told((say as () => Phrase)()),
		]),
	) as { readonly [K in keyof W]: string };

/** The text of a phrase. Texts that are put in come as one line each, whatever a plan's author put into them. */
export function told({ template, values }: Phrase): string {
	let text = "";
	let from = 0;
	for (let open = template.indexOf("{"); open >= 0; open = template.indexOf("{", open + 1)) {
		const close = template.indexOf("}", open);
		const name = template.slice(open + 1, close);
		if (!Object.hasOwn(values, name)) continue;
		text += template.slice(from, open) + filled(values[name]);
		from = close + 1;
	}
	return from === 0 ? template : text + template.slice(from);
}

function filled(value: Filling | undefined): string {
	if (value === undefined) return "";
	if (typeof value === "string") return shown(value);
	if (typeof value === "number") return String(value);
	return "template" in value ? told(value) : value.map(told).join("");
}
