/** When the way to a site by the sea is open: around low water. */
import type { EvaluatedSite } from "../cells/site/site.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Interval } from "../sky/intervals.ts";

/** How long before and after low water the way counts as open, if the plan does not say. Common practice, no source. */
const USUALLY_OPEN_MS = 3_600_000;

/**
 * How long after low water one may be out at the latest, however long the way is open: the usual advice of coastguards.
 * Common practice, no source.
 */
const OUT_AFTER_LOW_MS = 3_600_000;

/** From when one may walk in, and until when one must be out again, around this low water. */
export function wayOpen(site: EvaluatedSite | undefined, low: EpochMs): Interval {
	const open = site?.content["way-open"];
	const openMs = open === undefined ? USUALLY_OPEN_MS : open * 1000;
	return { from: low - openMs, until: low + Math.min(openMs, OUT_AFTER_LOW_MS) };
}
