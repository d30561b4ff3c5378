/**
 * `compass`: tilt by scale, bearing by magnetic compass.
 *
 * One degree of bearing moves the axis by cos φ across the meridian; a head tilted sideways by one degree by sin φ;
 * one degree of tilt by 1 along it.
 */
import type { MethodContent } from "../../cells/kinds.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { turn } from "../../sky/vector.ts";
import {
	axisNumbers,
	cosLatitude,
	levelEffect,
	type Method,
	type MethodPlan,
	magneticSource,
	type Obstacle,
	source,
	type Tonight,
} from "../method.ts";

export const compass: Method = {
	kind: "compass",
	needs: "a compass, a tilt scale",
	usesLaser: false,
	needsScales: true,
	about:
		"Tilt by the head's scale, bearing by a magnetic compass, corrected for magnetic declination. Works in any weather and any light, but iron, batteries, a car or magnetic rock bend the needle by degrees without a sign.",
	plan,
};

function plan(method: MethodContent, tonight: Tonight): MethodPlan {
	const { magnetic, tracker, onSite } = tonight;
	const obstacles: Obstacle[] = tracker.head === "ball" ? [{ type: "needs-scales" }] : [];
	const numbers = axisNumbers(tonight);
	const declination = method.declination ?? magnetic?.declination;
	const setUp = {
		...numbers,
		compassBearing: declination === undefined ? undefined : turn(numbers.bearing - declination),
	};
	const perDegree = cosLatitude(tonight);
	return {
		setUp,
		at: method.at === undefined ? undefined : tonight.instant(method.at),
		windows: obstacles.length === 0 ? [onSite] : [],
		obstacles,
		sources: [
			source("tilt-scale", method, tracker, [{ along: 1, across: 0 }]),
			source("level", method, tracker, [{ along: 0, across: levelEffect(tonight.spot.latitude, 0, 0) }]),
			source("compass", method, tracker, [{ along: 0, across: perDegree }]),
			magneticSource(method, tonight, perDegree),
		],
		steps: [
			{ say: "Level the head." },
			{ say: "Set the tilt by the scale.", number: degrees(setUp.scaleTilt) },
			{
				say: "Step away from tripod, car and batteries, and read the compass along the axis. Walk the line once from each end: the readings must agree.",
			},
			{
				say: "Turn the pan until the axis lies on this compass reading.",
				...(setUp.compassBearing === undefined ? {} : { number: `${bearingText(setUp.compassBearing)} magnetic` }),
			},
			{ say: "Lock, and read once more." },
		],
	};
}
