import { listText } from "../../notation/spoken.ts";
import { type Cell, cellsOf, firstValue } from "../../plan/plan.ts";
import { nearestWord } from "../../text/nearest.ts";
import { at, type Found, fix, replaceValue, rule } from "../finding.ts";

export default rule({
	code: "structure/unknown-reference",
	severity: "error",
	title: "A name that nothing has",
	about: "A target names a lens or an opening, or a method a landmark, that the plan does not have.",
	wrong: { targets: '- name: core\n  aim: galactic-centre\n  lens: long\n  from: "21:30"\n  exposure: 60 s' },
	right: {},
	*find({ plan }) {
		const lenses = cellsOf(plan, "lens").map(({ read }) => read.content?.name ?? "lens");
		const site = firstValue(plan, "site");
		const openings = (site?.openings ?? []).flatMap(({ name }) => name ?? []);
		const landmarks = (site?.landmarks ?? []).flatMap(({ name }) => name ?? []);
		for (const cell of cellsOf(plan, "targets").slice(0, 1)) {
			for (const [index, { lens, opening }] of (cell.read.content ?? []).entries()) {
				yield* unknown(cell, `${index}.lens`, lens, lenses, "lens");
				yield* unknown(cell, `${index}.opening`, opening, openings, "opening of the site");
			}
		}
		for (const cell of cellsOf(plan, "log").slice(0, 1)) {
			for (const [index, { lens }] of (cell.read.content ?? []).entries())
				yield* unknown(cell, `${index}.lens`, lens, lenses, "lens");
		}
		for (const cell of cellsOf(plan, "method"))
			yield* unknown(cell, "landmark", cell.read.content?.landmark, landmarks, "landmark of the site");
	},
});

function* unknown(
	cell: Cell,
	path: string,
	name: string | undefined,
	known: readonly string[],
	what: string,
): Iterable<Found> {
	if (name === undefined || known.includes(name)) return;
	const nearest = nearestWord(name, known);
	yield {
		...at(cell, path),
		message: `There is no ${what} called \`${name}\`.${nearest ? ` Did you mean \`${nearest}\`?` : known.length > 0 ? ` The plan has ${listText(known.map((one) => `\`${one}\``))}.` : " The plan has none."}`,
		fixes: nearest ? fix(`Change to ${nearest}`, true, replaceValue(cell, path, nearest)) : [],
	};
}
