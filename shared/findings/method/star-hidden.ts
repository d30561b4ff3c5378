import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { otherMarksOrTimes } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/star-hidden", {
	title: "Star or planet hidden",
	about: `At the planned time the star, planet or other body that the method points at is above the horizon but behind
		the skyline or an obstruction, or outside every opening of an enclosed site. It cannot be seen from this spot.
		Choose another time or another star, or check the skyline if it is only an estimate.`,
	outside: "{name}, at altitude {altitude}, bearing {bearing}{moment}, is outside every opening.{others}",
	obstruction: "{name}, at altitude {altitude}, bearing {bearing}{moment}, is behind `{by}`.{others}",
	atMoment: " at {when}",
	behind: `{name}, at altitude {altitude}, bearing {bearing}{moment}, is behind the skyline, which reaches {skyline}
		there.{others}`,
});

export default rule({
	code: "method/star-hidden",
	severity: "error",
	words,
	wrong: { method: 'kind: sky-bearing\nbody: Achernar\nat: "20:00"' },
	right: { method: 'kind: sky-bearing\nbody: Spica\nat: "20:00"' },
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "hidden")) {
			const { say: others, fixes } = otherMarksOrTimes(evaluation, cell, method);
			const { name, key, by, altitude, skyline, azimuth } = obstacle;
			const place = {
				name,
				altitude: degrees(altitude),
				bearing: bearingText(azimuth),
				moment: when === "" ? "" : words.atMoment({ when }),
				others,
			};
			yield {
				...at(cell, key),
				message:
					by === "roof"
						? words.outside(place)
						: typeof by === "object"
							? words.obstruction({ ...place, by: by.name })
							: words.behind({ ...place, skyline: degrees(skyline) }),
				fixes,
			};
		}
	},
});
