import { degrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";
import { otherWays } from "./other-ways.ts";

const words = sentences("method/pole-hidden", {
	title: "Pole hidden",
	about: `The celestial pole is due north or due south, at an altitude equal to the latitude. Here the skyline, an
		obstruction or the roof hides it, so you cannot sight it. Methods that do not need to see it are the right-angle
		laser, the star sweep, a bearing from the sky or a landmark, a compass, a phone and a drift test.`,
	hidden: "The pole, at altitude {pole} due {side}, {why}, so it cannot be sighted. {others}",
	north: "north",
	south: "south",
	outside: "is outside every opening of the site",
	belowHorizon: "is not above the horizon",
	obstruction: "is behind `{name}`",
	behind: "is behind the skyline, which reaches {skyline} there",
});

export default rule({
	code: "method/pole-hidden",
	severity: "error",
	words,
	wrong: {
		method: "kind: pole-sighting",
		site: "name: Cliff foot\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 4], [160, 49], [215, 52], [300, 6]]",
	},
	instead: {
		method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true',
		site: "name: Cliff foot\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 4], [160, 49], [215, 52], [300, 6]]",
	},
	right: {
		method: "kind: pole-sighting",
		site: "name: Cliff foot\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 4], [180, 32], [300, 6]]",
	},
	*find(evaluation) {
		for (const { cell, obstacle, method } of obstaclesOf(evaluation, "pole-hidden")) {
			const { tilt, bearing } = method.setUp;
			yield {
				...at(cell, "kind"),
				message: words.hidden({
					pole: degrees(tilt),
					side: bearing === 0 ? words.north() : words.south(),
					why:
						obstacle.by === "roof"
							? words.outside()
							: obstacle.by === "horizon"
								? words.belowHorizon()
								: typeof obstacle.by === "object"
									? words.obstruction({ name: obstacle.by.name })
									: words.behind({ skyline: degrees(obstacle.skyline) }),
					// What leans on a needle is a last resort.
					others: otherWays(evaluation, method.method, (one) => !one.hazards({}).includes("magnet")),
				}),
			};
		}
	},
});
