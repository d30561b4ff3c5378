/** What the page says: headings, labels, captions, and the words for who cannot see its pictures. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("output.page", {
	exported: "Page",
	help: "write a page: one file that opens from disk and needs no network",

	// Head and verdict.
	untitled: "A plan without a title",
	ofMember: "{title}: {name}",
	dim: "Dim red",
	notReady: "Not ready: {counts}. Fix the errors first.",
	ready: "Ready: no problems found.",
	readyWith: "Ready, with {counts}.",
	unsure: "It works, but read this first: {counts}.",
	next: "Next: {time} {say}",
	methodLine: "{heading}, {time}. {within}.",
	methodAnyTime: "{heading}. {within}.",

	// A plan that cannot be drawn.
	missing: `There is nothing to draw yet. The page needs {needs}. Completion (Ctrl+Space) offers the keys that are missing; “New Plan” asks for their values and writes a plan that has no problems.`,
	bothMissing: "{site} and {night}",
	site: "a site with its latitude and longitude",
	siteUnread: "a latitude and a longitude of the site that can be read",
	night: "a night with its date",
	nightUnread: "a date of the night that can be read",

	// Sections.
	nightHeading: "The night",
	cautions: "Safety",
	panorama: "View from the spot",
	clock: "Clock",
	figures: "Constellation lines",
	panoramaCaption: `The horizon laid out, bearing across and altitude up, at the minute of the clock below. Dashed
		blue: the paths of the targets, with hours. Blue outline: the frame, dashed where it stays with the ground;
		thin: where it is at its first exposure and at its last. Dotted: meridian and celestial equator.`,
	firstFrame: "first {time}",
	lastFrame: "last {time}",
	axis: "The axis",
	findings: "Findings",
	finding: "{word}:",
	line: "line {line}",
	goTo: "Go to line {line}",
	notes: "Notes",
	values: "All values",
	table: "{kind}: {name}",
	budget: "error budget",

	// Fallbacks.
	fallbacks: "Fallbacks",
	stepsOf: "Steps of the {method}",

	// The evening.
	never: "never",
	timelineTitle: "The time on site",
	timeline: "Timeline: {words}.",
	timelineCaption: `Line: the Sun's altitude; dashed: the Moon's; shaded: dark. Bars: when each can be done; below
		them the steps of the evening in order. The vertical line is the minute chosen in the view from the spot.`,
	row: "{label} {text}",
	moment: "{label} at {clock}",
	evening: "The evening in order",
	yearTitle: "Nights of a year",
	year: "{count} of {all} nights from {from} until {until} are usable. The best of each new-moon week: {best}.",
	yearCaption: `Area of a square: usable minutes after the alignment, the largest {most}. Rounded frame: the best of
		its new-moon week. Thick frame: in the plan. Underlined: Friday and Saturday.`,
	sun: "Sun",
	sunAt: "Sun {altitude}°",
	moon: "Moon",
	dark: "dark",
	moonUp: "Moon up",
	usable: "{target}: usable",
	arrive: "arrive",
	sunset: "sunset",
	moonrise: "moonrise",
	moonset: "moonset",
	dawn: "dawn",
	leave: "leave",

	// The panorama.
	core: "core",
	radiant: "radiant: {shower}",
	meridian: "meridian",
	equator: "celestial equator",
	north: "north",
	south: "south",
	hidden: "hidden",
	inView: "in view",
	seen: `The view facing {facing} at {clock}. The pole: altitude {altitude}, due {due}, {hidden}.{aim}{targets}`,
	seenAim: " The aim point: altitude {altitude}, bearing {bearing}.",
	seenTarget: " {name}: altitude {altitude}, bearing {bearing}.",
	targetDown: " {name}: below the horizon.",
	aim: "aim point {altitude}",
	pole: "pole {altitude}",
	poleHidden: "pole {altitude}, hidden",
	magnetic: "{bearing} °M",

	// The all-sky chart.
	allSky: "All-sky chart",
	poleName: "pole",
	onLeft: "left",
	onRight: "right",
	wholeSky: `The whole sky at {clock}, the zenith in the middle: face {facing} and hold it overhead with {facing} at the bottom, so that
		east is on the {east}. Rings at altitudes of 30° and 60°.{targets}`,
	wholeSkyCaption: `The whole sky at the minute of the clock above, the zenith in the middle: face {facing} and hold it overhead with
		{facing} at the bottom, so that east is on the {east}. Rings at altitudes of 30° and 60°.`,

	// The axis from the side and from above.
	sideTitle: "The axis from the side",
	turnTitle: "The turn of the pan, from above",
	tilted: "The axis is tilted {tilt} toward true {side}{pointer}.",
	tiltedPointer: "; the {pointer}, {offset} from it, points at an altitude of {altitude} above the opposite horizon",
	axisToPole: "axis to the pole",
	axisToHiddenPole: "axis to the pole (hidden)",
	tilt: "tilt {angle}",
	guideStar: "guide star",
	fromSide: "The axis from the side.",
	laser: "laser",
	sight: "sight",
	fromSideWithPointer: "The axis from the side, with the {pointer} at {offset} to it.",
	fromAbove: `Seen from above: first the pole end of the axis points to {mark} at {bearing}, then, after the pan is turned {turn}, to the
		pole at {pole}.`,
	markAt: "1 pole end at {mark}: {bearing}",
	poleAt: "2 pole end at the pole: {bearing}",
	turn: `The turn of the pan, seen from above. Arrows: the pole end of the axis, first at {mark} (dashed), then at the pole.`,

	// The dial of a pole scope.
	dialTitle: "Dial of the pole scope",
	dial: `Dial of the pole scope at {clock}: {star} belongs at {upright}, {distance} from the pole; through an inverting
		scope at {inverted}.`,
	dialPlace: "{place} on the dial ({angle} clockwise from the top)",
	dialCaption: `Where {star} belongs at {clock}, as you face the pole: {distance} from it. This ring counts 12 hours; on one that
		counts 24, go by the angle clockwise from the top. Filled: seen upright. Hollow: through an inverting scope.`,
	dialUpright: "upright: {place} on the dial ({angle})",
	dialInverted: "inverted: {place} on the dial ({angle})",
	dialCount: "12 hours",

	// The finder chart.
	finderChart: "Finder chart of {name}",
	finder: "{name} at {clock}, upright as you face it; the circle is 20° wide.{way}{beam}",
	wayFrom: " From {name} go {way}.",
	wayThen: "{across} at the same altitude, then {along}",
	wayPart: "{angle} {side}",
	toRight: "to the right",
	toLeft: "to the left",
	straightUp: "straight up",
	straightDown: "straight down",
	wayNone: "no way at all",
	finderBeam: " The cross marks where to put the beam or sight.",
	fist: "a fist at arm's length, 10°",
	moonWide: "the Moon",

	// The frames.
	framesHeading: "The frames",
	frameTitle: "The frame of {name}",
	frame: "{name} at {clock}: {wide} by {high}, {pointing}.{worst}{tail}",
	frameTail: " Wedge: the tail, away from the Sun; its length is not computed.",
	panels: `{name} at {clock}: {columns} columns of {rows} where they are laid out, numbered as they are taken.{ground}{arch}{tail}`,
	panelsOne: "{name} at {clock}: a single frame of the sky.{ground}{arch}{tail}",
	panelsGround: " Dashed: panels of the foreground.",
	panelsArch: " Arc: the middle of the Milky Way.",
	frameWorst: " Stars trail most at the ring: {place}.",
	frameWorstLater: " Stars trail most at {time}, {place} of the frame then.",
	worst: "worst",

	// The axis error.
	errorEllipse: `Axis error: within {radius} of the pole 19 times in 20; one standard deviation {major} by {minor}.{expected}`,
	ellipseTitle: "Axis error",
	expected: " The axis is expected to end up {along} and {across}.",
	expectedShort: "expected {along}, {across}",
	tooHighBy: "{angle} too high",
	tooLowBy: "{angle} too low",
	rightBy: "{angle} right",
	leftBy: "{angle} left",
	tooHigh: "up: too high",
	clockwise: "right: right of the pole",
	within: "95 % within {radius}",
	field: "the long side of the frame is {angle}",
	share: "{source} {angle}",
	errorCaption: `How far the axis may be from the pole, as you face it: the ellipse of one standard deviation, the
		circle in which it lies 19 times in 20, and what each source adds (bars: its part of the variance). Wind, focus
		and sag are not included.`,

	// The trail.
	trailTitle: "Trail on the pixels",
	trail: `Over {exposure} the worst star of the frame trails by {median} px (median), and by less than {most} px on 19
		frames in 20. The plan allows {limit} px. Chance of a sharp frame: {chance}.`,
	trailOf: "{target}, {exposure}",
	median: "median {trail} px",
	most: "19 in 20 within {trail} px",
	perfect: "with a perfect axis {trail} px",
	allowed: "allowed {trail} px",
	sharp: "chance of a sharp frame: {chance}",
	trailCaption: `The worst star of the frame on the pixels, at an axis error of one standard deviation; the circle is
		the trail allowed.`,
});
