/** `star-sweep`: two stars met by a pointer that turns with the axis; `set-up.ts` has the derivation. */
import type { AxisVector } from "../../alignment/axis-error.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { degrees, errorDegrees } from "../../notation/angle.ts";
import { bearingToSet, bearingWithPoint } from "../../notation/bearing.ts";
import { exactNightClock } from "../../notation/night-clock.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { RAD } from "../../sky/vector.ts";
import { type Phrase, told } from "../../text/sentence.ts";
import { markValues } from "../mark-values.ts";
import { type Mark, method } from "../method.ts";
import { mindNeighbour } from "../neighbour.ts";
import { hazardsOf, isCleared, isSight } from "../pointed-with.ts";
import type { Tonight } from "../tonight.ts";
import { search } from "./search.ts";
import { type Content, keys, MINUTES, type SweepPass, type SweepSetUp, setUp, sweepAt } from "./set-up.ts";
import { words } from "./words.ts";

const SHOWN_AT = ["stars", "stars.0", "at"] as const satisfies readonly PathOf<Content>[];
const { of: valuesOfMarks, ...markTable } = markValues<PathOf<Content>>(SHOWN_AT);
const values = valuesFor<PathOf<Content>>()("method", {
	"star-miss": {
		is: "side",
		places: 2,
		plus: "on the pole's side",
		minus: "on the side away from the pole",
		label: "The pointer must pass {mark} at",
		how: "The star's distance from the pole as seen, minus the pointer's angle to the axis.",
		at: SHOWN_AT,
	},
	"axis-error-as-aimed-along": {
		is: "side",
		places: 2,
		plus: "too high",
		minus: "too low",
		label: "Axis, up or down, if the pointer is put on the star itself",
		how: "Along the meridian, compared with the pole.",
		at: SHOWN_AT,
	},
	"axis-error-as-aimed-across": {
		is: "side",
		places: 2,
		plus: "to the right",
		minus: "to the left",
		label: "Axis, to the side, if the pointer is put on the star itself",
		how: "Across the meridian, on the sky, as you face the pole.",
		at: SHOWN_AT,
	},
	"first-pass": {
		is: "text",
		label: "Pass {mark} at",
		how: "At which distance and on which side the pointer must pass the star; directions are as you face the star.",
		at: [],
	},
	"first-turn": {
		is: "text",
		label: "If 1° too near the pole at {mark}",
		how: `Tilt and pan of the axis, left and right as you face the pole. If the pointer passes too far from the
			pole, turn them in the opposite direction.`,
		at: [],
	},
	"second-pass": {
		is: "text",
		label: "Pass {mark} at",
		how: "At which distance and on which side the pointer must pass the star; directions are as you face the star.",
		at: [],
	},
	"second-turn": {
		is: "text",
		label: "If 1° too near the pole at {mark}",
		how: `Tilt and pan of the axis, left and right as you face the pole. If the pointer passes too far from the
			pole, turn them in the opposite direction.`,
		at: [],
	},
	"pair-spread": {
		is: "angle",
		places: 0,
		label: "Hour angle between the stars",
		how: "90° is best; the error grows as 1 / sin of this angle.",
		at: ["stars"],
	},
});

/** Two stars met by a pointer that turns with the axis. */
export const starSweep = method({
	kind: "star-sweep",
	words,
	keys,
	begins: ["stars", "at"],
	markKeys: ["stars", "stars.0"],
	takes: () => MINUTES,
	byScale: [],
	hazards: hazardsOf,
	isCleared,
	needs: (content) => (isSight(content) ? words.needsSight() : words.needsLaser()),
	setUp,
	steps(
		{ marks: [first, second], passes: [past, pastOther], spread, perMiss, offset, tilt, bearing, at },
		tonight,
		content,
	) {
		const { spot, tools, magnetic } = tonight;
		if (!first || !second || !past || !pastOther || at === undefined) return [];
		const angle = offset === 90 ? words.square() : words.atAngle({ angle: degrees(offset) });
		const sight = isSight(content);
		const roughly = { tilt: degrees(tilt), bearing: bearingToSet(bearing, magnetic?.declination) };
		const clock = exactNightClock(tonight, at);
		return [
			{ say: words.fix({ angle, what: sight ? words.sight() : words.laser() }) },
			{ say: words.rough(), number: told(words.roughly(roughly)), brief: words.roughBrief(roughly) },
			{ say: sight ? words.lookThrough() : words.look() },
			{
				say: words.first({
					mind: mindNeighbour(first),
					at: clock,
					star: first.name,
					seen: seenAt(first),
					place: placeOf(past, first.name),
				}),
				number: distanceOf(past),
				brief: words.passBriefAt({ star: first.name, place: briefPlaceOf(past), at: clock }),
				at,
			},
			{
				say: words.second({
					mind: mindNeighbour(second),
					star: second.name,
					seen: seenAt(second),
					spread: degrees(spread ?? 0, 0),
					place: placeOf(pastOther, second.name),
				}),
				number: distanceOf(pastOther),
				brief: words.passBrief({ star: second.name, place: briefPlaceOf(pastOther) }),
			},
			...(perMiss
				? [
						{
							say: words.correct({
								off: sight ? "" : words.switchOff(),
								first: first.name,
								firstTurn: words.turn(turnOf(perMiss[0], spot.latitude)),
								second: second.name,
								secondTurn: words.turn(turnOf(perMiss[1], spot.latitude)),
							}),
						},
					]
				: []),
			...(tools.scales ? [] : [{ say: words.ball() }]),
			{ say: words.again() },
			{ say: words.lock() },
			...(sight ? [] : [{ say: words.off() }]),
		];
	},
	declares: { ...markTable, ...values },
	values(setUp, tonight) {
		const { marks, passes, asAimed, spread, at } = setUp;
		const own = { of: marks[0]?.name };
		return [
			...valuesOfMarks(marks),
			...passes.map(({ outside }, i) =>
				values["star-miss"](outside, { of: marks[i]?.name, fill: { mark: marks[i]?.name ?? "" } }),
			),
			...(asAimed
				? [
						values["axis-error-as-aimed-along"](asAimed.along, own),
						values["axis-error-as-aimed-across"](asAimed.across, own),
					]
				: []),
			...(spread === undefined ? [] : [values["pair-spread"](spread, { of: "star-sweep" })]),
			...(at === undefined ? [] : valuesAt(setUp, tonight, at)),
		];
	},
	byMinute: (setUp, tonight) => (setUp.perMiss ? (at) => valuesAt(setUp, tonight, at) : undefined),
	search,
});

/** What changes with the clock: the stars' places turn what is right, above and clockwise of the pole. */
function valuesAt(setUp: SweepSetUp, tonight: Tonight, at: EpochMs): readonly Value[] {
	const [first, second] = setUp.marks;
	const then = sweepAt(setUp, tonight, at);
	if (!first || !second || !then) return [];
	const { latitude } = tonight.spot;
	const of = ({ name }: Mark) => ({ of: name, fill: { mark: name } });
	return [
		values["first-pass"](told(shortPlaceOf(then.passes[0])), of(first)),
		values["first-turn"](told(words.shortTurn(turnOf(then.perMiss[0], latitude))), of(first)),
		values["second-pass"](told(shortPlaceOf(then.passes[1])), of(second)),
		values["second-turn"](told(words.shortTurn(turnOf(then.perMiss[1], latitude))), of(second)),
	];
}

const seenAt = ({ direction }: Mark): Phrase =>
	words.seen({ bearing: bearingWithPoint(direction.azimuth), altitude: degrees(direction.altitude) });

const distanceOf = ({ told: distance }: SweepPass): string => degrees(Math.abs(distance), 1);

/** Where the pointer passes a star: `0.8° from Spica, on the pole's side (above and to the left …)`, or over it. */
const placeOf = (pass: SweepPass, star: string): Phrase =>
	pass.told === 0 ? words.over() : words.beside({ star, ...besideOf(pass) });

/** The same in a table. */
const shortPlaceOf = (pass: SweepPass): Phrase => (pass.told === 0 ? words.over() : words.shortPass(besideOf(pass)));

/** The same without its step. */
const briefPlaceOf = (pass: SweepPass): Phrase => (pass.told === 0 ? words.over() : words.passBy(besideOf(pass)));

function besideOf(pass: SweepPass) {
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
	return { distance: distanceOf(pass), side: pass.told > 0 ? words.poleSide() : words.farSide(), way };
}

/** What to do about each degree by which the pointer passes a star too near the pole. */
function turnOf({ along, across }: AxisVector, latitude: number) {
	const pan = across / Math.cos(latitude * RAD);
	return {
		tilt: errorDegrees(Math.abs(along), 2),
		height: along >= 0 ? words.raise() : words.lower(),
		pan: errorDegrees(Math.abs(pan), 2),
		side: pan >= 0 ? words.right() : words.left(),
	};
}
