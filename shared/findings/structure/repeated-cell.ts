import { CELL_KIND_NAMES, CELL_KINDS } from "../../cells/kinds.ts";
import { cellsOf } from "../../plan/plan.ts";
import { atCell, rule } from "../finding.ts";

export default rule({
	code: "structure/repeated-cell",
	severity: "error",
	title: "A cell twice",
	about:
		"A plan has one `plan`, `site`, `night`, `tracker`, `targets` and `log`. The first is read. Several `lens`, `method` and `note` cells are fine.",
	wrong: { night: ["date: 2027-06-05", "date: 2027-06-06"] },
	right: {},
	*find({ plan }) {
		for (const kind of CELL_KIND_NAMES) {
			if (CELL_KINDS[kind].many) continue;
			for (const cell of cellsOf(plan, kind).slice(1))
				yield { ...atCell(cell), message: `A plan has one \`${kind}\` cell; the first one is read, this one is not.` };
		}
	},
});
