/**
 * Frames measured against a plan. The extension asks a server that it starts for this alone: measuring takes seconds and
 * hundreds of megabytes, and what is typed meanwhile does not wait for it.
 */
import type { WorkspaceEdit } from "vscode-languageserver-types";
import type { RequestOf } from "./message.ts";

/** What was measured of frames, by the plan that is open in that server. */
export const MEASURE: RequestOf<MeasureWishes, MeasureAnswer | null> = { method: "lodebook/measure" };

/** What is told beside the files; texts as a user writes them. */
export interface MeasureWishes {
	readonly uri: string;
	/** The plan's name. */
	readonly plan: string;
	/** Names of the files, in the order in which `FRAME` counts them. */
	readonly frames: readonly string[];
	/** Clock time at which each shutter opened; empty where the file says it. */
	readonly opened: readonly string[];
	readonly exposure: string;
	/** How much the camera's clock is ahead. */
	readonly clockAhead: string;
	/** Bearing at which the middle of the first frame looked, where that is known. */
	readonly facing: string;
	/** Names of the plan's lens and target; empty: chosen by what the files say. */
	readonly lens: string;
	readonly target: string;
	readonly untracked: boolean;
}

export type MeasureAnswer =
	| {
			/** A page in Markdown. */
			readonly page: string;
			/** What the log can keep of it. */
			readonly entry: MeasuredEntry | null;
			/** Periodic error of the drive, degrees and seconds, where a series told it. */
			readonly periodic: MeasuredSwing | null;
			/** The lens, where the stars were enough to solve all of it. */
			readonly lens: MeasuredLens | null;
	  }
	/** `timeOf`: the number of the frame whose time nobody has said. */
	| { readonly problem: string; readonly timeOf?: number };

/** Two frames whose stars were identified, as the log has them. */
export interface MeasuredEntry {
	/** The evening's. */
	readonly date: { readonly year: number; readonly month: number; readonly day: number };
	readonly frames: readonly MeasuredFrameEntry[];
}

export interface MeasuredFrameEntry {
	/** Clock time of the frame's middle. */
	readonly at: string;
	/** Degrees, J2000. */
	readonly rightAscension: number;
	readonly declination: number;
	readonly positionAngle: number;
}

export interface MeasuredSwing {
	readonly amplitude: number;
	readonly period: number;
}

/** A lens of the plan by its name: millimetres, and the terms of its distortion. */
export interface MeasuredLens {
	readonly lens: string;
	readonly focalLength: number;
	readonly k1: number;
	readonly k2: number;
}

/** Asked by that server when it is a frame's turn: the file's bytes in base64, or why it cannot be read. */
export const FRAME: RequestOf<{ readonly index: number }, { readonly bytes: string } | { readonly problem: string }> = {
	method: "lodebook/frame",
};

/** The edit that puts what was measured into the plan's log, tracker or lens, or why it cannot be made. */
export const WRITE_MEASURED: RequestOf<
	{ readonly uri: string; readonly measured: MeasuredEntry | MeasuredSwing | MeasuredLens },
	{ readonly edit: WorkspaceEdit | null; readonly problem: string } | null
> = { method: "lodebook/writeMeasured" };
