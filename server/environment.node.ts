/** What outputs are told of this run of the command line. */
import { relative, sep } from "node:path";
import type { Environment } from "../shared/outputs/output.ts";
import type { Ground } from "../shared/outputs/page/style.ts";
import { paint } from "./terminal.node.ts";

// Both are put in when the command line is built.
declare const LODEBOOK_VERSION: string;
declare const LODEBOOK_PAGE_SCRIPT: string;

export const environment = (ground: Ground = "light"): Environment => ({
	now: Date.now(),
	version: LODEBOOK_VERSION,
	// Only an output that is a page needs it.
	get pageScript() {
		return LODEBOOK_PAGE_SCRIPT;
	},
	paint,
	ground,
	fromHere: (path) => relative(process.cwd(), path).split(sep).join("/"),
});
