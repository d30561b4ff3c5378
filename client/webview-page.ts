/** The page of a webview: its policy allows the extension's own script and one style by nonce, and nothing else. */
import { Uri, type Webview } from "vscode";

export interface WebviewPage {
	/** A file of dist/. */
	readonly script: string;
	readonly title: string;
	readonly style: string;
	readonly body: string;
	/** Drawn in dim red from the start. */
	readonly isDim?: boolean;
}

/** Where scripts of pages are. */
export const scriptFolder = (extension: Uri): Uri => Uri.joinPath(extension, "dist");

/** `body` is HTML of our own; whatever else it holds was escaped. */
export function webviewPage(
	webview: Webview,
	extension: Uri,
	{ script, title, style, body, isDim = false }: WebviewPage,
): string {
	const source = webview.asWebviewUri(Uri.joinPath(scriptFolder(extension), script));
	const nonce = Array.from({ length: 32 }, () => Math.floor(Math.random() * 36).toString(36)).join("");
	const policy = `default-src 'none'; style-src 'nonce-${nonce}'; script-src ${webview.cspSource}; base-uri 'none'; form-action 'none'`;
	const mode = isDim ? ' data-mode="dim"' : "";
	return `<!DOCTYPE html><html lang="en"${mode}><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${policy}"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${asHtml(title)}</title><style nonce="${nonce}">${style}</style></head><body>${body}<script src="${source.toString()}"></script></body></html>`;
}

/** Text as HTML. */
export const asHtml = (text: string): string => text.replace(/&/g, "&amp;").replace(/</g, "&lt;");
