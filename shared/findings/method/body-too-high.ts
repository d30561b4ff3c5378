import { clockOf } from "../../earth/zone.ts";
import { bearingBodies } from "../../methods/other-marks.ts";
import { degrees } from "../../notation/angle.ts";
import { at, fix, rule, setKey } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";
import { windowWords } from "./windows.ts";

export default rule({
	code: "method/body-too-high",
	severity: "warning",
	title: "Too high for a bearing",
	about:
		"High up, a small slip of the sight is a large slip of bearing: it grows as 1 / cos of the altitude. Take a lower body, or another time.",
	wrong: {
		site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E",
		method: 'kind: sky-bearing\nbody: Antares\nat: "23:50"',
	},
	right: {},
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "too-high")) {
			const cost = 1 / Math.max(0.01, Math.cos((obstacle.altitude * Math.PI) / 180));
			const others =
				evaluation.tonight && evaluation.night
					? bearingBodies(
							method.content.uncertainty ? { uncertainty: method.content.uncertainty } : {},
							evaluation.tonight,
							2,
						)
					: [];
			const clock = (t: number): string => clockOf(evaluation.night?.zone ?? "UTC", t);
			yield {
				...at(cell, "body"),
				fixes: others.flatMap((body) =>
					fix(
						`Take ${body.name} at ${clock(body.at)}`,
						false,
						setKey(cell, "", "body", body.name),
						setKey(cell, "", "at", `"${clock(body.at)}"`),
					),
				),
				message: `${obstacle.name} stands ${degrees(obstacle.altitude)} high at ${when}: one degree of aim is ${degrees(cost)} of bearing there. Up to ${degrees(obstacle.limit, 0)} it serves.${windowWords(method, evaluation)}`,
			};
		}
	},
});
