import { CELL_KIND_NAMES } from "../../cells/kinds.ts";
import { inText } from "../../plan/plan.ts";
import { fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/unknown-kind",
	severity: "error",
	title: "Unknown kind of cell",
	about:
		"The key of a cell names its kind: `plan`, `site`, `night`, `lens`, `tracker`, `method`, `targets`, `note` or `log`.",
	wrong: { text: "sight:\n  name: Sheepfold\n" },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unknown-kind")) {
			const { word, nearest } = problem;
			yield {
				cell,
				span: problem,
				message: `\`${word}\` is no kind of cell.${nearest ? ` Did you mean \`${nearest}\`?` : ""} Kinds are ${CELL_KIND_NAMES.join(", ")}.`,
				fixes: nearest ? fix(`Change to ${nearest}`, true, { ...inText(cell, problem), text: nearest }) : [],
			};
		}
	},
});
