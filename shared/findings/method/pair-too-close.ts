import { sweepPairs } from "../../methods/other-marks.ts";
import { DEFAULT_OFFSET, DEFAULT_REACH } from "../../methods/square-laser/square-laser.ts";
import { degrees } from "../../notation/angle.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";

export default rule({
	code: "method/pair-too-close",
	severity: "warning",
	title: "The two stars do not tell both parts",
	about:
		"Two stars at nearly the same hour angle, or half a turn apart, see the same part of the axis error: what one cannot tell, the other cannot either. The error grows as 1 / sin of the difference. Six hours, 90°, is best.",
	wrong: { method: 'kind: drift\nfirst: { star: Spica, at: "21:10" }\nsecond: { star: eta Virginis, at: "21:20" }' },
	right: {},
	*find(evaluation) {
		for (const { cell, method, obstacle } of obstaclesOf(evaluation, "pair-too-close")) {
			const { spread } = obstacle;
			const growth = 1 / Math.max(0.01, Math.abs(Math.sin((spread * Math.PI) / 180)));
			const { content: own } = method;
			const pairs =
				evaluation.tonight && method.method.kind === "star-sweep"
					? sweepPairs(
							own.uncertainty ? { uncertainty: own.uncertainty } : {},
							evaluation.tonight,
							own.offset ?? DEFAULT_OFFSET,
							own.reach ?? DEFAULT_REACH,
							2,
						)
					: [];
			yield {
				fixes: pairs.flatMap(({ names }) =>
					fix(`Take ${names.join(" and ")}`, false, replaceValue(cell, "stars", `[${names.join(", ")}]`)),
				),
				...at(cell, method.method.kind === "drift" ? "second" : "stars"),
				message: `The two stars are ${degrees(spread, 0)} of hour angle apart: errors count ${growth.toFixed(1)} times. From 30° to 150° they serve, 90° is best.`,
			};
		}
	},
});
