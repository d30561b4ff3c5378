/** What the page says: headings, labels, captions, and the words for who cannot see its pictures. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("output.page", {
	help: "write a page: one file that opens from disk and asks for nothing",

	// Head and verdict.
	untitled: "A plan without a title",
	dim: "Dim red",

	// Sections.
	night: "The night",
	cautions: "Take care",
	panorama: "As one stands there",
	clock: "Clock",
	axis: "The axis",
	align: "Align: {kind}",
	fallback: "Else: {kind}",
	findings: "Findings",
	nothing: "Nothing to mend.",
	finding: "{word}:",
	line: "line {line}",
	goTo: "Go to line {line}",
	notes: "Notes",
	values: "All figures",
	table: "{kind}: {name}",
	budget: "error budget",

	// Methods compared.
	methods: "Ways compared",
	method: "way",
	error: "axis error, 95 %",
	works: "works",
	needs: "needs",
	fails: "not as planned",
	neverTonight: "never tonight",

	// The evening.
	never: "never",
	timeline: "Timeline: {words}.",
	row: "{label} {text}",
	moment: "{label} at {clock}",
	evening: "The evening in order",
	sun: "Sun",
	moon: "Moon",
	dark: "dark",
	moonUp: "Moon up",
	usable: "{target}: usable",
	frames: "{target}: frames",
	arrive: "arrive",
	sunset: "sunset",
	moonrise: "moonrise",
	moonset: "moonset",
	dawn: "dawn",
	leave: "leave",

	// The panorama.
	core: "core",
	north: "north",
	south: "south",
	hidden: "hidden",
	inView: "in view",
	seen: `Panorama facing {facing} at {clock}: the pole stands {altitude} high due {due}, {hidden}{aim};
		{targets}.`,
	seenAim: "; the aim point {altitude} high at {bearing}",
	seenTarget: "{name} {altitude} high at {bearing}",
	aim: "aim point {altitude}",
	pole: "pole {altitude}",
	poleHidden: "pole {altitude}, hidden",
	magnetic: "{bearing} M",

	// The axis from the side and from above.
	tilted: "The axis is tilted {tilt} toward true {side}{pointer}.",
	tiltedPointer: "; the {pointer}, {offset} from it, points {altitude} high over the other horizon",
	axisToPole: "axis to the pole",
	axisToHiddenPole: "axis to the pole (hidden)",
	tilt: "tilt {angle}",
	guideStar: "guide star",
	fromSide: "The axis from the side.",
	laser: "laser",
	sight: "sight",
	fromSideWithPointer: "The axis from the side, the {pointer} at {offset} to it.",
	fromAbove: "From above: {mark} at {bearing}, the pole's bearing {pole}; turn the pan {turn}.",
	markAt: "{mark}: {bearing}",
	poleAt: "pole: {bearing}",
	turn: "The turn of the pan from above.",

	// The axis error.
	errorEllipse: `Axis error: 95 % within {radius} of the pole; one standard deviation {major} by {minor}.`,
	tooHigh: "up: too high",
	clockwise: "right: clockwise of the pole",
	within: "95 % within {radius}",
	field: "the frame is {angle} wide",
	share: "{source} {angle}",
	errorCaption: `How far the axis may be off the pole: the 1-sigma ellipse, the 95 % circle, and what each source
		adds (bars: its part of the variance).`,

	// The trail.
	trail: `Over {exposure} the worst star of the frame trails by {median} px (median), {most} px at most on 95 frames
		of 100; the plan allows {limit} px: a frame is sharp with a chance of {chance} %.`,
	trailOf: "{target}, {exposure}",
	median: "median {trail} px",
	most: "95 of 100 within {trail} px",
	perfect: "perfect axis {trail} px",
	allowed: "allowed {trail} px",
	sharp: "sharp: {chance} %",
	trailCaption: `The worst star of the frame on the pixels at a typical axis error; the circle is the trail
		allowed.`,
});
