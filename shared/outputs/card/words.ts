/** What the card says beside what the page says. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("output.card", {
	exported: "Card for the field",
	help: `write a card for the field: one column for phone, A5 and A6, which follows the device's clock during the
		evening`,

	// What is on.
	site: "{time} at the site",
	now: "Now, until {time}: {say}",
	next: "Next, {time}: {say}",
	wait: "in {minutes} min",
	waitLong: "in {hours} h {minutes} min",
	zone: "All times are the site's ({zone}), whatever this device's zone.",
	back: "Finished by {time}. Tell somebody when you will be back.",
	safety: "Safety first: {names}",
	reading: "Read this first",

	// What hands set.
	tilt: "Tilt",
	compass: "Axis, by compass",
	bearing: "Axis, true",
	clock: "At",
	star: "Find {name}: at {clock} {pointing}.{way}",
	beginBy: "Begin no later than {time}.",
	notDone: "Not done by {time}: fallback {place} ({method}).",
	framesFrom: "Frames then from {frames}.",
	notDoneEnds: "Not done by {end}: fallback {place} ({method}), begun by {time}.",
	minutes: "Numbers for",
	late: "Late by {minutes} min: use the numbers for {time}, shown here.",

	// Practice.
	practice: "Practise at home",
	practiceText: "Choose a minute of the evening: the card runs from there as if it were now.",
	practiceTime: "Minute to practise",
	earlier: "1 min earlier",
	later: "1 min later",
	practising: "Practice: this is not the time now.",
	stop: "Stop practising",

	camera: "Before the first frame",
	// Common practice, no source.
	raw: "Raw files, and room on the card for all of them.",
	focus: "Focus checked on a star, the ring taped.",
	stabilisation: "Stabilisation off, on lens and camera.",
	reduction: "In-camera noise reduction off: it takes a dark frame after each exposure and leaves gaps.",
	interval: "{target}: interval {interval} s from one start to the next (exposure and gap together).",
	shotAt: "{begins} {target}:",
	shotFrom: "{begins}–{ends} {target}:",
	every: "interval {interval} s",
	test: "A good test frame",
	// Common practice, no source.
	testText: `Magnify corners and middle. The foreground is level, the histogram clear of the left edge.`,
	good: "Good: round points, in the corners too",
	streaks: "Streaks all alike: drive, wind or a knock; with a long lens the axis",
	rings: "Large or hollow stars: the focus",
	leaning: "Streaks that differ across the frame: the axis",
	rest: "Print the rest too, on more pages",
});
