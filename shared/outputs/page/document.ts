/** The page as one self-contained file: it opens from disk and asks for nothing. */
import { sha256 } from "@noble/hashes/sha2.js";
import { utf8ToBytes } from "@noble/hashes/utils.js";
import { shown } from "../../text/shown.ts";
import type { Output } from "../output.ts";
import { pageBody } from "./page.tsx";
import { STYLE } from "./style.ts";
import { type PageView, pageView } from "./view.ts";
import { words } from "./words.ts";

export const page: Output = {
	name: "page",
	title: words.exported(),
	option: "--html",
	mediaType: "text/html",
	extension: "html",
	of: {
		plan: {
			help: words.help(),
			make: ({ evaluation, findings }, { pageScript }) => pageDocument(pageView(evaluation, findings), pageScript),
		},
	},
};

/** The page of a plan as a file. */
export const pageDocument = (view: PageView, program: string): string =>
	htmlFile({ title: view.title, style: STYLE, body: pageBody(view), program });

interface FileParts {
	readonly title: string;
	readonly style: string;
	/** Markup, escaped by its renderer. */
	readonly body: string;
	/** The script's text; a page without one runs none. */
	readonly program: string;
}

/** One file of HTML. Its policy lets its own script and style run, by their hashes, and nothing else. */
export function htmlFile({ title, style, body, program }: FileParts): string {
	// A script's text must not end it.
	const script = program.replace(/<\/(script)/gi, "<\\/$1");
	const policy = [
		"default-src 'none'",
		`style-src '${hashSource(style)}'`,
		...(script === "" ? [] : [`script-src '${hashSource(script)}'`]),
		"img-src data:",
		"base-uri 'none'",
		"form-action 'none'",
	].join("; ");
	const escaped = shown(title).replace(/&/g, "&amp;").replace(/</g, "&lt;");
	return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="referrer" content="no-referrer">
<title>${escaped}</title>
<style>${style}</style>
</head>
<body>
<main id="page">${body}</main>
${script === "" ? "" : `<script>${script}</script>\n`}</body>
</html>
`;
}

/** Known to Node, to workers and to browsers alike. */
declare function btoa(bytes: string): string;

/** How a policy names a text that may run. */
const hashSource = (text: string): string => `sha256-${btoa(String.fromCharCode(...sha256(utf8ToBytes(text))))}`;
