import { stillMissing } from "../../plan/reuse.ts";
import { listText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("reuse/still-missing", {
	title: "Reused cell incomplete",
	about: `The cell takes its keys from another plan with \`from\`, but a required key is missing both there and here. What
		follows from the cell cannot be computed. Add the key in the other plan if it holds for every plan that reuses
		the cell, otherwise add it here.`,
	one: "{key} is missing, both here and in the other plan. Add it in one of them.",
	several: "{keys} are missing, both here and in the other plan. Add them in one of the two.",
});

export default rule({
	code: "reuse/still-missing",
	severity: "error",
	words,
	wrong: { site: "from: ../sites/none.lode.yaml\nname: A" },
	instead: { site: "from: ../sites/none.lode.yaml\nlatitude: 32.4123 S\nlongitude: 54.3622 W" },
	right: { site: "from: ../sites/none.lode.yaml\nlatitude: 32.4123 S\nlongitude: 54.3622 W" },
	over: { site: "from: ../sites/none.lode.yaml\nlatitude: 32.4123 S" },
	*find({ plan }) {
		for (const cell of plan.cells) {
			const missing = stillMissing(cell);
			// While the other plan is not there, that is told instead.
			if (missing.length === 0 || plan.reuse?.problems.some((problem) => problem.cell.index === cell.index)) continue;
			const link = plan.reuse?.links.find((one) => one.cell.index === cell.index);
			if (plan.reuse && link && !link.target) continue;
			const keys = listText(missing.map((key) => `\`${key}\``));
			yield {
				...at(cell, "from"),
				message: missing.length === 1 ? words.one({ key: keys }) : words.several({ keys }),
			};
		}
	},
});
