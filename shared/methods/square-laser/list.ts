/** How `stars` lists guide stars: loaded by that command alone. */
import { degrees } from "../../notation/angle.ts";
import { bearingWithPoint } from "../../notation/bearing.ts";
import { type Dated, nightClock, nightSpan } from "../../notation/night-clock.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { Listing } from "../method.ts";
import { aimOf, type GuideStar } from "./search.ts";
import { aimObstacles, type Content } from "./set-up.ts";

const words = sentences("method.square-laser.list", {
	aimLine: "Aim point: altitude {altitude}, bearing {bearing}",
	noLatitude: "The right-angle laser does not work at this latitude.",
	noStar:
		"No star passes the aim point in view and in the dark while you are on site; a wider --reach may find one.{twilight}",
	tryTwilight: " With --twilight bright stars in twilight are listed too.",
	headStar: "star",
	headMagnitude: "mag",
	headBest: "best",
	headReach: "within reach",
	headAltitude: "altitude",
	headBearing: "bearing",
	headMiss: "miss",
	mindLine: "  mind {star}, {angle} away",
});

export const guideStarList: Listing<Content, GuideStar> = {
	name: "stars",
	always: true,
	about: (content, tonight) => {
		const { altitude, azimuth } = aimOf(content, tonight);
		return { aim: { altitude, bearing: azimuth } };
	},
	record: ({ star, at, from, until, direction, miss, clearance, neighbour }, iso) => ({
		name: star.name,
		hip: star.hip,
		magnitude: star.magnitude,
		best: iso(at),
		from: iso(from),
		until: iso(until),
		altitude: direction.altitude,
		bearing: direction.azimuth,
		miss,
		aboveSkyline: clearance,
		neighbour: neighbour
			? { name: neighbour.star.name, magnitude: neighbour.star.magnitude, separation: neighbour.separation }
			: null,
	}),
	text(found, content, tonight, { twilight }) {
		const { altitude, azimuth } = aimOf(content, tonight);
		const aim = words.aimLine({ altitude: degrees(altitude), bearing: bearingWithPoint(azimuth) });
		const none = words.noStar({ twilight: twilight ? "" : words.tryTwilight() });
		// However near a star passes there.
		if (aimObstacles({ altitude, azimuth }, tonight).some(({ type }) => type === "low-latitude"))
			return [{ text: `${told(aim)}\n\n${told(words.noLatitude())}\n` }];
		return [
			{ text: `${told(aim)}\n\n` },
			found.length === 0 ? { text: `${told(none)}\n` } : { text: HEAD(), soft: true },
			...found.map((one) => ({ text: line(one, tonight) })),
		];
	},
};

const HEAD = (): string =>
	`${told(words.headStar()).padEnd(24)}${told(words.headMagnitude()).padStart(5)}${told(words.headBest()).padStart(12)}${told(
		words.headReach(),
	).padStart(18)}${told(words.headAltitude()).padStart(10)}${told(words.headBearing()).padStart(10)}${told(
		words.headMiss(),
	).padStart(8)}\n`;

function line({ star, at, from, until, direction, miss, neighbour }: GuideStar, night: Dated): string {
	const columns = [
		star.name.padEnd(24),
		star.magnitude.toFixed(1).padStart(5),
		nightClock(night, at).padStart(12),
		nightSpan(night, { from, until }).padStart(18),
		degrees(direction.altitude).padStart(10),
		`${direction.azimuth.toFixed(1)}°`.padStart(10),
		degrees(miss, 2).padStart(8),
	];
	const mind = neighbour
		? told(words.mindLine({ star: neighbour.star.name, angle: degrees(neighbour.separation) }))
		: "";
	return `${columns.join("")}${mind}\n`;
}
