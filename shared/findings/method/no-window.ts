import { atCell, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";

export default rule({
	code: "method/no-window",
	severity: "warning",
	title: "It works at no time of the stay",
	about:
		"What the method points at is hidden, too high, too low, or the sky too bright for it, from arriving to leaving.",
	wrong: {
		night: 'date: 2027-06-05\narrive: "21:00"\nleave: "02:00"',
		method: "kind: landmark-bearing\nlandmark: water tower",
	},
	right: {},
	*find(evaluation) {
		for (const { cell, method } of obstaclesOf(evaluation, "no-window")) {
			// A single time that fails says why by itself.
			if (method.plan.obstacles.length > 1) continue;
			const landmark = method.method.kind === "landmark-bearing";
			yield {
				...atCell(cell),
				message: landmark
					? "A landmark is sighted by daylight or in civil twilight, and the stay has none. Arrive earlier, or hang a light on the landmark and read its bearing then."
					: `\`${method.method.kind}\` works at no time of the stay: what it points at is hidden, too low, too high, or the sky too bright.`,
			};
		}
	},
});
