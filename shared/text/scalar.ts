/**
 * Text as a YAML scalar: the one writer of whatever is put into a plan. What it writes reads back as the very text it
 * was given, in YAML 1.2 and in 1.1, and never as a number, a date or a yes.
 */

/** Where a scalar is put. */
export interface ScalarPlace {
	/** Inside `{ }` or `[ ]`, where a comma or a bracket would end it. */
	readonly flow?: boolean;
	/** What stood there before: its quotes are kept. */
	readonly old?: string;
}

/** A text, plain where that is safe, else quoted; quotes that stood there before are kept where they can hold it. */
export function scalarText(text: string, { flow = false, old = "" }: ScalarPlace = {}): string {
	if (old.startsWith("'") && !NEEDS_ESCAPES.test(text)) return `'${text.replaceAll("'", "''")}'`;
	return old.startsWith('"') || old.startsWith("'") || !isPlain(text, flow) ? doubleQuoted(text) : text;
}

/** A text that a person typed as a value: a plain number needs no quotes. */
export const typedText = (text: string): string => (/^\d{1,9}(?:\.\d{1,9})?$/.test(text) ? text : scalarText(text));

/** What may be written into a plan: a text, a number, a yes or no, a list of texts; or YAML that the code has made. */
export type Given = string | number | boolean | readonly string[] | { readonly yaml: string };

/** YAML as it is written. */
export const asYaml = (yaml: string): Given => ({ yaml });

/** A value as it is written in its place. */
export function written(given: Given, place: ScalarPlace = {}): string {
	if (typeof given === "string") return scalarText(given, place);
	if (typeof given !== "object") return String(given);
	return "yaml" in given ? given.yaml : `[${given.map((text) => scalarText(text, { flow: true })).join(", ")}]`;
}

/**
 * Characters that only an escape can hold or show: controls, line breaks of any kind, byte-order marks, what is no
 * character, halves of pairs, and what turns the direction of the text around it.
 */
const NEEDS_ESCAPES = /[\u0000-\u001F\u007F-\u009F\u2028\u2029\u202A-\u202E\u2066-\u2069\uFEFF\uFFFE\uFFFF]|\p{Cs}/u;
const NEEDS_ESCAPES_ALL = new RegExp(NEEDS_ESCAPES.source, "gu");

/** What YAML takes for an indicator at the start of a scalar; and for a marker at the start of a line. */
const STARTS_BADLY = /^(?:[\s,[\]{}#&*!|>'"%@`?:=]|-(?![\d.\p{L}])|---|\.\.\.|<<)/u;
/** What ends a plain scalar. */
const ENDS_WITHIN = /:(?:\s|$)|\s#|\s$/u;
const ENDS_WITHIN_FLOW = /[,[\]{}]/;

/** What YAML 1.1 or 1.2 takes for null, for a yes or no, for a number, for a time of day in base 60, or for a date. */
const OTHER_TYPES: readonly RegExp[] = [
	/^(?:~|null|y|n|yes|no|on|off|true|false|[-+]?\.inf|\.nan)$/i,
	/^[-+]?(?:\d[\d_]*)?(?:\.[\d_]*)?(?:e[-+]?\d+)?$/i,
	/^[-+]?0(?:x[\da-f_]+|o?[0-7_]+|b[01_]+)$/i,
	/^[-+]?\d[\d_]*(?::[0-5]?\d)+(?:\.[\d_]*)?$/,
	/^\d{4}-\d{1,2}-\d{1,2}(?:[Tt \t].*)?$/,
];

function isPlain(text: string, flow: boolean): boolean {
	return (
		text !== "" &&
		!NEEDS_ESCAPES.test(text) &&
		!STARTS_BADLY.test(text) &&
		!ENDS_WITHIN.test(text) &&
		!(flow && ENDS_WITHIN_FLOW.test(text)) &&
		!OTHER_TYPES.some((type) => type.test(text))
	);
}

const SHORT: Readonly<Record<string, string>> = { "\n": "\\n", "\r": "\\r", "\t": "\\t" };

function doubleQuoted(text: string): string {
	const escaped = text
		.replace(/["\\]/g, "\\$&")
		.replace(NEEDS_ESCAPES_ALL, (char) => SHORT[char] ?? `\\u${char.charCodeAt(0).toString(16).padStart(4, "0")}`);
	return `"${escaped}"`;
}
