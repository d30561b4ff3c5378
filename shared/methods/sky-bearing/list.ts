/** How `stars` lists what the method can be pointed at: loaded by that command alone. */
import { sentences } from "../../text/sentence.ts";
import { listed } from "../listed.ts";
import type { Listing } from "../method.ts";
import { type BearingBody, saidOf } from "./search.ts";
import type { Content } from "./set-up.ts";

const words = sentences("method.sky-bearing.list", {
	listHead: "Bodies to take a bearing from:",
	listLine: "{at}  altitude {altitude}, bearing {bearing}, axis within {error} (95 %)",
});

export const bodyList: Listing<Content, BearingBody> = {
	name: "bodies",
	always: false,
	record: ({ name, at, direction, radius95 }, iso) => ({
		name,
		at: iso(at),
		altitude: direction.altitude,
		bearing: direction.azimuth,
		axisError95: radius95,
	}),
	text: (found, _content, tonight) =>
		listed(found, tonight, words.listHead(), 24, (one, at) => words.listLine({ ...saidOf(one), at })),
};
