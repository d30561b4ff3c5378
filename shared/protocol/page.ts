/** The page in the preview: what the extension asks for, and what it and the page's script say to each other. */
import type { NotificationOf, RequestOf } from "./message.ts";

/** The page of a plan, by the URI of its document or of any of its notebook's cells. */
export const PAGE: RequestOf<{ readonly uri: string }, PageAnswer | null> = { method: "lodebook/page" };

export interface PageAnswer {
	/** The page's body; empty when there is nothing that it could be drawn from. */
	readonly html: string;
	/** What can be said then: what was found, and what is missing. Empty beside a page. */
	readonly instead: string;
}

/** The style of every page. */
export const PAGE_STYLE: RequestOf<void, string> = { method: "lodebook/pageStyle" };

/** Pages and outputs may have changed without an edit of their own plan. */
export const REFRESH: NotificationOf<void> = { method: "lodebook/refresh" };

/** To the page's script. */
export type ToPage =
	| {
			readonly type: "page";
			/** The URI of the plan: a page of another one is taken away at once. */
			readonly plan: string;
			readonly title: string;
			/** Whether the preview keeps this plan whichever is in front. */
			readonly locked: boolean;
			/** The page's body; empty: the one that is there stays, if it is of this plan. */
			readonly html: string;
			/** What is said above it of a plan that cannot be drawn now. */
			readonly instead: string;
			/** Why the page is not of now; empty when it is. */
			readonly banner: string;
	  }
	/** The nights of a year, as far as they were asked for. */
	| ({ readonly type: "nights" } & NightsShown)
	/** The line of the cursor, from 1. */
	| { readonly type: "cursor"; readonly line: number };

/** The nights of a year as the preview has them. */
export interface NightsShown {
	/** The picture; empty where there is none. */
	readonly html: string;
	/** What is said of it: that it is being made, why there is none, that the plan has changed since. */
	readonly says: string;
	/** Whether it is of the plan as it is now, so that a night can be chosen. */
	readonly isCurrent: boolean;
}

/**
 * From the page's script: it is there, the reader wants to see a line or the nights of a year, has chosen a night, or dim
 * red or normal colours.
 */
export type FromPage =
	| { readonly type: "ready" }
	| { readonly type: "reveal"; readonly line: number }
	| { readonly type: "nights" }
	/** A date as `WRITE_NIGHT` takes it. */
	| { readonly type: "night"; readonly date: string }
	| { readonly type: "dim"; readonly dim: boolean };

/** What a preview remembers over a reload of the window, as far as the extension asks for it. */
export interface PreviewState {
	readonly plan?: string;
	readonly locked?: boolean;
}
