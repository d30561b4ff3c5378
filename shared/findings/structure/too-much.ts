import { FILE_BOUNDS } from "../../plan/bounds.ts";
import { sentences } from "../../text/sentence.ts";
import { atStart, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/too-much", {
	title: "Plan too large",
	about: `Plans may come from strangers, for example in a pull request, so the work that a file can cause is limited:
		its length, the number of cells and values, how deeply they are nested, and how many aliases are followed.
		Anything beyond a limit is not read. Split the plan, or simplify the cell.`,
	length: `The file has {length} characters; the limit is {limit}. Nothing was checked. Split it into several plans.`,
	marks: `The file has more than {limit} lines, brackets, commas and quotes. Nothing was checked. Split it into several
		plans.`,
	cells: `The file has more than {limit} cells; those from here on are not read. Split it into several plans.`,
	size: "This cell has more than {limit} characters and was not read. Split it into smaller ones.",
	depth: `This value is nested more than {limit} levels deep, so the cell was not read. No cell needs more than five
		levels.`,
	values: `This cell has more than {limit} values, counting those behind aliases. The rest was not read. Split it into
		smaller cells.`,
	aliases: `This cell follows more than {limit} aliases. The rest was not read. Write the values out instead.`,
});

export default rule({
	code: "structure/too-much",
	severity: "error",
	words,
	wrong: { text: `note: ${"[".repeat(60)}${"]".repeat(60)}\n` },
	instead: { note: "Bring the low tripod." },
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
