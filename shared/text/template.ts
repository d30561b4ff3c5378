/**
 * Text with gaps that only its writer can fill. A client that knows snippets stops at each gap in turn; others get the
 * text with the gaps left empty, so that no example can pass for a value of the user's.
 */

/** A gap. */
export const GAP: unique symbol = Symbol("gap");

export type Template = readonly (string | typeof GAP)[];

/** A template of a text with gaps, texts and other templates in it. */
export const template = (
	texts: TemplateStringsArray,
	...inner: readonly (typeof GAP | string | Template)[]
): Template => texts.flatMap((text, i): Template => [text, ...partsOf(inner[i] ?? "")]);

const partsOf = (part: typeof GAP | string | Template): Template =>
	typeof part === "string" || typeof part === "symbol" ? [part] : part;

/** Templates one after the other, with a text between them. */
export const joined = (templates: readonly Template[], between: string): Template =>
	templates.flatMap((one, i) => (i === 0 ? one : [between, ...one]));

/** Whether there is something to fill in. */
export const hasGaps = (of: Template): boolean => of.includes(GAP);

/** The text with its gaps left empty. */
export const withoutGaps = (of: Template): string => of.filter((part) => part !== GAP).join("");

/** The text with its gaps left empty, and no blank at the end of a line: as it is written where no cursor waits in a gap. */
export const emptied = (of: Template): string => withoutGaps(of).replace(/[ \t]+$/gm, "");

/** The text in the protocol's snippet syntax: a tab stop for each gap. */
export function snippetText(of: Template): string {
	let stop = 0;
	return of.map((part) => (part === GAP ? `$${++stop}` : part.replace(/[\\$}]/g, "\\$&"))).join("");
}

/** The text with the breaks between its lines followed by an indentation. */
export const indented = (of: Template, indent: string): Template =>
	of.map((part) => (part === GAP ? GAP : part.replaceAll("\n", `\n${indent}`)));
