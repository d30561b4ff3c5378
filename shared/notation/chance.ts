/** Chances in whole per cent, never certain: `87 %`, `over 99 %`, `under 1 %`. */
import { sentences, told } from "../text/sentence.ts";

const words = sentences("notation.chance", { over: "over 99 %", under: "under 1 %", plain: "{percent} %" });

/** A chance from 0 to 1. What rounds to 0 or 100 per cent is neither. */
export function chanceText(chance: number): string {
	const percent = Math.round(chance * 100);
	return told(percent >= 100 ? words.over() : percent <= 0 ? words.under() : words.plain({ percent }));
}
