import { shown } from "../../text/shown.ts";

/**
 * A plan's text as plain text inside Markdown: nothing of it can become markup, a link, HTML or a table's border.
 * Line breaks become spaces.
 */
export function markdownText(text: string): string {
	return (
		shown(text.replace(/[\t\n\r\u2028\u2029]+/g, " "))
			.replace(/&/g, "&amp;")
			.replace(/</g, "&lt;")
			.replace(/>/g, "&gt;")
			.replace(/[\\`*_{}[\]()#+!|~$@]/g, "\\$&")
			// A bare address would become a link.
			.replace(/(https?|ftp|www)(?=[:.])/gi, "$1\u200b")
	);
}
