/** Chances in whole per cent, and never as a certainty. */
import { sentences, told } from "../text/sentence.ts";

const words = sentences("notation.chance", {
	most: "over 99 %",
	least: "under 1 %",
	chance: "{percent} %",
});

/** `87 %`, `over 99 %`, `under 1 %`; `share`: from 0 to 1. */
export function chanceText(share: number): string {
	const percent = Math.round(share * 100);
	if (percent > 99) return told(words.most());
	if (percent < 1) return told(words.least());
	return told(words.chance({ percent }));
}
