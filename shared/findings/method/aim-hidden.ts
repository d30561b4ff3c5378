import { degrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/aim-hidden", {
	title: "The aim point is hidden",
	about: `The aim point of the laser lies on the meridian, 90° − latitude high for a square laser. Skyline, roof or
		horizon hide it here, so no star can be seen in it. Another angle of the laser (\`offset\`) moves it up or down.`,
	below: `The aim point lies {altitude} below the horizon: with this \`offset\` the laser would point into the ground.
		{advice}`,
	outside: `The aim point, {altitude} high on the meridian, is outside every opening: no star can be seen there.
		{advice}`,
	obstruction: `The aim point, {altitude} high on the meridian, is behind \`{name}\`: no star can be seen there.
		{advice}`,
	behind: `The aim point, {altitude} high on the meridian, is behind the skyline ({skyline}): no star can be seen there.
		{advice}`,
});

export default rule({
	code: "method/aim-hidden",
	severity: "error",
	words,
	wrong: { site: "name: Gorge\nlatitude: 62 S\nlongitude: 20.8431 E\nskyline: [[0, 45], [180, 45]]" },
	right: { site: "name: Gorge\nlatitude: 62 S\nlongitude: 20.8431 E\nskyline: [[0, 27], [180, 45]]" },
	*find(evaluation) {
		for (const { cell, obstacle } of obstaclesOf(evaluation, "aim-hidden", "aim-below-horizon")) {
			const { advice } = obstacle;
			const altitude = degrees(Math.abs(obstacle.altitude));
			yield {
				...at(cell, cell.read.places.has("offset") ? "offset" : "kind"),
				message:
					obstacle.type === "aim-below-horizon"
						? words.below({ altitude, advice })
						: obstacle.by === "roof"
							? words.outside({ altitude, advice })
							: typeof obstacle.by === "object"
								? words.obstruction({ altitude, name: obstacle.by.name, advice })
								: words.behind({ altitude, skyline: degrees(obstacle.skyline), advice }),
			};
		}
	},
});
