import { FILE_BOUNDS } from "../../plan/bounds.ts";
import { sentences } from "../../text/sentence.ts";
import { atStart, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/too-much", {
	title: "More than a plan can hold",
	about: `A plan may come from a stranger, so what it can ask of the machine is bounded: the length of the file and of a
		cell, the number of cells and of values, how deep they are nested, how many aliases are followed. What lies beyond is
		not read.`,
	length: `The file is {length} characters long; plans of up to {limit} are read. Nothing of it was checked. Split it into
		several plans.`,
	marks: `The file has more than {limit} lines, brackets, commas and quotes together. Nothing of it was checked. Split it
		into several plans.`,
	cells: `The file holds more than {limit} cells; those after this one are not read. Split it into several plans.`,
	size: "This cell is longer than {limit} characters and is not read. Cut it into smaller ones.",
	depth: `This is nested more than {limit} deep. No cell of a plan needs more than five: the cell is not read.`,
	values: "This cell holds more than {limit} values, aliases followed. The rest is not read.",
	aliases: "This cell follows more than {limit} aliases. The rest is not read.",
});

export default rule({
	code: "structure/too-much",
	severity: "error",
	words,
	wrong: { text: `note: ${"[".repeat(60)}${"]".repeat(60)}\n` },
	right: { note: `A row of brackets ${"[]".repeat(60)}` },
	*find(evaluation) {
		const { plan } = evaluation;
		if (plan.cut === "length") {
			const message = words.length({ length: plan.text.length, limit: FILE_BOUNDS.length });
			yield { ...atStart(plan), message };
		}
		if (plan.cut === "marks") yield { ...atStart(plan), message: words.marks({ limit: FILE_BOUNDS.marks }) };
		if (plan.cut === "cells") {
			const from = plan.cells[plan.cells.length - 1]?.start ?? 0;
			const message = words.cells({ limit: FILE_BOUNDS.cells });
			yield { cell: undefined, span: { from, to: from + 3 }, message };
		}
		for (const { cell, problem } of problemsOf(evaluation, "too-much"))
			yield { cell, span: problem, message: words[problem.what]({ limit: problem.limit }) };
	},
});
