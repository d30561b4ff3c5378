import { degrees } from "../../notation/angle.ts";
import { at, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";

export default rule({
	code: "method/low-latitude",
	severity: "error",
	title: "The square laser fails near the equator",
	about:
		"Near the equator the aim point nears the zenith. One degree by which the laser is rolled about the axis then turns the axis by 1 / tan of the latitude: 5.7° at 10°, 19° at 3°. Use a bearing from the sky or a landmark, or a sweep between two stars.",
	wrong: { site: "name: Terrace\nlatitude: 0.6 S\nlongitude: 37.2 E" },
	right: {},
	*find(evaluation) {
		for (const { cell, obstacle } of obstaclesOf(evaluation, "low-latitude")) {
			yield {
				...at(cell, "kind"),
				message: `At latitude ${degrees(Math.abs(obstacle.latitude))} one degree by which the laser is rolled, or aimed sideways, turns the axis by ${Number.isFinite(obstacle.cost) && obstacle.cost < 100 ? degrees(obstacle.cost) : "nearly any angle"}. Use \`sky-bearing\`, \`landmark-bearing\` or \`star-sweep\`.`,
			};
		}
	},
});
