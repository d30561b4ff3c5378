/** The page in the preview: what the extension asks for, and what it and the page's script say to each other. */
import type { NotificationOf, RequestOf } from "./message.ts";

/** The page of a plan, by the URI of its document or of any of its notebook's cells. */
export const PAGE: RequestOf<{ readonly uri: string }, PageAnswer | null> = { method: "lodebook/page" };

export interface PageAnswer {
	/** The page's body; empty when the plan cannot be evaluated at all and the last picture should stay. */
	readonly html: string;
	readonly stale: boolean;
}

/** The style of every page. */
export const PAGE_STYLE: RequestOf<void, string> = { method: "lodebook/pageStyle" };

/** Pages and outputs may have changed without an edit of their own plan. */
export const REFRESH: NotificationOf<void> = { method: "lodebook/refresh" };

/** To the page's script: a new body (empty: the old one stays) with the words of its banner, or the line of the cursor. */
export type ToPage =
	| { readonly type: "page"; readonly html: string; readonly stale: string }
	| { readonly type: "cursor"; readonly line: number };

/** From the page's script: it is there, or the reader wants to see a line. */
export type FromPage = { readonly type: "ready" } | { readonly type: "reveal"; readonly line: number };
