import { degrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";
import { otherWays } from "./other-ways.ts";

const words = sentences("method/low-latitude", {
	title: "Right-angle laser too close to the equator",
	about: `Near the equator the aim point of a right-angle laser is close to overhead. Any error by which the laser
		is rolled about the axis then turns the axis by that error divided by tan(latitude): 1° becomes 5.7° at
		latitude 10° and 19° at 3°. Take the bearing from the sky or a landmark, or sweep between two stars.`,
	fails: "At latitude {latitude} a laser rolled or aimed 1° to the side turns the axis by {cost}. {others}",
	anyAngle: "100° or more",
});

export default rule({
	code: "method/low-latitude",
	severity: "error",
	words,
	wrong: { site: "name: Terrace\nlatitude: 0.6 S\nlongitude: 37.2 E" },
	instead: {
		site: "name: Terrace\nlatitude: 0.6 S\nlongitude: 37.2 E",
		method: 'kind: sky-bearing\nbody: Spica\nat: "19:30"',
	},
	right: { site: "name: Terrace\nlatitude: 18.5 S\nlongitude: 37.2 E" },
	*find(evaluation) {
		for (const { cell, obstacle, method } of obstaclesOf(evaluation, "low-latitude")) {
			const { latitude, cost } = obstacle;
			yield {
				...at(cell, "kind"),
				message: words.fails({
					latitude: degrees(Math.abs(latitude)),
					cost: Number.isFinite(cost) && cost < 100 ? degrees(cost) : words.anyAngle(),
					others: otherWays(evaluation, method.method),
				}),
			};
		}
	},
});
