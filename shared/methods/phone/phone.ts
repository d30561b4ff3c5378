/**
 * `phone`: a phone's inclinometer and compass laid along the axis.
 *
 * Its compass counts cos φ across the meridian; the way it is laid (aim) counts one to one both ways; its inclinometer
 * one along.
 */
import type { MethodContent } from "../../cells/kinds.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { turn } from "../../sky/vector.ts";
import {
	axisNumbers,
	cosLatitude,
	type Method,
	type MethodPlan,
	magneticSource,
	source,
	type Tonight,
} from "../method.ts";

/** Common practice, no source: a phone's inclinometer is good to half a degree, its compass to five. */
const PHONE_TILT = 0.5;
const PHONE_COMPASS = 5;
const PHONE_LAID = 1;

export const phone: Method = {
	kind: "phone",
	needs: "a phone with compass and inclinometer, nothing magnetic near",
	usesLaser: false,
	needsScales: false,
	about:
		"A phone laid along the axis shows tilt and bearing. The tilt is good; the compass is the worst of all ways to a bearing, and a tracker's magnets and batteries make it worse. Know whether it shows true or magnetic north.",
	plan,
};

function plan(method: MethodContent, tonight: Tonight): MethodPlan {
	const { tracker, onSite, magnetic } = tonight;
	const reads = method.reads ?? "magnetic";
	const numbers = axisNumbers(tonight);
	const shown = reads === "true" ? numbers.bearing : magnetic && turn(numbers.bearing - magnetic.declination);
	const perDegree = cosLatitude(tonight);
	return {
		setUp: numbers,
		at: method.at === undefined ? undefined : tonight.instant(method.at),
		windows: [onSite],
		obstacles: [],
		sources: [
			source("tilt-scale", method, {}, [{ along: 1, across: 0 }], PHONE_TILT),
			source("compass", method, tracker, [{ along: 0, across: perDegree }], PHONE_COMPASS),
			source(
				"aim",
				method,
				tracker,
				[
					{ along: 1, across: 0 },
					{ along: 0, across: 1 },
				],
				PHONE_LAID,
			),
			magneticSource(method, tonight, perDegree),
		],
		steps: [
			{ say: "Take the phone out of its case, and away from tripod, tracker, batteries and car." },
			{ say: "Settle its compass: a few slow figures of eight, then wait until the reading stands still." },
			{ say: `Look in its settings which north it shows. The plan says ${reads}.` },
			{ say: "Lay it along the axis. Set the tilt by its inclinometer.", number: degrees(numbers.tilt) },
			{
				say: `Turn the pan until it shows this ${reads} bearing. Turn it end for end and take the middle of both readings.`,
				...(shown === undefined ? {} : { number: `${bearingText(shown)} ${reads}` }),
			},
			{ say: "Take the phone off, lock, and lay it on once more." },
		],
	};
}
