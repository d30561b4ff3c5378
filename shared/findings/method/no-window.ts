import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/no-window", {
	title: "It works at no time of the stay",
	about: `What the method points at is hidden, too high, too low, or the sky too bright for it, from arriving to leaving.`,
	never: `\`{kind}\` works at no time of the stay: what it points at is hidden, too low, too high, or the sky too bright.`,
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
			yield { ...atCell(cell), message: obstacle.why ?? words.never({ kind: method.method.kind }) };
		}
	},
});
