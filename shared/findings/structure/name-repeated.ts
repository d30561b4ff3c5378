import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, atCell, fix, insertKey, replaceValue, rule } from "../finding.ts";

const words = sentences("structure/name-repeated", {
	title: "Name used twice",
	about: `Targets and methods refer to lenses, openings and landmarks by name, and results are listed by the names of
		targets and of a group's members. If two of the same kind share a name, or several lenses have none, they cannot
		be told apart, and the first would be used for both. Give each its own name.`,
	unnamed: "The plan has {number} lenses. Give each a `name`, so that targets can refer to it.",
	lens: "Two lenses are called `{name}`. Give this one another name.",
	landmark: "Two landmarks are called `{name}`. Give this one another name.",
	opening: "Two openings are called `{name}`. Give this one another name.",
	obstruction: "Another opening or obstruction is already called `{name}`. Give this one another name.",
	target: "Two targets are called `{name}`. Give this one another name.",
	member: "Two of the group are called `{name}`. Give this one another name.",
	call: "Rename to {name}",
});

const LENS = "focal-length: 24 mm\nf-number: 2\nsensor: full-frame\npixels: 6000 x 4000";

export default rule({
	code: "structure/name-repeated",
	severity: "error",
	words,
	wrong: {
		lens: [
			"focal-length: 24 mm\nsensor: full-frame\npixels: 6000 x 4000",
			"focal-length: 50 mm\nsensor: full-frame\npixels: 6000 x 4000",
		],
	},
	instead: {
		lens: [
			"name: wide\nfocal-length: 24 mm\nsensor: full-frame\npixels: 6000 x 4000",
			"name: long\nfocal-length: 50 mm\nsensor: full-frame\npixels: 6000 x 4000",
		],
	},
	right: {
		lens: [`name: wide\n${LENS}`, `name: spare\n${LENS}`],
		targets:
			'- name: core\n  aim: galactic-centre\n  lens: wide\n  from: "21:30"\n  exposure: 60 s\n  foreground: true',
	},
	*find({ plan }) {
		const lenses = cellsOf(plan, "lens");
		const names = new Set(lenses.flatMap(({ read }) => read.content?.name ?? []));
		const seen = new Set<string>();
		for (const cell of lenses) {
			const name = cell.read.content?.name;
			if (name === undefined) {
				if (lenses.length === 1 || !cell.read.content) continue;
				const free = freeName(cell.read.places.get("focal-length")?.source ?? "lens", names);
				yield {
					...atCell(cell),
					message: words.unnamed({ number: lenses.length }),
					fixes: fix(words.call({ name: free }), false, insertKey(cell, "", "name", free)),
				};
			} else if (seen.has(name)) yield again(cell, "name", "lens", name, names);
			else seen.add(name);
		}
		for (const cell of cellsOf(plan, "site").slice(0, 1)) {
			yield* repeats(cell, "landmarks", "landmark", cell.read.content?.landmarks);
			yield* repeats(cell, "openings", "opening", cell.read.content?.openings);
			// An obstruction with a window is named like an opening.
			yield* repeats(cell, "obstructions", "obstruction", cell.read.content?.obstructions, cell.read.content?.openings);
		}
		for (const cell of cellsOf(plan, "targets").slice(0, 1)) yield* repeats(cell, "", "target", cell.read.content);
		for (const cell of cellsOf(plan, "group").slice(0, 1)) yield* repeats(cell, "", "member", cell.read.content);
	},
});

type Named = "lens" | "landmark" | "opening" | "obstruction" | "target" | "member";

function* repeats(
	cell: Parameters<typeof at>[0],
	path: string,
	what: Named,
	items: readonly { readonly name?: string }[] | undefined,
	others: readonly { readonly name?: string }[] = [],
) {
	const seen = new Set<string>(others.flatMap(({ name }) => name ?? []));
	const names = new Set([...others, ...(items ?? [])].flatMap(({ name }) => name ?? []));
	for (const [index, { name }] of (items ?? []).entries()) {
		if (name === undefined) continue;
		if (seen.has(name)) yield again(cell, `${path === "" ? "" : `${path}.`}${index}.name`, what, name, names);
		seen.add(name);
	}
}

function again(cell: Parameters<typeof at>[0], path: string, what: Named, name: string, names: ReadonlySet<string>) {
	const free = freeName(name, names);
	return {
		...at(cell, path),
		message: words[what]({ name }),
		fixes: fix(words.call({ name: free }), false, replaceValue(cell, path, free)),
	};
}

/** A name that nothing has: the one given, or that with a number behind it. */
function freeName(name: string, taken: ReadonlySet<string>): string {
	if (!taken.has(name)) return name;
	let number = 2;
	while (taken.has(`${name} ${number}`)) number++;
	return `${name} ${number}`;
}
