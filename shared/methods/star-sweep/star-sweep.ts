/** `star-sweep`: two stars met by a pointer that turns with the axis; `set-up.ts` has the derivation. */
import type { AxisVector } from "../../alignment/axis-error.ts";
import { degrees, errorDegrees } from "../../notation/angle.ts";
import { bearingWithPoint } from "../../notation/bearing.ts";
import { type PathOf, valuesFor } from "../../notation/value.ts";
import { RAD } from "../../sky/vector.ts";
import { type Phrase, told } from "../../text/sentence.ts";
import { markValues } from "../mark-values.ts";
import { type Mark, method } from "../method.ts";
import { hazardsOf, isSight } from "../pointed-with.ts";
import { search } from "./search.ts";
import { type Content, keys, MINUTES, type SweepPass, setUp } from "./set-up.ts";
import { words } from "./words.ts";

const SHOWN_AT = ["stars", "stars.0", "at"] as const satisfies readonly PathOf<Content>[];
const { of: valuesOfMarks, ...markTable } = markValues<PathOf<Content>>(SHOWN_AT);
const values = valuesFor<PathOf<Content>>()("method", {
	"star-miss": {
		is: "angle",
		places: 2,
		label: "The pointer must pass it at",
		how: `Polar distance as seen less the pointer's angle: on the pole's side of the star; on the side away from the pole
			negative.`,
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
	takes: () => MINUTES,
	byScale: [],
	hazards: hazardsOf,
	needs: (content) => (isSight(content) ? words.needsSight() : words.needsLaser()),
	setUp,
	steps(
		{ marks: [first, second], passes: [past, pastOther], spread, perMiss, offset, tilt, bearing },
		{ spot, tools },
		content,
	) {
		if (!first || !second || !past || !pastOther) return [];
		const angle = offset === 90 ? words.square() : words.atAngle({ angle: degrees(offset) });
		const sight = isSight(content);
		return [
			{ say: words.fix({ angle, what: sight ? words.sight() : words.laser() }) },
			{
				say: words.rough(),
				number: told(words.roughly({ tilt: degrees(tilt), bearing: bearingWithPoint(bearing) })),
			},
			{ say: sight ? words.lookThrough() : words.look() },
			{
				say: words.first({ star: first.name, seen: seenAt(first), place: placeOf(past, first.name) }),
				number: distanceOf(past),
			},
			{
				say: words.second({
					star: second.name,
					seen: seenAt(second),
					spread: degrees(spread ?? 0, 0),
					place: placeOf(pastOther, second.name),
				}),
				number: distanceOf(pastOther),
			},
			...(perMiss
				? [
						{
							say: words.correct({
								first: first.name,
								firstTurn: correctionOf(perMiss[0], spot.latitude),
								second: second.name,
								secondTurn: correctionOf(perMiss[1], spot.latitude),
							}),
						},
					]
				: []),
			...(tools.scales ? [] : [{ say: words.ball() }]),
			{ say: words.again({ first: first.name, second: second.name }) },
			{ say: words.lock() },
			...(sight ? [] : [{ say: words.off() }]),
		];
	},
	declares: { ...markTable, ...values },
	values({ marks, passes, asAimed, spread }) {
		const own = { of: marks[0]?.name };
		return [
			...valuesOfMarks(marks),
			...passes.map(({ outside }, i) => values["star-miss"](outside, { of: marks[i]?.name })),
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

const seenAt = ({ direction }: Mark): Phrase =>
	words.seen({ bearing: bearingWithPoint(direction.azimuth), altitude: degrees(direction.altitude) });

const distanceOf = ({ told: distance }: SweepPass): string => degrees(Math.abs(distance), 1);

/** Where the pointer passes a star: `0.8° from Spica, on the pole's side (above and to the left …)`, or over it. */
function placeOf(pass: SweepPass, star: string): Phrase {
	if (pass.told === 0) return words.over();
	const ways = [
		words.above(),
		words.aboveRight(),
		words.right(),
		words.belowRight(),
		words.below(),
		words.belowLeft(),
		words.left(),
		words.aboveLeft(),
	];
	const way = ways[Math.round(pass.way / 45) % 8] as Phrase;
	const side = pass.told > 0 ? words.poleSide() : words.farSide();
	return words.beside({ distance: distanceOf(pass), star, side, way });
}

/** What to do about each degree by which the pointer passes a star too near the pole. */
const correctionOf = ({ along, across }: AxisVector, latitude: number): Phrase => {
	const pan = across / Math.cos(latitude * RAD);
	return words.turn({
		tilt: errorDegrees(Math.abs(along), 2),
		height: along >= 0 ? words.raise() : words.lower(),
		pan: errorDegrees(Math.abs(pan), 2),
		side: pan >= 0 ? words.right() : words.left(),
	});
};
