/** What can be made of a plan and written to a file of its own. */
import type { RequestOf } from "./message.ts";

/** Everything that can be made of a plan, of a group's of each of it too, with its name and the ending of its file. */
export const EXPORTS: RequestOf<{ readonly uri: string }, readonly ExportChoice[]> = { method: "lodebook/exports" };

export interface ExportChoice {
	readonly label: string;
	readonly description: string;
	readonly output: string;
	/** Which of its pictures, for an output that has a choice. */
	readonly choice: string;
	readonly extension: string;
	/** It is not kept as a file, but asks to be printed. */
	readonly prints?: true;
	/** Of which of a group, by the place in its list. */
	readonly member?: number;
}

/** The text of an output, or why it cannot be made; null where the plan is not open. */
export const EXPORT: RequestOf<
	{
		readonly uri: string;
		readonly output: string;
		readonly choice: string;
		readonly member?: number;
		/** The program that makes a page move: the extension has it. */
		readonly pageScript: string;
	},
	{ readonly text: string } | { readonly problem: string } | null
> = { method: "lodebook/export" };
