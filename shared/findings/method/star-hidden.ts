import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { otherMarksOrTimes } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/star-hidden", {
	title: "Hidden then",
	about: "At that time the star or body stands behind the skyline, or outside every opening of an enclosed stand.",
	outside: "{name}, {altitude} high at {bearing}{moment}, is outside every opening.{others}",
	obstruction: "{name}, {altitude} high at {bearing}{moment}, is behind `{by}`.{others}",
	atMoment: " at {when}",
	behind: `{name}, {altitude} high at {bearing}{moment}, is behind the skyline, {skyline} high there.{others}`,
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
