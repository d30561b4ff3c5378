/** What outputs are told of this run of the command line. */
import { relative, sep } from "node:path";
import type { Environment } from "../shared/outputs/output.ts";
import type { Ground } from "../shared/outputs/page/style.ts";
import { explanationUri } from "../shared/protocol/explanation.ts";
import { rootOf } from "./library.node.ts";
import { paint } from "./terminal.node.ts";

// Both are put in when the command line is built.
declare const LODEBOOK_VERSION: string;
declare const LODEBOOK_PAGE_SCRIPT: string;

/** Now; or, so that the same plan gives the same bytes, the moment that a build gives (reproducible-builds.org), seconds. */
const made = (epoch: string | undefined): number =>
	epoch !== undefined && /^\d{1,12}$/.test(epoch) ? Number(epoch) * 1000 : Date.now();

export const environment = (ground: Ground = "light"): Environment => ({
	now: made(process.env.SOURCE_DATE_EPOCH),
	version: LODEBOOK_VERSION,
	// Only an output that is a page needs it.
	get pageScript() {
		return LODEBOOK_PAGE_SCRIPT;
	},
	paint,
	ground,
	fromRoot: (path) => relative(rootOf(path), path).split(sep).join("/"),
	fromHere: (path) => relative(process.cwd(), path).split(sep).join("/"),
	explanation: explanationUri,
});
