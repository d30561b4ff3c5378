/** The explanation of a finding: linked from its diagnostic, asked for by the extension when the link is opened. */
import type { RequestOf } from "./message.ts";

/** The explanation as Markdown. */
export const EXPLANATION: RequestOf<{ readonly code: string }, string> = { method: "lodebook/explanation" };

/** A scheme of our own: the extension opens it as a page, and nothing leaves the machine. */
export const EXPLANATION_SCHEME = "lodebook-finding";

/** The link to the explanation of a code. */
export const explanationUri = (code: string): string => `${EXPLANATION_SCHEME}:/${code}.md`;

/** The code in a link's path. */
export const codeOfPath = (path: string): string => path.replace(/^\//, "").replace(/\.md$/, "");

/** Pages of the reference that come with the extension, which opens them. */
export const REFERENCE_SCHEME = "lodebook-reference";
/** Its pages. */
export type ReferencePage = "format" | "methods" | "values";
/** The link to a page. */
export const referenceUri = (page: ReferencePage): string => `${REFERENCE_SCHEME}:/${page}.md`;
