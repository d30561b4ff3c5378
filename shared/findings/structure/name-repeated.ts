import { cellsOf } from "../../plan/plan.ts";
import { at, atCell, rule } from "../finding.ts";

export default rule({
	code: "structure/name-repeated",
	severity: "error",
	title: "Names that do not tell apart",
	about: "Several lenses need names, each its own; landmarks, openings and targets too: others refer to them by name.",
	wrong: {
		lens: [
			"focal-length: 24 mm\nsensor: full-frame\npixels: 6000 x 4000",
			"focal-length: 50 mm\nsensor: full-frame\npixels: 6000 x 4000",
		],
	},
	right: {},
	*find({ plan }) {
		const lenses = cellsOf(plan, "lens");
		const seen = new Set<string>();
		for (const cell of lenses) {
			const name = cell.read.content?.name;
			if (name === undefined) {
				if (lenses.length > 1 && cell.read.content)
					yield {
						...atCell(cell),
						message: `There are ${lenses.length} lenses: each needs a \`name\` by which targets refer to it.`,
					};
			} else if (seen.has(name))
				yield { ...at(cell, "name"), message: `Another lens is called \`${name}\` too. Give this one another name.` };
			else seen.add(name);
		}
		for (const cell of cellsOf(plan, "site").slice(0, 1)) {
			yield* repeats(cell, "landmarks", "landmark", cell.read.content?.landmarks);
			yield* repeats(cell, "openings", "opening", cell.read.content?.openings);
		}
		for (const cell of cellsOf(plan, "targets").slice(0, 1)) yield* repeats(cell, "", "target", cell.read.content);
	},
});

function* repeats(
	cell: Parameters<typeof at>[0],
	path: string,
	what: string,
	items: readonly { readonly name?: string }[] | undefined,
) {
	const seen = new Set<string>();
	for (const [index, { name }] of (items ?? []).entries()) {
		if (name === undefined) continue;
		if (seen.has(name))
			yield {
				...at(cell, `${path === "" ? "" : `${path}.`}${index}.name`),
				message: `Another ${what} is called \`${name}\` too. Give this one another name.`,
			};
		seen.add(name);
	}
}
