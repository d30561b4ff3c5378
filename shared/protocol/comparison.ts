/** What changed in a plan since it was committed, and what follows from that otherwise. */
import type { FileAnswer } from "./files.ts";
import type { RequestOf } from "./message.ts";

/** The comparison as Markdown; null where the plan is not open. `text`: the plan as it was, `as`: what that is called. */
export const COMPARE: RequestOf<
	{ readonly uri: string; readonly text: string; readonly as: string },
	{ readonly markdown: string } | null
> = { method: "lodebook/compare" };

/** Asked by the server meanwhile: another plan, as it was committed. */
export const READ_COMMITTED: RequestOf<{ readonly uri: string }, FileAnswer> = { method: "lodebook/readCommitted" };

/** The scheme of the page that shows it. */
export const COMPARISON_SCHEME = "lodebook-comparison";
