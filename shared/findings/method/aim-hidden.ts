import { degrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/aim-hidden", {
	title: "Aim point hidden",
	about: `The aim point is where the laser's beam must be when the axis is right. It lies on the meridian, the line
		through north, south and the point overhead; for a right-angle laser its altitude is 90° minus the latitude.
		Here the horizon, the skyline or a roof hides it, so no star can be seen there. Another angle of the laser
		(\`offset\`) moves it up or down; another method may need no aim point.`,
	below: `The aim point is {altitude} below the horizon: with this \`offset\` the laser would point at the ground. {advice}`,
	outside: `The aim point, at altitude {altitude} on the meridian, is outside every opening, so no star can be seen there.
		{advice}`,
	obstruction: `The aim point, at altitude {altitude} on the meridian, is behind \`{name}\`, so no star can be seen there.
		{advice}`,
	behind: `The aim point, at altitude {altitude} on the meridian, is behind the skyline ({skyline} there), so no star can
		be seen there. {advice}`,
});

export default rule({
	code: "method/aim-hidden",
	severity: "error",
	words,
	wrong: { site: "name: Gorge\nlatitude: 62 S\nlongitude: 54.3622 W\nskyline: [[0, 45], [180, 45]]" },
	instead: {
		site: "name: Gorge\nlatitude: 62 S\nlongitude: 54.3622 W\nskyline: [[0, 45], [180, 45]]",
		method: "kind: phone",
	},
	right: { site: "name: Gorge\nlatitude: 62 S\nlongitude: 54.3622 W\nskyline: [[0, 27], [180, 45]]" },
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
