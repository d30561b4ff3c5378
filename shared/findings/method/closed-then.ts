import { clockOf, minuteOf } from "../../earth/zone.ts";
import { exactNightClock, nightClock } from "../../notation/night-clock.ts";
import { contains } from "../../sky/intervals.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule, setKey } from "../finding.ts";
import { windowWords } from "./windows.ts";

const words = sentences("method/closed-then", {
	title: "Method not usable at that time",
	about: `The planned time is outside the period in which the method works tonight, or outside your time on site: what
		it points at is hidden then, too low or too high, or the sky is too bright or too dark for it. Change the time
		to one within the period given in the message.`,
	closed: "The method cannot be used at {when}.{windows}",
	change: "Change the time to {at}",
});

export default rule({
	code: "method/closed-then",
	severity: "warning",
	words,
	wrong: { method: 'kind: landmark-bearing\nlandmark: water tower\nat: "22:00"' },
	right: { method: 'kind: landmark-bearing\nlandmark: water tower\nat: "17:55"' },
	*find(evaluation) {
		const { night, methods } = evaluation;
		if (!night) return;
		for (const { cell, value: method } of methods) {
			if (!method || method.content.at === undefined) continue;
			const { at: then, windows, obstacles } = method.setUp;
			if (then === undefined || windows.length === 0) continue;
			// What is wrong with the moment itself has a finding of its own.
			if (obstacles.length > 0 || contains(windows, then)) continue;
			const [first] = windows;
			const better =
				first && minuteOf(night.zone, first.from + Math.min(900_000, (first.until - first.from) / 2), Math.floor);
			yield {
				...at(cell, "at"),
				message: words.closed({ when: exactNightClock(night, then), windows: windowWords(method, evaluation) }),
				fixes: better
					? fix(
							words.change({ at: nightClock(night, better) }),
							false,
							setKey(cell, "", "at", clockOf(night.zone, better)),
						)
					: [],
			};
		}
	},
});
