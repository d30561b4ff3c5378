import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { at, rule } from "../finding.ts";
import { starFixes } from "./guide-star-fixes.ts";
import { markKey, obstaclesOf } from "./obstacles.ts";
import { windowWords } from "./windows.ts";

export default rule({
	code: "method/star-hidden",
	severity: "error",
	title: "Hidden then",
	about: "At that time the star or body stands behind the skyline, or outside every opening of an enclosed stand.",
	wrong: { method: 'kind: sky-bearing\nbody: Achernar\nat: "20:00"' },
	right: {},
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "hidden")) {
			const { name, by, altitude, skyline, azimuth } = obstacle;
			const place = `${degrees(altitude)} high at ${bearingText(azimuth)}`;
			const own =
				method.method.kind === "square-laser"
					? starFixes(evaluation, cell, method.content)
					: { words: windowWords(method, evaluation), fixes: [] };
			yield {
				...at(cell, markKey(method, name)),
				message:
					by === "roof"
						? `${name}, ${place} at ${when}, is outside every opening.${own.words}`
						: `${name}, ${place} at ${when}, is behind the skyline, ${degrees(skyline)} high there.${own.words}`,
				fixes: own.fixes,
			};
		}
	},
});
