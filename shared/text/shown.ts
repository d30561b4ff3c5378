/**
 * Texts of a plan, and names of files, as they may be shown: nothing in them moves a cursor, breaks a line, turns the
 * direction of reading or ends a command of what shows them.
 */

/** C0 controls and DEL (ECMA-48); they have signs of their own in Unicode's block Control Pictures, U+2400. */
const SIGNED = /[\u0000-\u001f\u007f]/g;
/** C1 controls, separators of lines, marks and overrides of direction, halves of a character. */
const UNSIGNED = /[\u0080-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069\ufffe\uffff]|\p{Cs}/gu;
/** Whether there may be any: whole characters of two halves too, since most texts have none, and this way is the quickest. */
const ANY = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]/;

/** The sign of a control: ␛ for ESC, ␊ for a line feed. */
const signOf = (control: string): string =>
	control === "\u007f" ? "\u2421" : String.fromCharCode(0x2400 + control.charCodeAt(0));

/** As one line of plain text: controls as their signs, what has none as U+FFFD. As long as it was, in UTF-16. */
export const shown = (text: string): string =>
	ANY.test(text) ? text.replace(SIGNED, signOf).replace(UNSIGNED, "\uFFFD") : text;

const NOT_LAYOUT = /[\u0000-\u0008\u000b-\u001f\u007f]/g;

/** The same for a text of several lines: tabs and line feeds stay. */
export const shownLines = (text: string): string =>
	ANY.test(text) ? text.replace(NOT_LAYOUT, signOf).replace(UNSIGNED, "\uFFFD") : text;
