/** The sentences of `landmark-bearing`. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("method.landmark-bearing", {
	name: "bearing from a landmark",
	doc: "Tilt by scale, bearing by turning the pan from a landmark.",
	needs: "a landmark of known place in view, scales for tilt and pan",
	about: `Sight a landmark whose true bearing from the site is computed from coordinates, then turn the pan by the
		difference to the pole. Works by daylight, before the stars are out; for a near landmark, its position and the
		site's must be known to the metre.`,
	level: "Level the head, sideways above all.",
	sight: `While the landmark can be seen, step behind the head and hold up a plumb line (a weight on a thread) before one eye. Turn
		the pan until both ends of the axis, the pole end away from you, and {mark} ({altitude}, bearing {bearing}) are behind the thread.`,
	lock: "Lock. The axis is now on the pole's bearing.",
	noLight: `The landmark has no light: it must be sighted by daylight or in civil twilight, and there is none
		while you are on site. Arrive earlier, or write \`lit: true\` if it can be seen in the dark.`,
	from: " from {mark}",
});
