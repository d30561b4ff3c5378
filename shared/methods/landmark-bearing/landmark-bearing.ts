/**
 * `landmark-bearing`: tilt by scale, bearing by turning the pan from a landmark of known place.
 *
 * A landmark (or the stand) that is off by s metres across the line of sight turns the bearing by s / distance; on the
 * sky cos φ of that.
 */
import type { MethodContent } from "../../cells/kinds.ts";
import { degrees, turnText } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { both, type Interval } from "../../sky/intervals.ts";
import { sunAltitude } from "../../sky/night.ts";
import { whereAtLeastZero } from "../../sky/roots.ts";
import { DEG, halfTurn, RAD } from "../../sky/vector.ts";
import { nearestWord } from "../../text/nearest.ts";
import {
	axisNumbers,
	cosLatitude,
	levelEffect,
	type Method,
	type MethodPlan,
	type Obstacle,
	panTurn,
	type SetUp,
	source,
	type Tonight,
} from "../method.ts";

/** Sun's altitude down to which a landmark without a light of its own can be sighted. Common practice, no source. */
const LIGHT_ENOUGH = -6;

export const landmarkBearing: Method = {
	kind: "landmark-bearing",
	needs: "a landmark of known place in view, scales for tilt and pan",
	usesLaser: false,
	needsScales: true,
	about:
		"Sight a landmark whose true bearing from the stand is reckoned from coordinates, then turn the pan by the difference to the pole. Works by daylight, before the stars; a near landmark needs its place, and the stand's, to the metre.",
	plan,
};

function plan(method: MethodContent, tonight: Tonight): MethodPlan {
	const { landmarks, onSite, spot, tracker } = tonight;
	const obstacles: Obstacle[] = tracker.head === "ball" ? [{ type: "needs-scales" }] : [];
	let setUp: SetUp = axisNumbers(tonight);
	const name = method.landmark;
	const landmark = name === undefined ? undefined : landmarks.find((one) => one.name === name);
	if (name === undefined) obstacles.push({ type: "needs-key", key: "landmark" });
	else if (!landmark) obstacles.push({ type: "unknown-name", key: "landmark", name });
	else {
		setUp = {
			...setUp,
			marks: [{ name: landmark.name, direction: { azimuth: landmark.bearing, altitude: landmark.altitude } }],
			panOffset: halfTurn(setUp.bearing - landmark.bearing),
			panRate: 0,
		};
	}
	const daylight: readonly Interval[] = whereAtLeastZero((t) => sunAltitude(spot, t) - LIGHT_ENOUGH, onSite, 1_200_000);
	const windows = landmark && obstacles.length === 0 ? both(daylight, [onSite]) : [];
	if (landmark && windows.length === 0 && obstacles.length === 0) obstacles.push({ type: "no-window" });
	const perDegree = cosLatitude(tonight);
	const altitude = landmark?.altitude ?? 0;
	const turnFromPole = landmark ? halfTurn(landmark.bearing - setUp.bearing) : 0;
	// A landmark known only by a measured bearing has no distance: its error is that of the aim that measured it.
	const perMetre = landmark?.located ? (perDegree * DEG) / Math.max(1, landmark.distance) : 0;
	return {
		setUp,
		at: method.at === undefined ? undefined : tonight.instant(method.at),
		windows,
		obstacles,
		sources: [
			source("tilt-scale", method, tracker, [{ along: 1, across: 0 }]),
			source("level", method, tracker, [{ along: 0, across: levelEffect(spot.latitude, altitude, turnFromPole) }]),
			source("pan-scale", method, tracker, [{ along: 0, across: perDegree }]),
			source("aim", method, tracker, [{ along: 0, across: perDegree / Math.cos(altitude * RAD) }]),
			source("landmark", method, tracker, [{ along: 0, across: perMetre }]),
		],
		steps:
			setUp.panOffset === undefined || !landmark
				? []
				: [
						{ say: "Level the head." },
						{ say: "Set the tilt by the scale.", number: degrees(setUp.scaleTilt) },
						{
							say: `While there is light, turn the pan until ${landmark.name} stands exactly over the axis's line.`,
							number: bearingText(landmark.bearing),
						},
						{
							say: "Read the pan scale, then turn the pan by this much.",
							number: turnText(panTurn(setUp.panOffset, tonight)),
						},
						{ say: "Lock. The axis now lies on the pole's bearing.", number: bearingText(setUp.bearing) },
					],
	};
}

/** The known landmark nearest to a mistyped name. */
export const nearestLandmark = (name: string, { landmarks }: Pick<Tonight, "landmarks">): string | undefined =>
	nearestWord(
		name,
		landmarks.map((landmark) => landmark.name),
	);
