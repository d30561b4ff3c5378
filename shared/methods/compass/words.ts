/** The sentences of `compass`. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("method.compass", {
	name: "compass",
	doc: "Tilt by scale, bearing by magnetic compass.",
	needs: "a compass, a tilt scale",
	about: `Tilt by the head's scale, bearing by a magnetic compass, corrected for magnetic declination. Works in any
		weather and any light, but iron, batteries, a car or magnetic rock can deflect the needle by degrees without
		any sign of it.`,
	level: "Level the head, sideways above all.",
	read: `Step away from tripod, car and batteries, and read the compass along the axis. Read it once from each end:
		the two readings must differ by 180°. If they do not, something magnetic is near: move, or use another method.`,
	turn: "Turn the pan until the pole end of the axis points to this compass reading.",
	turnBrief: "axis to {bearing}",
	lock: "Lock, and read once more.",
});
