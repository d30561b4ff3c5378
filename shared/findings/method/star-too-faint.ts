import { degrees } from "../../notation/angle.ts";
import { airMass } from "../../sky/extinction.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { otherMarks } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/star-too-faint", {
	title: "Star too faint",
	about: `The star is too faint to find and point at by eye under that sky, counting moonlight, twilight and the light
		lost in the air at low altitude. By common practice, without a published source, the limit is magnitude 4.5
		overhead in the dark, up to 1.5 less under a bright Moon, and 2 more through a polar scope that magnifies.
		Choose a brighter star, or a time when the sky is darker or the star higher.`,
	tooFaint: `At {when} {name}, of magnitude {magnitude}, is dimmed to {seen} by the air at altitude {altitude} ({mass} air
		masses); under that sky the limit is {limit} {how}.{others}`,
	eye: "by eye",
	scope: "through a polar scope that magnifies",
});

export default rule({
	code: "method/star-too-faint",
	severity: "warning",
	words,
	wrong: { method: 'kind: square-laser\nguide-star: HIP 60030\nlocal-rules-checked: true\nat: "20:01"' },
	right: { method: 'kind: square-laser\nguide-star: eta Virginis\nlocal-rules-checked: true\nat: "20:01"' },
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "too-faint")) {
			const { say: others, fixes } = otherMarks(evaluation, cell, method);
			const { name, key, magnitude, seen, limit, altitude, scope } = obstacle;
			const message = words.tooFaint({
				name,
				magnitude: magnitude.toFixed(1),
				seen: seen.toFixed(1),
				altitude: degrees(altitude),
				mass: airMass(altitude).toFixed(1),
				when,
				limit: (Math.floor(limit * 10) / 10).toFixed(1),
				how: scope ? words.scope() : words.eye(),
				others,
			});
			yield { ...at(cell, key), message, fixes };
		}
	},
});
