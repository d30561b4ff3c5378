import { nightInterval } from "../../notation/night-clock.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";
import { listMarks, MOST_NAMED, takeBest } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/no-window", {
	title: "Method not usable tonight",
	about: `At no time between arriving and leaving does the method work: what it points at is hidden, too high or too
		low, or the sky is too bright or too dark for it. The plan then depends on its fallbacks. Choose another star or
		landmark, another method, or more time on site.`,
	never: `The {method} cannot be used while you are on site, {onSite}: what it points at is hidden, too low or too high, or
		the sky is too bright ({dark}). {advice}`,
	choose: "Choose another star, another method or more time on site.",
	marks: "Usable tonight: {marks}.",
	dark: "dark {when}",
	neverDark: "it does not get dark",
});

export default rule({
	code: "method/no-window",
	severity: "warning",
	words,
	wrong: {
		night: 'date: 2027-06-05\narrive: "21:00"\nleave: "02:00"',
		method: "kind: landmark-bearing\nlandmark: water tower",
	},
	right: {
		night: 'date: 2027-06-05\narrive: "18:00"\nleave: "02:00"',
		method: "kind: landmark-bearing\nlandmark: water tower",
	},
	*find(evaluation) {
		for (const { cell, method, obstacle } of obstaclesOf(evaluation, "no-window")) {
			// A single time that fails says why by itself.
			if (method.setUp.obstacles.length > 1) continue;
			const { night } = evaluation;
			if (!night) continue;
			const dark = night.dark.map((one) => nightInterval(night, one)).join(", ");
			const marks = method.method.search?.momentary ? "" : listMarks(evaluation, method);
			const never = words.never({
				method: method.name,
				onSite: nightInterval(night, night.onSite),
				advice: marks === "" ? words.choose() : words.marks({ marks }),
				dark: [dark === "" ? words.neverDark() : words.dark({ when: dark })],
			});
			yield {
				...atCell(cell),
				message: obstacle.why ?? never,
				fixes: marks === "" ? [] : takeBest(evaluation, cell, method, MOST_NAMED),
			};
		}
	},
});
