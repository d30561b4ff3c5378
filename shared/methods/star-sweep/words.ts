/** The sentences of `star-sweep`. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("method.star-sweep", {
	name: "star sweep",
	doc: `A pointer fixed square to the axis on the turning plate must pass two stars at given distances as the plate
		turns.`,
	needsLaser: "a laser square to the axis on the turning plate, two stars near the celestial equator, far apart",
	needsSight:
		"a tube or red-dot sight square to the axis on the turning plate, two stars near the celestial equator, far apart",
	needs: "a laser or sight square to the axis on the turning plate, two stars near the celestial equator, far apart",
	about: `A pointer fixed square to the axis on the turning plate sweeps along the celestial equator when the axis is
		right. Two stars near it and far apart in hour angle, each passed at its own distance on one turn of the plate, fix
		tilt and bearing together; no level and no clock are needed.`,
	fix: "Fix the {what}, the pointer, on the turning plate {angle} to the axis.",
	square: "square",
	atAngle: "at {angle}",
	rough: "Set tilt and bearing of the axis roughly.",
	roughly: "{tilt}, {bearing}",
	roughBrief: "tilt {tilt}, axis to {bearing}",
	passBrief: "pass {star} {place}",
	passBriefAt: "pass {star} {place} at {at}",
	look: `Look and listen for aircraft, people, vehicles and animals. Switch the laser on only close to a star and with none of
		them near the beam; off before you turn the plate further, and before you move the head.`,
	lookThrough:
		"Look through the sight from behind as the plate turns, one eye on the sky and one in the sight. It needs no light.",
	laser: "laser",
	sight: "sight",
	ball: `A ball has no scales and moves every way at once: loosen it a little, move it one way at a time, by eye, and lock it
		before each look.`,
	first: `At {at} turn the plate until the pointer passes {star} ({seen}, at that minute). It must pass {place}. Note by how much it passes too near the
		pole, or too far from it.{mind}`,
	second: `Without moving the head, turn the plate to {star} ({seen}), {spread} further round. The pointer must pass {place}. Note by how much.{mind}`,
	seen: "bearing {bearing}, altitude {altitude}",
	over: "straight over it",
	beside: "{distance} from it, on {side}: {way} of {star}, as you face it",
	poleSide: "the pole's side",
	farSide: "the side away from the pole",
	above: "above",
	aboveRight: "above and to the right",
	right: "to the right",
	belowRight: "below and to the right",
	below: "below",
	belowLeft: "below and to the left",
	left: "to the left",
	aboveLeft: "above and to the left",
	correct: `{off}Correct both. For each degree that it passed {first} too near the pole, {firstTurn}. For each degree
		that it passed {second} too near the pole, {secondTurn}. If it passed too far from the pole, turn in the
		opposite direction.`,
	turn: "{height} the axis by {tilt} and pan it by {pan} {side} as you face the pole",
	shortTurn: "{height} {tilt}, pan {pan} {side}",
	passBy: "by {distance} on {side} ({way})",
	shortPass: "{distance}, {side}: {way}",
	raise: "raise",
	lower: "lower",
	again: "Repeat until the pointer passes both stars at these distances in one turn of the plate.",
	lock: "Lock, sweep once more, and see that nothing has moved.",
	switchOff: "Switch the laser off. ",
	off: "Switch the laser off and put it away.",
	circle: "the circle that the pointer sweeps",
	pair: "{first} and {second}",
	detail: "{at}, a turn of {spread} apart, axis within {error}",
	choice: "a turn of {spread} apart, axis within {error}",
});
