/**
 * What an output is: what it is made of, what it has to be told from outside, and what comes of it. Each has a folder
 * here and a line in `outputs.ts`; the options of the commands, their help and their completions are made from that
 * table.
 */
import type { EpochMs } from "../earth/zone.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import type { Finding } from "../findings/finding.ts";
import type { Phrase } from "../text/sentence.ts";
import type { ComparedFolders } from "./compare/folders.ts";
import type { FindingRecord } from "./json/finding-record.ts";
import type { Ground } from "./page/style.ts";

interface NamedText {
	/** As it was asked for: what the reader knows the file by. */
	readonly path: string;
	readonly text: string;
}

/** The file of a plan with what was found in it, as data: it may come from another thread. */
export interface CheckedFile extends NamedText {
	readonly records: readonly FindingRecord[];
}

/** A plan with all that follows from it. */
export interface CheckedPlan extends NamedText {
	readonly findings: readonly Finding[];
	readonly evaluation: Evaluation;
}

/** Two plans, or two states of one. */
export interface TwoPlans {
	readonly before: CheckedPlan;
	readonly after: CheckedPlan;
}

/** What outputs are made of. */
export interface Materials {
	readonly plan: CheckedPlan;
	readonly files: readonly CheckedFile[];
	/** Two plans, two states of one, or all plans of two folders. */
	readonly states: TwoPlans | ComparedFolders;
}

/** How a text stands out where it is shown. */
export type Paint = "bold" | "dim" | "red" | "yellow" | "blue" | "green";

/** What the core does not know by itself. */
export interface Environment {
	readonly now: EpochMs;
	/** Of the program. */
	readonly version: string;
	/** The text of the program that makes a page move. */
	readonly pageScript: string;
	/** A text as it stands out on the terminal; the same text where nothing can. */
	readonly paint: (text: string, as: Paint) => string;
	/** The path of a file from the folder in which the program runs, `/` between its parts. */
	readonly fromHere: (path: string) => string;
	/** The same from the root of its repository; from here where it is in none. */
	readonly fromRoot: (path: string) => string;
	/** The address of a finding's explanation, by its code. */
	readonly explanation: (code: string) => string;
	/** What pictures are drawn on. */
	readonly ground: Ground;
}

/** Why an output cannot be made. */
export interface CannotMake {
	readonly why: Phrase;
}

/** How an output is made of one of the materials. */
export interface Making<M> {
	/** What comes of it, as the help of the option says. */
	readonly help: Phrase;
	/** `choice`: which of `among`, for an output that has a choice. */
	readonly make: (of: M, environment: Environment, choice: string) => string | CannotMake;
}

export interface Output {
	readonly name: string;
	/** `--html`; the output without one is what is made when no other is asked for. */
	readonly option?: string;
	/** The argument of the option. */
	readonly choice?: { readonly name: string; readonly among: readonly string[] };
	/** What the editor calls it, for an output that people ask for there. */
	readonly title?: Phrase;
	readonly mediaType: string;
	/** The ending of its file, without the dot. */
	readonly extension: string;
	readonly of: { readonly [M in keyof Materials]?: Making<Materials[M]> };
}
