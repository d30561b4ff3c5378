/**
 * `compass`: tilt by scale, bearing by magnetic compass.
 *
 * One degree of bearing moves the axis by cos φ across the meridian; a head tilted sideways by one degree by sin φ;
 * one degree of tilt by 1 along it.
 */
import { levelOfReading } from "../../alignment/level.ts";
import { bearingToSet } from "../../notation/bearing.ts";
import { optional, quantity } from "../../notation/shape.ts";
import { turn } from "../../sky/vector.ts";
import { method, type Obstacle } from "../method.ts";
import { tiltStep } from "../set-scale.ts";
import { magneticSource, source } from "../source.ts";
import { axisNumbers, cosLatitude } from "../tonight.ts";
import { words } from "./words.ts";

const keys = {
	declination: optional(quantity("angle", { min: -180, max: 180 }), {
		doc: "magnetic declination, east positive, checked against the model.",
		example: "-24.1°",
		otherwise: "from the World Magnetic Model",
	}),
};

export const compass = method({
	kind: "compass",
	words,
	keys,
	markKeys: [],
	takes: () => 5,
	byScale: ["tilt"],
	lastResort: true,
	hazards: () => ["magnet"],
	setUp(content, tonight) {
		const { magnetic, onSite, spot, tools } = tonight;
		const obstacles: readonly Obstacle[] = tools.scales ? [] : [{ type: "needs-scales" }];
		const numbers = axisNumbers(tonight);
		const declination = content.declination ?? magnetic?.declination;
		const perDegree = cosLatitude(tonight);
		return {
			...numbers,
			compassBearing: declination === undefined ? undefined : turn(numbers.bearing - declination),
			at: content.at === undefined ? undefined : tonight.instant(content.at),
			windows: obstacles.length === 0 ? [onSite] : [],
			marks: [],
			obstacles,
			pictures: {},
			sources: [
				source("tilt-scale", content, tonight, [{ along: 1, across: 0 }]),
				source("level", content, tonight, [levelOfReading(spot.latitude)]),
				source("compass", content, tonight, [{ along: 0, across: perDegree }]),
				magneticSource(content, tonight, perDegree),
			],
		};
	},
	steps: ({ compassBearing, ...numbers }, tonight) => [
		{ say: words.level() },
		tiltStep(numbers, tonight),
		{ say: words.read() },
		{
			say: words.turn(),
			...(compassBearing === undefined
				? {}
				: readingNumber(bearingToSet(numbers.bearing, numbers.bearing - compassBearing))),
		},
		{ say: words.lock() },
	],
	declares: {},
	values: () => [],
	drafts: [""],
});

/** What the compass must show. */
const readingNumber = (number: string) => ({ number, brief: words.turnBrief({ bearing: number }) });
