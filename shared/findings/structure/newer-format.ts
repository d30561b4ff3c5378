import { FORMAT } from "../../plan/migrations.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("structure/newer-format", {
	title: "Plan in a newer format",
	about: `The plan says that it is written in a version of the format that this Lodebook does not know. Its keys may
		mean something else there, so numbers computed here may be wrong with nothing to show it. Update Lodebook; or,
		if the number is a typing error, correct it.`,
	message: `This plan is written for a newer Lodebook: it says \`format: {found}\`, and this version reads formats up
		to {known}. Update Lodebook, and do not rely on anything computed here.`,
});

export default rule({
	code: "structure/newer-format",
	severity: "error",
	words,
	wrong: { plan: "title: Core over the sheepfold\nformat: 7" },
	right: { plan: "title: Core over the sheepfold\nformat: 1" },
	over: { plan: "title: Core over the sheepfold\nformat: 2" },
	*find({ plan }) {
		for (const cell of cellsOf(plan, "plan")) {
			const found = cell.read.content?.format;
			if (found !== undefined && found > FORMAT)
				yield { ...at(cell, "format"), message: words.message({ found, known: FORMAT }) };
		}
	},
});
