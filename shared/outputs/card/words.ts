/** What the card says beside what the page says. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("output.card", {
	exported: "Card for the field",
	help: "write a card for the field: one column for phone, A5 and A6, live by the device's clock on the evening",
	now: "Now, until {time}: {say}",
	next: "Next, {time}: {say}",
	wait: "in {minutes} min",
	zone: "All times are the site's ({zone}), whatever this device's zone.",
	back: "Finished by {time}. Tell somebody when you will be back.",
	camera: "Before the first frame",
	// Common practice, no source.
	raw: "Raw files, and room on the card for all of them.",
	focus: "Focus checked on a star, the ring taped.",
	stabilisation: "Stabilisation off, on lens and camera.",
	reduction: "In-camera noise reduction off: it takes a dark frame after each exposure and leaves gaps.",
	interval: "{target}: interval {interval} s from one start to the next (exposure and gap together).",
	test: "A good test frame",
	testText: `Stars in the corners are as round as in the middle when you magnify them; the foreground is level; the
		histogram is clear of the left edge.`,
});
