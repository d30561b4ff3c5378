import { at, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";

export default rule({
	code: "method/needs-scales",
	severity: "error",
	title: "A ball head has no scales",
	about:
		"The method sets tilt or bearing by a scale. A ball head has none, and it moves every way at once when loosened. The laser, the sweep, the phone and the pole sighting do without.",
	wrong: { tracker: "head: ball", method: "kind: compass" },
	right: {},
	*find(evaluation) {
		for (const { cell, method } of obstaclesOf(evaluation, "needs-scales")) {
			yield {
				...at(cell, "kind"),
				message: `\`${method.method.kind}\` sets the tilt by a scale, and a ball head has none. Use \`square-laser\`, \`star-sweep\`, \`phone\` or \`pole-sighting\`, or a head with scales.`,
			};
		}
	},
});
