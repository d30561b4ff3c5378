/** How `stars` lists the pairs of a drift test: loaded by that command alone. */
import { degrees, errorDegrees } from "../../notation/angle.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { Lister } from "../method.ts";
import { type Content, setUp } from "./drift.ts";
import { type DriftPair, driftPairs } from "./pairs.ts";

const words = sentences("method.drift.list", {
	head: "Pairs for a drift test, the star that sets first before the other:",
	line: "{at}  {spread} of hour angle apart, leaves {error} (95 %)",
});

export const driftList: Lister<Content, DriftPair> = {
	find: ({ uncertainty, takes }, tonight) =>
		driftPairs({ ...(uncertainty && { uncertainty }), ...(takes !== undefined && { takes }) }, tonight, setUp),
	listing: {
		name: "driftPairs",
		always: false,
		record: ({ names, at, spread, radius95 }, iso) => ({ names, at: iso(at), spread, axisError95: radius95 }),
		text: (found, _content, tonight) =>
			found.length === 0
				? []
				: [
						{ text: `\n${told(words.head())}\n` },
						...found.map(({ name, at, spread, radius95 }) => {
							const said = {
								at: nightClock(tonight, at).padStart(10),
								spread: degrees(spread, 0),
								error: errorDegrees(radius95),
							};
							return { text: `${name.padEnd(40)}${told(words.line(said))}\n` };
						}),
					],
	},
};
