import { degrees } from "../../notation/angle.ts";
import { at, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";

export default rule({
	code: "method/pole-hidden",
	severity: "error",
	title: "The pole is hidden",
	about:
		"The celestial pole stands as high as the latitude, due north or due south. Here the skyline or the roof hides it, so it cannot be sighted. Methods that do without: a square laser, a sweep between two stars, a bearing from the sky or a landmark, a compass, a phone, a drift test.",
	wrong: {
		method: "kind: pole-sighting",
		site: "name: Cliff foot\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nskyline: [[0, 4], [160, 49], [215, 52], [300, 6]]",
	},
	right: { method: "kind: pole-sighting", site: "name: Open field\nlatitude: 32.4123 S\nlongitude: 20.8431 E" },
	*find(evaluation) {
		for (const { cell, obstacle, method } of obstaclesOf(evaluation, "pole-hidden")) {
			const pole = degrees(method.plan.setUp.tilt);
			const why =
				obstacle.by === "roof"
					? `lies outside every opening of the stand`
					: obstacle.by === "horizon"
						? "is not above the horizon"
						: `stands behind the skyline, which is ${degrees(obstacle.skyline)} high there`;
			yield {
				...at(cell, "kind"),
				message: `The pole, ${pole} high due ${method.plan.setUp.bearing === 0 ? "north" : "south"}, ${why}: it cannot be sighted. Use \`square-laser\`, \`star-sweep\`, \`sky-bearing\` or \`landmark-bearing\`.`,
			};
		}
	},
});
