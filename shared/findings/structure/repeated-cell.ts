import { CELL_KIND_NAMES, CELL_KINDS } from "../../cells/kinds.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, fix, rule } from "../finding.ts";

const words = sentences("structure/repeated-cell", {
	title: "Cell appears twice",
	about: `A plan has at most one \`plan\`, \`site\`, \`night\`, \`tracker\`, \`targets\` and \`log\` cell; only \`lens\`, \`method\` and
		\`note\` may appear several times. When a cell is repeated the first one counts, and changes to the second have no
		effect. Delete one, or keep the variant in a plan of its own.`,
	message: "This `{kind}` cell is ignored: a plan has one, and the first one is used. Delete one of them.",
	delete: "Delete this cell",
});

export default rule({
	code: "structure/repeated-cell",
	severity: "error",
	words,
	wrong: { night: ["date: 2027-06-05", "date: 2027-06-06"] },
	instead: { night: "date: 2027-06-05" },
	right: { note: ["Bring the low tripod.", "Turn left at the gate."] },
	*find({ plan }) {
		for (const kind of CELL_KIND_NAMES) {
			if (CELL_KINDS[kind].many) continue;
			const [first, ...others] = cellsOf(plan, kind);
			for (const cell of others) {
				const { start: from, end: to } = cell;
				yield {
					...atCell(cell),
					message: words.message({ kind }),
					fixes: /^---/.test(cell.text)
						? fix(words.delete(), bare(cell.text) === bare(first?.text ?? ""), { from, to, text: "" })
						: [],
				};
			}
		}
	},
});

/** The text of a cell without its marker and the white space around it. */
const bare = (text: string): string => text.replace(/^---/, "").trim();
