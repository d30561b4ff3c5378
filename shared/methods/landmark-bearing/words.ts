/** The sentences of `landmark-bearing`. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("method.landmark-bearing", {
	doc: "Tilt by scale, bearing by turning the pan from a landmark.",
	needs: "a landmark of known place in view, scales for tilt and pan",
	about: `Sight a landmark whose true bearing from the stand is reckoned from coordinates, then turn the pan by the
		difference to the pole. Works by daylight, before the stars; a near landmark needs its place, and the stand's, to
		the metre.`,
	level: "Level the head.",
	tilt: "Set the tilt by the scale.",
	sight: "While there is light, turn the pan until {mark} stands exactly over the axis's line.",
	turn: "Read the pan scale, then turn the pan by this much.",
	lock: "Lock. The axis now lies on the pole's bearing.",
	noLight: `The landmark shows no light, so it is sighted by daylight or in civil twilight, and the time on site has
		none. Arrive earlier, or write \`lit: true\` in the landmark if it can be seen in the dark.`,
	from: " from {mark}",
	snippet: "Bearing from a landmark",
	snippetAbout: "Tilt by scale, bearing from a landmark",
});
