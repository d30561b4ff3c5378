/** `star-sweep`: two stars met by a pointer that turns with the axis; `set-up.ts` has the derivation. */
import type { AxisVector } from "../../alignment/axis-error.ts";
import { degrees, errorDegrees } from "../../notation/angle.ts";
import { bearingWithPoint } from "../../notation/bearing.ts";
import { type PathOf, valuesFor } from "../../notation/value.ts";
import { type Phrase, told } from "../../text/sentence.ts";
import { markValues } from "../mark-values.ts";
import { type Mark, method } from "../method.ts";
import { search } from "./search.ts";
import { type Content, keys, setUp } from "./set-up.ts";
import { words } from "./words.ts";

const SHOWN_AT = ["stars", "stars.0", "at"] as const satisfies readonly PathOf<Content>[];
const { of: valuesOfMarks, ...markTable } = markValues<PathOf<Content>>(SHOWN_AT);
const values = valuesFor<PathOf<Content>>()("method", {
	"star-miss": {
		is: "angle",
		places: 2,
		label: "The pointer should pass it at",
		how: "Polar distance as seen less the pointer's angle: positive outside the circle it sweeps.",
		at: SHOWN_AT,
	},
	"axis-error-as-aimed-along": {
		is: "error",
		places: 2,
		label: "Axis too high, if put on the star itself",
		how: "Along the meridian; too low negative.",
		at: SHOWN_AT,
	},
	"axis-error-as-aimed-across": {
		is: "error",
		places: 2,
		label: "Axis clockwise of the pole, if put on the star itself",
		how: "Across the meridian, on the sky.",
		at: SHOWN_AT,
	},
	"pair-spread": {
		is: "angle",
		places: 0,
		label: "Hour angle between the stars",
		how: "90° is best; the error grows as 1 / sin of it.",
		at: ["stars"],
	},
});

/** Two stars met by a pointer that turns with the axis. */
export const starSweep = method({
	kind: "star-sweep",
	words,
	keys,
	markKeys: ["stars", "stars.0"],
	byScale: [],
	hazards: () => ["laser"],
	setUp,
	steps({ marks: [first, second], spread, perMiss, offset, tilt, bearing }) {
		if (!first || !second) return [];
		const angle = offset === 90 ? words.square() : words.atAngle({ angle: degrees(offset) });
		const effect = (i: 0 | 1): Phrase | "" => (perMiss ? effectOf(perMiss[i]) : "");
		return [
			{ say: words.fix({ angle }) },
			{
				say: words.rough(),
				number: told(words.roughly({ tilt: degrees(tilt), bearing: bearingWithPoint(bearing) })),
			},
			{ say: words.first({ star: first.name, effect: effect(0) }), number: placeOf(first) },
			{
				say: words.second({ star: second.name, spread: degrees(spread ?? 0, 0), effect: effect(1) }),
				number: placeOf(second),
			},
			{ say: words.move() },
			{ say: words.look() },
		];
	},
	declares: { ...markTable, ...values },
	values({ marks, miss, asAimed, spread }) {
		const own = { of: marks[0]?.name };
		return [
			...valuesOfMarks(marks),
			...(miss === undefined ? [] : [values["star-miss"](miss, own)]),
			...(asAimed
				? [
						values["axis-error-as-aimed-along"](asAimed.along, own),
						values["axis-error-as-aimed-across"](asAimed.across, own),
					]
				: []),
			...(spread === undefined ? [] : [values["pair-spread"](spread, { of: "star-sweep" })]),
		];
	},
	search,
	snippet: {
		title: told(words.snippet()),
		description: told(words.snippetAbout()),
		lines: ["stars: [${1:Mintaka}, ${2:zeta Virginis}]", 'at: "${3:21:00}"', "local-rules-checked: ${4:false}"],
	},
});

const placeOf = ({ direction }: Mark): string =>
	told(words.place({ bearing: bearingWithPoint(direction.azimuth), altitude: degrees(direction.altitude) }));

/** What a pointer that passes inside a star says of the axis. */
const effectOf = ({ along, across }: AxisVector): Phrase =>
	words.effect({
		tilt: errorDegrees(Math.abs(along), 2),
		height: along >= 0 ? words.tooLow() : words.tooHigh(),
		across: errorDegrees(Math.abs(across), 2),
		side: across >= 0 ? words.anticlockwise() : words.clockwise(),
	});
