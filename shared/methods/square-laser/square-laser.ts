/** `square-laser`: a laser across the axis is put on a guide star; `set-up.ts` has the derivation. */
import { type Miss, missFacing } from "../../alignment/pointer.ts";
import { clockOf, wallClock } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingToSet } from "../../notation/bearing.ts";
import { exactNightClock, nightClock } from "../../notation/night-clock.ts";
import { type PathOf, valuesFor } from "../../notation/value.ts";
import { apparentDirection } from "../../sky/place.ts";
import { turn } from "../../sky/vector.ts";
import type { Phrase } from "../../text/sentence.ts";
import { markValues } from "../mark-values.ts";
import { method } from "../method.ts";
import { mindNeighbour } from "../neighbour.ts";
import { hazardsOf, isCleared, isSight } from "../pointed-with.ts";
import { tiltNumber } from "../set-scale.ts";
import { search } from "./search.ts";
import { type Content, keys, MINUTES, setUp, type ToldPlace, toldBeside } from "./set-up.ts";
import { words } from "./words.ts";

type Path = PathOf<Content & { readonly kind?: string }>;

const AIM_AT = ["offset", "guide-star", "kind", "reach"] as const satisfies readonly Path[];
const STAR_AT = ["guide-star", "at"] as const satisfies readonly Path[];
const { of: valuesOfMarks, ...markTable } = markValues<Path>(STAR_AT);
const values = valuesFor<Path>()("method", {
	"aim-altitude": {
		is: "angle",
		places: 2,
		label: "Altitude of the aim point",
		how: `On the equator's side: 180° minus \`offset\` minus the latitude north or south, so 90° minus the latitude
			for a right-angle laser. Refraction is counted in the star's place, not here.`,
		at: AIM_AT,
	},
	"aim-bearing": { is: "bearing", label: "Bearing of the aim point", how: "On the meridian.", at: AIM_AT },
	"aim-compass-bearing": {
		is: "magnetic",
		label: "Compass reading of the aim point",
		how: "True bearing minus magnetic declination.",
		at: AIM_AT,
	},
	"star-miss": {
		is: "angle",
		places: 2,
		label: "It misses the aim point by",
		how: "Angle on the sky between the star, as seen, and the aim point.",
		at: STAR_AT,
	},
	"star-miss-right": {
		is: "side",
		places: 2,
		plus: "right",
		minus: "left",
		label: "Guide star passes the aim point, to the side",
		how: "On the sky, as you face the star.",
		at: STAR_AT,
	},
	"star-miss-up": {
		is: "side",
		places: 2,
		plus: "above",
		minus: "below",
		label: "Guide star passes the aim point, up or down",
		how: "On the sky.",
		at: STAR_AT,
	},
	"beam-right": {
		is: "side",
		places: 2,
		plus: "right",
		minus: "left",
		label: "Beam or sight from the star, to the side",
		how: "Where the beam or sight must be at that minute, measured on the sky, as you face the star.",
		at: STAR_AT,
	},
	"beam-up": {
		is: "side",
		places: 2,
		plus: "above",
		minus: "below",
		label: "Beam or sight from the star, up or down",
		how: "Where the beam or sight must be at that minute, measured on the sky.",
		at: STAR_AT,
	},
	"axis-error-as-aimed-along": {
		is: "side",
		places: 2,
		plus: "too high",
		minus: "too low",
		label: "Altitude of the axis with the beam or sight on the star itself",
		how: "Along the meridian, compared with the pole.",
		at: STAR_AT,
	},
	"axis-error-as-aimed-across": {
		is: "side",
		places: 2,
		plus: "to the right",
		minus: "to the left",
		label: "Bearing of the axis with the beam or sight on the star itself",
		how: "Across the meridian, on the sky, as you face the pole.",
		at: STAR_AT,
	},
});

/** A laser across the axis, put on a guide star. */
export const squareLaser = method({
	kind: "square-laser",
	words,
	keys,
	markKeys: ["guide-star"],
	begins: ["guide-star", "at"],
	shown: true,
	takes: () => MINUTES,
	byScale: [],
	hazards: hazardsOf,
	isCleared,
	called: (content) => (isSight(content) ? words.nameSight() : undefined),
	needs: (content) => (isSight(content) ? words.needsSight() : words.needsLaser()),
	setUp,
	steps({ marks: [mark], miss, offset, tilt, aim, at, sideways }, tonight, content) {
		const { tools, magnetic } = tonight;
		const clock = at === undefined ? undefined : exactNightClock(tonight, at);
		const angle = offset === 90 ? words.square() : words.atAngle({ angle: degrees(offset) });
		const sight = isSight(content);
		const what = sight ? words.sight() : words.laser();
		const mover = sight ? words.mark() : words.beam();
		const toward = bearingToSet(aim.azimuth, magnetic?.declination);
		const place = mark && miss && beamPlace(toldBeside(miss, sideways), mark.name);
		const by = tools.scales ? words.byTiltAndPan() : words.byHand();
		return [
			{ say: tools.scales ? words.level() : words.levelBall() },
			{ say: words.lay({ what, angle }) },
			{ say: words.tilt(), ...tiltNumber(tilt) },
			{ say: words.turn({ what }), number: toward, brief: words.turnBrief({ what, bearing: toward }) },
			{ say: sight ? words.lookThrough() : words.look() },
			mark && place && clock !== undefined && at !== undefined
				? {
						say: words.put({ mind: mindNeighbour(mark), at: clock, by, mover, place }),
						number: clock,
						brief: words.putBrief({ mover, place, at: clock }),
						at,
					}
				: { say: words.putOnStar({ by, mover }) },
			{ say: (sight ? words.lock : words.lockLaser)({ how: tools.scales ? words.lockBoth() : words.lockBall() }) },
			{ say: sight ? words.checkSight() : words.checkLaser() },
		];
	},
	declares: { ...values, ...markTable },
	values({ aim, marks, miss, asAimed }, { magnetic }) {
		const mine = { of: "square-laser" };
		const own = { of: marks[0]?.name };
		return [
			values["aim-altitude"](aim.altitude, mine),
			values["aim-bearing"](aim.azimuth, mine),
			values["aim-compass-bearing"](magnetic && turn(aim.azimuth - magnetic.declination), mine),
			...valuesOfMarks(marks),
			...(miss
				? [
						values["star-miss"](miss.total, own),
						values["star-miss-right"](miss.right, own),
						values["star-miss-up"](miss.up, own),
						...valuesOfBeam(miss, marks[0]?.name),
					]
				: []),
			...(asAimed
				? [
						values["axis-error-as-aimed-along"](asAimed.along, own),
						values["axis-error-as-aimed-across"](asAimed.across, own),
					]
				: []),
		];
	},
	byMinute({ marks: [mark], aim }, { spot }) {
		const body = mark?.body;
		if (!mark || !body) return undefined;
		return (at) => valuesOfBeam(missFacing(aim, apparentDirection(body, spot, at)), mark.name);
	},
	hints: {
		"guide-star": [
			{ value: markTable["star-altitude"] },
			{ value: markTable["star-bearing"] },
			{ value: values["star-miss"], short: words.missesBy() },
		],
	},
	search,
	propose(tonight) {
		const [best] = search.find({}, tonight, { most: 1, twilight: false });
		if (!best) return [];
		return [
			{
				content: { "guide-star": best.name, at: wallClock(tonight.zone, best.at).secondsOfDay },
				keys: { "guide-star": best.name, at: clockOf(tonight.zone, best.at), "local-rules-checked": false },
				by: words.on({ star: best.name, at: nightClock(tonight, best.at) }),
			},
		];
	},
});

const valuesOfBeam = ({ right, up }: Miss, of: string | undefined) => [
	values["beam-right"](0 - right, { of }),
	values["beam-up"](0 - up, { of }),
];

/** Where the beam belongs, as seen from the star: `0.3° to the left and 0.8° below Spica`, or `on Spica`. */
export function beamPlace({ right, up }: ToldPlace, star: string): Phrase {
	const side = right < 0 ? words.left() : words.right();
	const way = up < 0 ? words.below() : words.above();
	const [sideways, upright] = [degrees(Math.abs(right), 2), degrees(Math.abs(up), 2)];
	if (right !== 0 && up !== 0) return words.bothWays({ sideways, side, upright, way, star });
	if (right !== 0) return words.sideways({ angle: sideways, side, star });
	return up !== 0 ? words.upright({ angle: upright, way, star }) : words.onStar({ star });
}
