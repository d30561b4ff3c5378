/** How `stars` lists what the method can be pointed at: loaded by that command alone. */
import { sentences } from "../../text/sentence.ts";
import { listed } from "../listed.ts";
import type { Listing } from "../method.ts";
import { type SweepPair, saidOf } from "./search.ts";
import type { Content } from "./set-up.ts";

const words = sentences("method.star-sweep.list", {
	listHead: "Pairs for a sweep:",
	listLine: "{at}  a turn of {spread} apart, axis within {error} (95 %)",
});

export const sweepList: Listing<Content, SweepPair> = {
	name: "pairs",
	always: false,
	record: ({ names, at, spread, radius95 }, iso) => ({ names, at: iso(at), spread, axisError95: radius95 }),
	text: (found, _content, tonight) =>
		listed(found, tonight, words.listHead(), 40, (one, at) => words.listLine({ ...saidOf(one), at })),
};
