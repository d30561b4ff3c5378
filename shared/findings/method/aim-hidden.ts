import { degrees } from "../../notation/angle.ts";
import { at, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";

export default rule({
	code: "method/aim-hidden",
	severity: "error",
	title: "The aim point is hidden",
	about:
		"The aim point of the laser lies on the meridian, 90° − latitude high for a square laser. Skyline, roof or horizon hide it here, so no star can be seen in it. Another angle of the laser (`offset`) moves it up or down.",
	wrong: { site: "name: Gorge\nlatitude: 62 S\nlongitude: 20.8431 E\nskyline: [[0, 45], [180, 45]]" },
	right: {},
	*find(evaluation) {
		for (const { cell, obstacle } of obstaclesOf(evaluation, "aim-hidden", "aim-below-horizon")) {
			yield {
				...at(cell, "offset"),
				...(cell.read.places.has("offset") ? {} : at(cell, "kind")),
				message:
					obstacle.type === "aim-below-horizon"
						? `The aim point lies ${degrees(Math.abs(obstacle.altitude))} below the horizon: with this \`offset\` the laser would point into the ground. Use a smaller angle.`
						: obstacle.by === "roof"
							? `The aim point, ${degrees(obstacle.altitude)} high on the meridian, is outside every opening: no star can be seen there. Use \`star-sweep\` or another \`offset\`.`
							: `The aim point, ${degrees(obstacle.altitude)} high on the meridian, is behind the skyline (${degrees(obstacle.skyline)}): no star can be seen there. Use \`star-sweep\` or another \`offset\`.`,
			};
		}
	},
});
