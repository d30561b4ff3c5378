/** Ways out of a guide star that does not serve: the best of those that do tonight. */

import type { MethodContent } from "../../cells/kinds.ts";
import { clockOf } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { starsFor } from "../../evaluate/suggestions.ts";
import type { GuideStar } from "../../methods/square-laser/guide-stars.ts";
import type { Cell } from "../../plan/plan.ts";
import { type Fix, fix, setKey } from "../finding.ts";

/** `Nearest that works: zeta Ophiuchi at 20:41.` and the edits that take it. */
export function starFixes(
	{ tonight, night }: Evaluation,
	cell: Cell,
	method: MethodContent,
	most = 3,
): { readonly words: string; readonly fixes: readonly Fix[] } {
	if (!tonight || !night) return { words: "", fixes: [] };
	const stars = starsFor(method, tonight);
	const [best] = stars;
	if (!best)
		return {
			words:
				" No star to magnitude 4.5 passes the aim point in view, in dark or twilight, during the stay: choose another method, another night, or stay longer.",
			fixes: [],
		};
	const clock = (guide: GuideStar) => clockOf(night.zone, guide.best);
	return {
		words: ` Works tonight: ${best.star.name} at ${clock(best)}.`,
		fixes: stars
			.slice(0, most)
			.flatMap((guide) =>
				fix(
					`Take ${guide.star.name} at ${clock(guide)}`,
					false,
					setKey(cell, "", "guide-star", guide.star.name),
					setKey(cell, "", "at", `"${clock(guide)}"`),
				),
			),
	};
}
