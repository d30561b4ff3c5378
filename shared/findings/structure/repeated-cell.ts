import { CELL_KIND_NAMES, CELL_KINDS } from "../../cells/kinds.ts";
import { type Cell, cellsOf, isLibrary } from "../../plan/plan.ts";
import { isPickedByName } from "../../plan/skeleton.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, fix, rule } from "../finding.ts";

const words = sentences("structure/repeated-cell", {
	title: "Cell appears twice",
	about: `A plan has at most one \`plan\`, \`site\`, \`night\`, \`tracker\`, \`targets\` and \`log\` cell; only
		\`lens\`, \`method\` and \`note\` may appear several times. When a cell is repeated the first one counts, and
		changes to the second have no effect. Delete one, or keep the variant in a plan of its own. A library (\`kind:
		library\`) may have several sites and trackers if each has a \`name\`; a plan that takes one of them refers to
		it by that name.`,
	message: "This `{kind}` cell is ignored: a plan has one, and the first one is used. Delete one of them.",
	unnamed: `A library may have several \`{kind}\` cells if each has a \`name\` of its own. Give this one a name, or
		delete it.`,
	delete: "Delete this cell",
});

const sites = (...names: readonly string[]): string =>
	names.map((name) => `---\nsite: { name: ${name}, latitude: 32.4123 S, longitude: 54.3622 W }\n`).join("");

export default rule({
	code: "structure/repeated-cell",
	severity: "error",
	words,
	wrong: { night: ["date: 2027-06-05", "date: 2027-06-06"] },
	instead: { night: "date: 2027-06-05" },
	right: [
		{ note: ["Bring the low tripod.", "Turn left at the gate."] },
		{ text: `plan: { title: Sites, kind: library }\n${sites("Fold", "Ford")}` },
	],
	*find({ plan }) {
		for (const kind of CELL_KIND_NAMES) {
			if (CELL_KINDS[kind].many) continue;
			const [first, ...others] = cellsOf(plan, kind);
			const isPicked = isLibrary(plan) && isPickedByName(kind);
			const names = new Set([first && nameOf(first)]);
			for (const cell of others) {
				const { start: from, end: to } = cell;
				const name = nameOf(cell);
				if (isPicked && name !== undefined && !names.has(name)) {
					names.add(name);
					continue;
				}
				yield {
					...atCell(cell),
					message: isPicked ? words.unnamed({ kind }) : words.message({ kind }),
					fixes: /^---/.test(cell.text)
						? fix(words.delete(), bare(cell.text) === bare(first?.text ?? ""), { from, to, text: "" })
						: [],
				};
			}
		}
	},
});

const nameOf = ({ read }: Cell): string | undefined => (read.content as { readonly name?: string } | undefined)?.name;

/** The text of a cell without its marker and the white space around it. */
const bare = (text: string): string => text.replace(/^---/, "").trim();
