import { stillMissing } from "../../plan/reuse.ts";
import { listText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("reuse/still-missing", {
	title: "Keys are missing in what is taken, too",
	about: "The cell takes from another plan, and a key it needs stands in neither. Write it here or there.",
	one: "{key} is missing, here and in what is taken.",
	several: "{keys} are missing, here and in what is taken.",
});

export default rule({
	code: "reuse/still-missing",
	severity: "error",
	words,
	wrong: { site: "from: ../stands/none.lode.yaml\nname: A" },
	right: { site: "from: ../stands/none.lode.yaml\nlatitude: 32.4123 S\nlongitude: 20.8431 E" },
	over: { site: "from: ../stands/none.lode.yaml\nlatitude: 32.4123 S" },
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
