/**
 * `phone`: a phone's inclinometer and compass laid along the axis.
 *
 * Its compass counts cos φ across the meridian; the way it is laid (aim) counts one to one both ways; its inclinometer
 * one along.
 */

import { compassText } from "../../notation/bearing.ts";
import { optional, word } from "../../notation/shape.ts";
import { turn } from "../../sky/vector.ts";
import { told } from "../../text/sentence.ts";
import { method } from "../method.ts";
import { tiltNumber } from "../set-scale.ts";
import { magneticSource, source, sourceOfItsOwn } from "../source.ts";
import { axisNumbers, cosLatitude } from "../tonight.ts";
import { words } from "./words.ts";

/** Common practice, no source: a phone's inclinometer is good to half a degree, its compass to five. */
const PHONE_TILT = 0.5;
const PHONE_COMPASS = 5;
const PHONE_LAID = 1;

const keys = {
	reads: optional(word({ true: told(words.readsTrue()), magnetic: told(words.readsMagnetic()) }, "told"), {
		doc: "which north its compass shows; look in its settings.",
		example: "magnetic",
		otherwise: "magnetic",
	}),
};

export const phone = method({
	kind: "phone",
	words,
	keys,
	markKeys: [],
	takes: () => 5,
	byScale: [],
	hazards: () => ["magnet"],
	setUp(content, tonight) {
		const { onSite, magnetic } = tonight;
		const north = content.reads ?? "magnetic";
		const numbers = axisNumbers(tonight);
		const perDegree = cosLatitude(tonight);
		return {
			...numbers,
			at: content.at === undefined ? undefined : tonight.instant(content.at),
			windows: [onSite],
			marks: [],
			obstacles: [],
			pictures: {},
			north,
			/** What it must show for the axis to lie right, degrees; undefined where the field is unknown. */
			shown: north === "true" ? numbers.bearing : magnetic && turn(numbers.bearing - magnetic.declination),
			sources: [
				sourceOfItsOwn("tilt-scale", content, [{ along: 1, across: 0 }], PHONE_TILT),
				source("compass", content, tonight, [{ along: 0, across: perDegree }], PHONE_COMPASS),
				source(
					"aim",
					content,
					tonight,
					[
						{ along: 1, across: 0 },
						{ along: 0, across: 1 },
					],
					PHONE_LAID,
				),
				magneticSource(content, tonight, perDegree),
			],
		};
	},
	steps: ({ tilt, north, shown }) => [
		{ say: words.away() },
		{ say: words.settle() },
		{ say: words.settings({ north }) },
		{ say: words.tilt(), ...tiltNumber(tilt) },
		shown === undefined
			? { say: words.turnAnyhow({ north }) }
			: {
					say: words.turn({ north, reversed: compassText(shown + 180, north) }),
					...readingNumber(compassText(shown, north)),
				},
		{ say: words.again() },
	],
	declares: {},
	values: () => [],
});

/** What the phone must show. */
const readingNumber = (reading: string) => ({ number: reading, brief: words.turnBrief({ reading }) });
