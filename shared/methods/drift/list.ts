/** How `stars` lists the pairs of a drift test: loaded by that command alone. */
import { degrees, errorDegrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { listed } from "../listed.ts";
import type { Lister } from "../method.ts";
import { type Content, setUp } from "./drift.ts";
import { type DriftPair, driftPairs } from "./pairs.ts";

const words = sentences("method.drift.list", {
	head: "Pairs for a drift test, the star that sets first before the other:",
	line: "{at}  {spread} of hour angle apart, axis within {error} (95 %)",
});

export const driftList: Lister<Content, DriftPair> = {
	find: ({ uncertainty, takes }, tonight) =>
		driftPairs({ ...(uncertainty && { uncertainty }), ...(takes !== undefined && { takes }) }, tonight, setUp),
	listing: {
		name: "driftPairs",
		always: false,
		record: ({ names, at, spread, radius95 }, iso) => ({ names, at: iso(at), spread, axisError95: radius95 }),
		text: (found, _content, tonight) =>
			listed(found, tonight, words.head(), 40, ({ spread, radius95 }, at) =>
				words.line({ at, spread: degrees(spread, 0), error: errorDegrees(radius95) }),
			),
	},
};
