import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { at, fix, rule, setKey } from "../finding.ts";
import { starFixes } from "./guide-star-fixes.ts";
import { markKey, obstaclesOf } from "./obstacles.ts";

export default rule({
	code: "method/guide-star-not-there",
	severity: "error",
	title: "The star is not at the aim point then",
	about: "The star does pass the aim point, but at another time. Every four minutes of clock are one degree of sky.",
	wrong: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "21:30"\nlocal-rules-checked: true' },
	right: {},
	*find(evaluation) {
		for (const { cell, method, obstacle, clock, when } of obstaclesOf(evaluation, "not-there")) {
			const { name, miss, reach, best } = obstacle;
			const { aim, marks } = method.plan.setUp;
			const [mark] = marks ?? [];
			const inStay =
				best !== undefined &&
				evaluation.night !== undefined &&
				best >= evaluation.night.onSite.from &&
				best <= evaluation.night.onSite.until;
			const there = mark
				? ` (it stands ${degrees(mark.direction.altitude)} high at ${bearingText(mark.direction.azimuth)})`
				: "";
			const point = aim
				? `the aim point, ${degrees(aim.altitude)} high at ${bearingText(aim.azimuth)}`
				: "the aim point";
			const other = inStay ? undefined : starFixes(evaluation, cell, method.content);
			yield {
				...at(cell, Number.isNaN(miss) ? markKey(method, name) : "at"),
				message: Number.isNaN(miss)
					? `${name} passes ${point} at ${best === undefined ? "another hour" : clock(best)}, outside the stay.${other?.words ?? ""}`
					: `${name} is ${degrees(miss)} from ${point} at ${when}${there}; within ${degrees(reach)} it would serve.${best === undefined ? "" : ` It passes at ${clock(best)}${inStay ? "" : ", outside the stay"}.`}${other?.words ?? ""}`,
				fixes: [
					...(inStay && best !== undefined
						? fix(`Change the time to ${clock(best)}`, false, setKey(cell, "", "at", `"${clock(best)}"`))
						: []),
					...(other?.fixes ?? []),
				],
			};
		}
	},
});
