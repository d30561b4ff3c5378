/** The sentences of `sky-bearing`. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("method.sky-bearing", {
	name: "bearing from the sky",
	doc: "Tilt by scale, bearing by turning the pan from a star, a planet, the Moon or the Sun's shadow.",
	needs: "a star, planet or the Moon in view (or the Sun's shadow), scales for tilt and pan",
	about: `Sight a body whose bearing is computed for that minute, then turn the pan by the difference to the pole.
		Needs neither a compass nor a view of the pole. The lower the body, the better: high up, a small sighting error
		makes a large error of bearing. The Sun is used only by its shadow, never sighted.`,
	level: "Level the head, sideways above all.",
	shadow: `Never look at the Sun, and never sight it through anything: use its shadow only. Hang a plumb line between
		the Sun and the head. At {at} turn the pan until the thread's shadow falls along the axis from end to end, the pole end
		toward the Sun (bearing
		{bearing}).`,
	sight: `Step behind the head and hold up a plumb line (a weight on a thread) before one eye. At {at} turn the pan until
		both ends of the axis, the pole end away from you, and {mark} (altitude {altitude}, bearing {bearing}) are behind the thread.{mind}`,
	shadowBrief: "the Sun's shadow along the axis at {at}",
	sightBrief: "sight {mark} (altitude {altitude}, bearing {bearing}) at {at}",
	lock: "Lock. The axis is now on the pole's bearing.",
	from: " from {mark} at {at}",
	detail: "{at}, altitude {altitude}, bearing {bearing}, axis within {error}",
	choice: "altitude {altitude}, bearing {bearing}, axis within {error}",
});
