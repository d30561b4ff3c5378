/** Tracing on a photo: what its panel, the extension and the server say to each other. The photo itself stays in the panel. */
import type { WorkspaceEdit } from "vscode-languageserver-types";
import type { RequestOf } from "./message.ts";

/** What can be traced. */
export const TRACED_PARTS = ["skyline", "opening", "obstruction", "window"] as const;
export type TracedPart = (typeof TRACED_PARTS)[number];

/** Pixels from the photo's upper left corner. */
export type PhotoPoint = readonly [x: number, y: number];

/** A photo as its reader may correct it: values are texts as a plan writes them. */
export interface TracedPhoto {
	readonly name: string;
	/** Pixels, upright. */
	readonly width: number;
	readonly height: number;
	/** `2027-06-05 18:12:30` of the site's clock. */
	readonly time: string;
	readonly projection: string;
	/** `24 mm`; empty: the marks tell. */
	readonly focalLength: string;
	/** `36 x 24 mm`, `full-frame`. */
	readonly sensor: string;
}

export interface TraceMark {
	readonly at: PhotoPoint;
	/** What it is: a landmark, a body of the sky, the pole, the horizon, or a bearing and an altitude. */
	readonly what: string;
}

export interface TracedLine {
	readonly part: TracedPart;
	/** Of an opening or an obstruction; a window has its obstruction's. */
	readonly name: string;
	readonly points: readonly PhotoPoint[];
}

/** All that was marked and traced on a photo. */
export interface Trace {
	readonly photo: TracedPhoto;
	readonly marks: readonly TraceMark[];
	readonly lines: readonly TracedLine[];
}

/** The panel's content and style. */
export const TRACE_PAGE: RequestOf<{ readonly uri: string }, { readonly html: string; readonly style: string } | null> =
	{ method: "lodebook/tracePage" };

/** What a photo's first bytes tell (Base64), beside what the plan's lens has. */
export const TRACE_PHOTO: RequestOf<
	{ readonly uri: string; readonly name: string; readonly head: string },
	PhotoAnswer | null
> = { method: "lodebook/tracePhoto" };

/** A photo as it is offered, or why it is not read. Its size is that of the file, which may be turned. */
export type PhotoAnswer = { readonly photo: TracedPhoto } | { readonly problem: string };

/** How much of a photo's file tells all that is asked of it, bytes. */
export const PHOTO_HEAD = 1_000_000;
/** The largest file that is opened, bytes. */
export const LARGEST_PHOTO = 200_000_000;

/** What follows from a trace; `at` is asked for too: the place under the cursor. */
export const TRACE: RequestOf<
	{ readonly uri: string; readonly trace: Trace; readonly at?: PhotoPoint | undefined },
	TraceAnswer | null
> = { method: "lodebook/trace" };

export interface TraceAnswer {
	/** Where the camera looked; empty while that is not known. */
	readonly camera: string;
	/** Why it is not known, what is missing, what disagrees. */
	readonly notes: readonly { readonly text: string; readonly wrong: boolean }[];
	/** Beside each mark. `place`: where the photo should show it. */
	readonly marks: readonly {
		readonly text: string;
		readonly wrong: boolean;
		readonly place: PhotoPoint | null;
	}[];
	/** Beside each line. */
	readonly lines: readonly { readonly text: string; readonly wrong: boolean }[];
	/** Direction and ± of the place under the cursor; empty where it is not known. */
	readonly at: string;
	/** What can be said of a mark, the likeliest first. */
	readonly offers: readonly string[];
	/** Tonight's sky, and what the plan has, as places in the photo. */
	readonly sky: readonly SkyLine[];
	/** Whether it can be written. */
	readonly ready: boolean;
}

export interface SkyLine {
	readonly kind: "horizon" | "pole" | "guide" | "target" | "skyline" | "outline";
	readonly points: readonly PhotoPoint[];
	readonly labels: readonly { readonly at: PhotoPoint; readonly text: string }[];
}

/** The edit that writes what was traced into the plan, or why it cannot be made. */
export const WRITE_TRACE: RequestOf<
	{ readonly uri: string; readonly trace: Trace },
	{ readonly edit: WorkspaceEdit | null; readonly problem: string } | null
> = { method: "lodebook/writeTrace" };

/** To the panel's script. */
export type ToTracing =
	/** A photo's bytes, and what is offered for it. */
	| { readonly type: "photo"; readonly photo: TracedPhoto; readonly bytes: Uint8Array }
	| { readonly type: "traced"; readonly stamp: number; readonly answer: TraceAnswer | null }
	/** What has come of a choice or of writing. */
	| { readonly type: "said"; readonly text: string; readonly wrong: boolean }
	/** What is to be traced next. */
	| { readonly type: "part"; readonly part: TracedPart; readonly name: string };

/** From the panel's script. */
export type FromTracing =
	| { readonly type: "ready" }
	| { readonly type: "choose" }
	| { readonly type: "trace"; readonly stamp: number; readonly trace: Trace; readonly at?: PhotoPoint | undefined }
	| { readonly type: "write"; readonly trace: Trace }
	| { readonly type: "undecoded" };

/** What the command is given by a code action. */
export type TraceCommand = [uri: string, part: TracedPart, name: string];
