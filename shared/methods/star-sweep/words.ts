/** The sentences of `star-sweep`. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("method.star-sweep", {
	doc: "A pointer fixed square to the axis on the turning plate must meet two stars as the plate turns.",
	needs: "a pointer square to the axis on the turning plate, two stars near the celestial equator, far apart",
	about: `A pointer fixed square to the axis on the turning plate sweeps along the celestial equator when the axis is
		right. Two equatorial stars far apart in hour angle, met one after the other, fix tilt and bearing together; no level
		and no clock are needed.`,
	fix: "Fix the pointer on the turning plate {angle} to the axis.",
	square: "square",
	atAngle: "at {angle}",
	rough: "Set tilt and bearing roughly.",
	roughly: "{tilt}, {bearing}",
	first: "Turn the plate to {star}. {effect}",
	second: "Turn the plate to {star}, {spread} of turn away. {effect}",
	place: "{bearing}, {altitude} high",
	effect: `One degree by which the pointer passes inside (on the pole's side of) it means {tilt} of tilt {height} and
		{across} across, {side} of the pole.`,
	tooLow: "too low",
	tooHigh: "too high",
	clockwise: "clockwise",
	anticlockwise: "counter-clockwise",
	move: "Move tilt and pan until the pointer meets both stars on one turn of the plate.",
	look: "Before any light is switched on, look and listen for aircraft, people, vehicles and animals.",
	circle: "the circle that the pointer sweeps",
	pair: "{first} and {second}",
	detail: "{at}, {spread} of turn apart, leaves {error}",
	choice: "{spread} of turn apart, leaves {error}",
	listHead: "Pairs for a sweep:",
	listLine: "{at}  {spread} of turn apart, leaves {error} (95 %)",
	snippet: "Sweep between two stars",
	snippetAbout: "A pointer that must meet two stars",
});
