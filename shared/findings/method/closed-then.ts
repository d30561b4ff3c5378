import { clockOf } from "../../earth/zone.ts";
import { contains } from "../../sky/intervals.ts";
import { at, fix, rule, setKey } from "../finding.ts";
import { windowWords } from "./windows.ts";

export default rule({
	code: "method/closed-then",
	severity: "warning",
	title: "It does not work at that time",
	about: "The time planned lies outside the window in which the method works tonight, or outside the stay.",
	wrong: { method: 'kind: landmark-bearing\nlandmark: water tower\nat: "22:00"' },
	right: {},
	*find(evaluation) {
		const { night, methods } = evaluation;
		if (!night) return;
		for (const { cell, value: method } of methods) {
			if (
				!method ||
				method.content.at === undefined ||
				method.plan.at === undefined ||
				method.plan.windows.length === 0
			)
				continue;
			// What is wrong with the moment itself has a finding of its own.
			if (method.plan.obstacles.length > 0 || contains(method.plan.windows, method.plan.at)) continue;
			const [first] = method.plan.windows;
			const better = first && clockOf(night.zone, first.from + Math.min(900_000, (first.until - first.from) / 2));
			yield {
				...at(cell, "at"),
				message: `At ${clockOf(night.zone, method.plan.at)} this does not work.${windowWords(method, evaluation)}`,
				fixes: better ? fix(`Change the time to ${better}`, false, setKey(cell, "", "at", `"${better}"`)) : [],
			};
		}
	},
});
