import { CELL_KIND_NAMES, CELL_KINDS, type CellKindName } from "../../cells/kinds.ts";
import { cellsOf } from "../../plan/plan.ts";
import { skeletonOf } from "../../plan/skeleton.ts";
import { appendCell, atCell, atStart, fix, rule } from "../finding.ts";

export default rule({
	code: "structure/missing-cell",
	severity: "error",
	title: "A cell is missing",
	about: "A plan needs `plan`, `site`, `night`, one `lens`, one `method` and `targets`.",
	wrong: { night: null },
	right: {},
	*find({ plan }) {
		const required = CELL_KIND_NAMES.filter((kind): kind is CellKindName => CELL_KINDS[kind].required);
		const [first] = plan.cells;
		if (plan.cut || !first) return;
		for (const kind of required) {
			if (cellsOf(plan, kind).length > 0) continue;
			// A broken cell may be the one that seems to be missing: do not tell it twice.
			if (plan.cells.some(({ read, text }) => read.kind === undefined && text.includes(`${kind}:`))) continue;
			yield {
				...(first.read.kind ? atCell(first) : atStart(plan)),
				message: `The plan has no \`${kind}\` cell. ${CELL_KINDS[kind].doc}`,
				fixes: fix(`Add a ${kind} cell`, false, appendCell(plan, skeletonOf(kind))),
			};
		}
	},
});
