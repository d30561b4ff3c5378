/** The sentences of `phone`. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("method.phone", {
	name: "phone",
	doc: "A phone's inclinometer and compass laid along the axis.",
	needs: "a phone with compass and inclinometer, nothing magnetic near",
	about: `A phone laid along the axis shows tilt and bearing. The tilt is good; its compass is the least accurate of
		all, and a tracker's magnets and batteries make it worse. Find out whether it shows true or magnetic north.`,
	away: "Take the phone out of its case, and away from tripod, tracker, batteries and car.",
	settle:
		"Calibrate its compass: move the phone slowly through a few figures of eight, then wait until the reading is steady.",
	settings: "Check in its settings which north it shows; the plan says {north}.",
	tilt: "Lay it along the axis. Set the tilt by its inclinometer.",
	turn: `Turn the pan until it shows this {north} bearing, the phone's top toward the pole end of the axis. Turn the phone end for end: it must show {reversed}. If it does
		not, turn the pan until one reading is as much too large as the other is too small.`,
	turnBrief: "phone at {reading}",
	turnAnyhow: "Turn the pan until it shows the pole's {north} bearing, which is not known here.",
	again: "Take the phone off, lock, and lay it on once more.",
	readsTrue: "The phone shows true bearings.",
	readsMagnetic: "The phone shows magnetic bearings.",
});
