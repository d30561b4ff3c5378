import { CELL_KIND_NAMES, CELL_KINDS, type CellKindName } from "../../cells/kinds.ts";
import { isTracked } from "../../cells/targets/target.ts";
import { cellsOf, isGroup, isLibrary, type Plan } from "../../plan/plan.ts";
import { skeletonOf } from "../../plan/skeleton.ts";
import { sentences } from "../../text/sentence.ts";
import { emptied } from "../../text/template.ts";
import { appendCell, atCell, atStart, fix, rule } from "../finding.ts";

const words = sentences("structure/missing-cell", {
	title: "Missing cell",
	about: `Every plan needs the cells \`plan\`, \`site\`, \`night\` and \`targets\` and at least one \`lens\`; it needs
		a \`method\` as soon as one target is tracked. A group needs \`plan\`, \`site\`, \`night\` and \`group\`.
		Without them the night, the frames or the alignment cannot be computed. Add the cell and fill in its keys; the
		fix adds them without values.`,
	message: "The plan has no `{kind}` cell. {doc}",
	empty: "The plan is empty. It needs the cells {kinds}, with a line `---` between one and the next.",
	all: "Add all of them",
	add: "Add a {kind} cell",
});

/** Whether a target is tracked, or may be as far as can be read: without one, nothing has to be aligned. */
function hasTracked(plan: Plan): boolean {
	const [targets] = cellsOf(plan, "targets");
	return targets?.read.content?.some(isTracked) ?? true;
}

/** What the evening of several kits needs itself. */
const OF_GROUP: readonly CellKindName[] = ["plan", "site", "night", "group"];

export default rule({
	code: "structure/missing-cell",
	severity: "error",
	words,
	wrong: { night: null },
	instead: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"' },
	right: [{ note: null, log: null }, { text: "plan:\n  title: Sites\n  kind: library\n" }],
	*find({ plan }) {
		const required = isGroup(plan) ? OF_GROUP : CELL_KIND_NAMES.filter((kind) => CELL_KINDS[kind].required);
		const [first] = plan.cells;
		if (plan.cut || !first || isLibrary(plan)) return;
		if (plan.cells.every(({ text }) => text.split("\n").every((line) => /^\s*(#|---|$)/.test(line)))) {
			yield {
				...atStart(plan),
				message: words.empty({ kinds: required.map((kind) => `\`${kind}\``).join(", ") }),
				fixes: fix(
					words.all(),
					false,
					appendCell(plan, required.map((kind) => emptied(skeletonOf(kind))).join("\n---\n")),
				),
			};
			return;
		}
		for (const kind of required) {
			if (cellsOf(plan, kind).length > 0 || (kind === "method" && !hasTracked(plan))) continue;
			// A broken cell may be the one that seems to be missing: do not tell it twice.
			if (plan.cells.some(({ read, text }) => read.kind === undefined && text.includes(`${kind}:`))) continue;
			yield {
				...(first.read.kind ? atCell(first) : atStart(plan)),
				message: words.message({ kind, doc: CELL_KINDS[kind].doc }),
				fixes: fix(words.add({ kind }), false, appendCell(plan, emptied(skeletonOf(kind)))),
			};
		}
	},
});
