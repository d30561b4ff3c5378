import { worksAt } from "../../cells/method/method.ts";
import { exactClock } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule, setKey } from "../finding.ts";
import { otherMarks } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/guide-star-not-there", {
	title: "Guide star not at the aim point then",
	about: `The star does pass the aim point, but not at the planned time: the sky turns by one degree every four
		minutes. Setting the laser on it at the wrong moment turns the axis away from the pole. Change the time to when
		it passes, or choose a star that passes when you need it.`,
	point: "the aim point (altitude {altitude}, bearing {bearing})",
	outside: "{name} passes {point} at {best}, outside your time on site.{others}",
	notThere: "At {when} {name}{there} is {miss} from {point}; it must be within {reach}.{passes}{others}",
	there: " (altitude {altitude}, bearing {bearing})",
	passes: " It passes at {best}.",
	passesOutside: " It passes at {best}, outside your time on site.",
	anotherHour: "another hour",
	change: "Change the time to {at}",
});

export default rule({
	code: "method/guide-star-not-there",
	severity: "error",
	words,
	wrong: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "21:30"\nlocal-rules-checked: true' },
	instead: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true' },
	right: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:03"\nlocal-rules-checked: true' },
	*find(evaluation) {
		const { night, tonight } = evaluation;
		for (const { cell, method, obstacle, clock, when } of obstaclesOf(evaluation, "not-there")) {
			const { name, key, miss, reach, best, aim, direction } = obstacle;
			// Whether it can be used when it passes.
			const inTime =
				best !== undefined && night !== undefined && tonight !== undefined && worksAt(method, tonight, best);
			const placed = (one: typeof aim) => ({ altitude: degrees(one.altitude), bearing: bearingText(one.azimuth) });
			const point = words.point(placed(aim));
			const others = inTime ? undefined : otherMarks(evaluation, cell, method);
			const say = others?.say ?? "";
			const passing = best === undefined ? "" : clock(best);
			const passes = inTime ? words.passes({ best: passing }) : words.passesOutside({ best: passing });
			yield {
				...at(cell, miss === undefined ? key : "at"),
				message:
					miss === undefined
						? words.outside({ name, point, best: passing || words.anotherHour(), others: say })
						: words.notThere({
								name,
								miss: degrees(miss),
								point,
								when,
								there: direction ? words.there(placed(direction)) : "",
								reach: degrees(reach),
								passes: passing === "" ? "" : passes,
								others: say,
							}),
				fixes: [
					...(inTime
						? fix(words.change({ at: passing }), false, setKey(cell, "", "at", exactClock(night.zone, best)))
						: []),
					...(others?.fixes ?? []),
				],
			};
		}
	},
});
