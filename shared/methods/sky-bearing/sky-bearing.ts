/** `sky-bearing`: tilt by scale, bearing from a body of the sky; `set-up.ts` has the derivation. */

import { degrees, turnText } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import type { PathOf } from "../../notation/value.ts";
import { findBody } from "../../sky/place.ts";
import { told } from "../../text/sentence.ts";
import { markValues } from "../mark-values.ts";
import { method } from "../method.ts";
import { panValues } from "../pan-values.ts";
import { search } from "./search.ts";
import { type Content, keys, setUp } from "./set-up.ts";
import { words } from "./words.ts";

const SHOWN_AT = ["body", "at"] as const satisfies readonly PathOf<Content>[];
const { of: valuesOfMarks, ...markTable } = markValues<PathOf<Content>>(SHOWN_AT);
const { of: valuesOfPan, ...panTable } = panValues<PathOf<Content>>(SHOWN_AT);

/** A bearing taken from a body of the sky. */
export const skyBearing = method({
	kind: "sky-bearing",
	words,
	keys,
	markKeys: ["body"],
	byScale: ["tilt", "pan"],
	hazards: ({ body }) => (body !== undefined && findBody(body)?.type === "sun" ? ["sun"] : []),
	setUp,
	steps({ marks: [mark], pan, scaleTilt, bearing }) {
		if (!mark || !pan) return [];
		const sun = mark.body?.type === "sun";
		return [
			{ say: words.level() },
			{ say: words.tilt(), number: degrees(scaleTilt) },
			{
				say: sun ? words.shadow() : words.sight({ mark: mark.name }),
				number: bearingText(mark.direction.azimuth),
			},
			{ say: words.turn(), number: turnText(pan.offset) },
			{ say: words.lock(), number: bearingText(bearing) },
		];
	},
	declares: { ...panTable, ...markTable },
	values: ({ marks, pan }) => [...(marks[0] && pan ? valuesOfPan(marks[0].name, pan) : []), ...valuesOfMarks(marks)],
	hints: {
		body: [
			{ value: markTable["star-altitude"] },
			{ value: markTable["star-bearing"] },
			{ value: panTable["pan-turn"] },
		],
	},
	search,
	propose(tonight, clock) {
		const [best] = search.find({}, tonight, { most: 1 });
		if (!best) return [];
		const at = clock(best.at);
		return [
			{
				content: { body: best.name },
				keys: { body: best.name, at },
				by: words.from({ mark: best.name, at }),
			},
		];
	},
	drafts: ["body: Jupiter", "body: Sirius", "body: Antares", "body: Vega"],
	snippet: {
		title: told(words.snippet()),
		description: told(words.snippetAbout()),
		lines: ["body: ${1:Jupiter}", 'at: "${2:21:00}"'],
	},
});
