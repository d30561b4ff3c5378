import { FILE_BOUNDS } from "../../plan/bounds.ts";
import { atStart, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const WORDS = {
	size: (limit: number) => `This cell is longer than ${limit} characters and is not read. Cut it into smaller ones.`,
	depth: (limit: number) =>
		`This is nested more than ${limit} deep. No cell of a plan needs more than five: the cell is not read.`,
	values: (limit: number) => `This cell holds more than ${limit} values, aliases followed. The rest is not read.`,
	aliases: (limit: number) => `This cell follows more than ${limit} aliases. The rest is not read.`,
} as const;

export default rule({
	code: "structure/too-much",
	severity: "error",
	title: "More than a plan can hold",
	about:
		"A plan may come from a stranger, so what it can ask of the machine is bounded: the length of the file and of a cell, the number of cells and of values, how deep they are nested, how many aliases are followed. What lies beyond is not read.",
	wrong: { text: `note: ${"[".repeat(60)}${"]".repeat(60)}\n` },
	right: {},
	*find(evaluation) {
		const { plan } = evaluation;
		if (plan.cut === "length") {
			yield {
				...atStart(plan),
				message: `The file is ${plan.text.length} characters long; plans of up to ${FILE_BOUNDS.length} are read. Nothing of it was checked. Split it into several plans.`,
			};
		}
		if (plan.cut === "cells") {
			const last = plan.cells[plan.cells.length - 1];
			yield {
				cell: undefined,
				span: { from: last?.start ?? 0, to: (last?.start ?? 0) + 3 },
				message: `The file holds more than ${FILE_BOUNDS.cells} cells; those after this one are not read. Split it into several plans.`,
			};
		}
		for (const { cell, problem } of problemsOf(evaluation, "too-much"))
			yield { cell, span: problem, message: WORDS[problem.what](problem.limit) };
	},
});
