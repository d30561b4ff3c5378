/** `sky-bearing`: tilt by scale, bearing from a body of the sky; `set-up.ts` has the derivation. */

import { clockOf, wallClock } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { exactNightClock, nightClock } from "../../notation/night-clock.ts";
import type { PathOf } from "../../notation/value.ts";
import { apparentDirection, findBody } from "../../sky/place.ts";
import { markValues, spoken } from "../mark-values.ts";
import { method } from "../method.ts";
import { mindNeighbour } from "../neighbour.ts";
import { panValues } from "../pan-values.ts";
import { tiltStep, turnStep } from "../set-scale.ts";
import { turnToSet } from "../tonight.ts";
import { search } from "./search.ts";
import { type Content, keys, MINUTES, setUp } from "./set-up.ts";
import { words } from "./words.ts";

const SHOWN_AT = ["body", "at"] as const satisfies readonly PathOf<Content>[];
const { of: valuesOfMarks, ...markTable } = markValues<PathOf<Content>>(SHOWN_AT);
const { of: valuesOfPan, offset: panValue, ...panTable } = panValues<PathOf<Content>>(SHOWN_AT);

/** A bearing taken from a body of the sky. */
export const skyBearing = method({
	kind: "sky-bearing",
	words,
	keys,
	begins: ["body", "at"],
	markKeys: ["body"],
	takes: () => MINUTES,
	byScale: ["tilt", "pan"],
	hazards: ({ body }) => (body !== undefined && findBody(body)?.type === "sun" ? ["sun"] : []),
	setUp,
	steps({ marks: [mark], pan, bearing, at, ...numbers }, tonight) {
		if (!mark || !pan || at === undefined) return [];
		const sun = mark.body?.type === "sun";
		const clock = exactNightClock(tonight, at);
		const toward = bearingText(mark.direction.azimuth);
		const sighted = { at: clock, mark: spoken(mark.name), bearing: toward, altitude: degrees(mark.direction.altitude) };
		return [
			{ say: words.level() },
			tiltStep(numbers, tonight),
			{
				say: sun
					? words.shadow({ at: clock, bearing: toward })
					: words.sight({ mind: mindNeighbour(mark), ...sighted }),
				number: clock,
				brief: sun ? words.shadowBrief({ at: clock }) : words.sightBrief(sighted),
				at,
			},
			turnStep(pan.offset, tonight),
			{ say: words.lock(), number: bearingText(bearing), seen: true },
		];
	},
	declares: { ...panTable, ...markTable },
	values: ({ marks, pan }) => [...(marks[0] && pan ? valuesOfPan(marks[0].name, pan) : []), ...valuesOfMarks(marks)],
	byMinute({ marks: [mark], bearing }, tonight) {
		const body = mark?.body;
		if (!mark || !body) return undefined;
		return (at) => {
			const direction = apparentDirection(body, tonight.spot, at);
			return [
				panValue(mark.name, turnToSet(bearing - direction.azimuth, tonight)),
				...valuesOfMarks([{ name: mark.name, key: mark.key, direction }]),
			];
		};
	},
	hints: {
		body: [
			{ value: markTable["star-altitude"] },
			{ value: markTable["star-bearing"] },
			{ value: panTable["pan-offset"] },
		],
	},
	search,
	propose(tonight) {
		const [best] = search.find({}, tonight, { most: 1 });
		if (!best) return [];
		return [
			{
				content: { body: best.name, at: wallClock(tonight.zone, best.at).secondsOfDay },
				keys: { body: best.name, at: clockOf(tonight.zone, best.at) },
				by: words.from({ mark: best.name, at: nightClock(tonight, best.at) }),
			},
		];
	},
	drafts: ["body: Jupiter", "body: Sirius", "body: Antares", "body: Vega"],
});
