/** The sentences of `pole-sighting`. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("method.pole-sighting", {
	name: "pole sighting",
	doc: "The pole star is put where it belongs beside the pole, seen through the polar scope or sight hole.",
	needs: "a clear view of the pole, a polar scope or sight hole",
	about: `The usual way where the pole can be seen: the pole star is put where it belongs beside the pole at that
		minute. It is the most accurate method, but the best foregrounds often hide the pole. It ends on the pole as it
		is seen: refraction lifts it above the true one, by 1′ at 45° of latitude and 5′ at 10°.`,
	needsFaint: `a clear view of the pole, a polar scope that magnifies (not a bare hole: {star} is of magnitude {magnitude}),
		dark-adapted eyes, the pattern of stars around it`,
	faint: `Give your eyes {minutes} minutes in the dark, and use a scope that magnifies: {mark} is only of magnitude
		{magnitude}, and {seen} as seen through the air. Recognise it by the stars around it, seen upright: {pattern}.`,
	neighbour: "{star} (magnitude {magnitude}) {angle} from it toward {place} of the dial",
	another: ", {star} ({magnitude}) {angle} toward {place}",
	rough: "Set the tilt roughly by the scale and turn the axis to the pole's bearing.",
	roughBall: "Loosen the ball and point the axis roughly at the pole: at this altitude, at the pole's bearing.",
	lockHead: "Lock, and look once more: locking moves the axis.",
	lockBall: "Hold it while you lock the ball, and look once more: it sags and turns as it locks.",
	find: "Find {mark} in the scope. It is this far from the pole.",
	put: `At {at} put it here on a 12-hour dial centred on the pole, {angle} clockwise from the top, seen upright
		(through an inverting scope: {inverted}, {invertedAngle}).`,
	putBrief: "{mark} at {place}, seen upright (not inverted), at {at}",
	lock: `{how} The axis is now on the pole as it is seen, {lift} above the true
		one.`,
	dial: "{hours} h {minutes}",
	onDial: "{place} on the dial ({angle} clockwise from the top)",
	inView: " (the pole is in view)",
});
