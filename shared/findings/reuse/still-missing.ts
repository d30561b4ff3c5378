import { stillMissing } from "../../plan/reuse.ts";
import { listText } from "../../text/list.ts";
import { at, rule } from "../finding.ts";

export default rule({
	code: "reuse/still-missing",
	severity: "error",
	title: "Keys are missing in what is taken, too",
	about: "The cell takes from another plan, and a key it needs stands in neither. Write it here or there.",
	wrong: { site: "from: ../stands/none.lode.yaml\nname: A" },
	right: {},
	*find({ plan }) {
		for (const cell of plan.cells) {
			const missing = stillMissing(cell);
			// While the other plan is not there, that is told instead.
			if (missing.length === 0 || plan.reuse?.problems.some((problem) => problem.cell.index === cell.index)) continue;
			const link = plan.reuse?.links.find((one) => one.cell.index === cell.index);
			if (plan.reuse && link && !link.target) continue;
			yield {
				...at(cell, "from"),
				message: `${listText(missing.map((key) => `\`${key}\``))} ${missing.length === 1 ? "is" : "are"} missing, here and in what is taken.`,
			};
		}
	},
});
