import { type Cell, cellsOf, firstValue, isLibrary } from "../../plan/plan.ts";
import { eitherText } from "../../text/list.ts";
import { nearestWord } from "../../text/nearest.ts";
import { sentences } from "../../text/sentence.ts";
import { at, type Found, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("structure/unknown-reference", {
	title: "Unknown name",
	about: `A target, a method or a log entry refers to a lens, an opening or a landmark by its \`name\`, and nothing in the
		plan has that name. What depends on it cannot be computed. Correct the spelling here, or add the missing lens,
		opening or landmark.`,
	lens: "No lens is called `{name}`.{known}",
	opening: "No opening of the site is called `{name}`.{known}",
	landmark: "No landmark of the site is called `{name}`.{known}",
	meant: " Did you mean `{nearest}`?",
	known: " Use {known}.",
	noLens: " The plan has no lens yet: add a `lens` cell with this `name`.",
	noOpening: " The site has no openings yet: add one with this `name` under `openings`.",
	noLandmark: " The site has no landmarks yet: add one with this `name` under `landmarks`.",
	change: "Change to {name}",
});

/** What to do where nothing of the kind has a name. */
const NONE_YET = { lens: words.noLens, opening: words.noOpening, landmark: words.noLandmark };

/** How many names are offered when none is near. */
const MOST_OFFERED = 5;

export default rule({
	code: "structure/unknown-reference",
	severity: "error",
	words,
	wrong: { targets: '- name: core\n  aim: galactic-centre\n  lens: long\n  from: "21:30"\n  exposure: 60 s' },
	instead: {
		lens: "name: long\nfocal-length: 24 mm\nsensor: 36 x 24 mm\npixels: 6000 x 4000",
		targets: '- name: core\n  aim: galactic-centre\n  lens: long\n  from: "21:30"\n  exposure: 60 s',
	},
	right: {
		lens: "name: long\nfocal-length: 24 mm\nf-number: 2\nsensor: 36 x 24 mm\npixels: 6000 x 4000",
		targets:
			'- name: core\n  aim: galactic-centre\n  lens: long\n  from: "21:30"\n  exposure: 60 s\n  foreground: true',
	},
	*find({ plan }) {
		const library = isLibrary(plan);
		// Who takes from a library has the lens and the site that it lacks.
		const hasLens = !library || cellsOf(plan, "lens").length > 0;
		const hasSite = !library || cellsOf(plan, "site").length > 0;
		const lenses = cellsOf(plan, "lens").map(({ read }) => read.content?.name ?? "lens");
		const site = firstValue(plan, "site");
		const openings = [
			...(site?.openings ?? []),
			...(site?.obstructions ?? []).filter(({ window }) => window !== undefined),
		].flatMap(({ name }) => name ?? []);
		const landmarks = (site?.landmarks ?? []).flatMap(({ name }) => name ?? []);
		for (const cell of cellsOf(plan, "targets").slice(0, 1)) {
			for (const [index, { lens, opening }] of (cell.read.content ?? []).entries()) {
				if (hasLens) yield* unknown(cell, `${index}.lens`, lens, lenses, "lens");
				if (hasSite) yield* unknown(cell, `${index}.opening`, opening, openings, "opening");
			}
		}
		for (const cell of cellsOf(plan, "log").slice(0, 1)) {
			for (const [index, { lens }] of (cell.read.content ?? []).entries())
				if (hasLens) yield* unknown(cell, `${index}.lens`, lens, lenses, "lens");
		}
		for (const cell of cellsOf(plan, "method"))
			if (hasSite) yield* unknown(cell, "landmark", cell.read.content?.landmark, landmarks, "landmark");
	},
});

function* unknown(
	cell: Cell,
	path: string,
	name: string | undefined,
	known: readonly string[],
	what: "lens" | "opening" | "landmark",
): Iterable<Found> {
	if (name === undefined || known.includes(name)) return;
	const nearest = nearestWord(name, known);
	const hint = nearest
		? words.meant({ nearest })
		: known.length > 0
			? words.known({ known: eitherText([...new Set(known)].map((one) => `\`${one}\``)) })
			: NONE_YET[what]();
	const offered = nearest ? [nearest] : [...new Set(known)].slice(0, MOST_OFFERED);
	yield {
		...at(cell, path),
		message: words[what]({ name, known: [hint] }),
		fixes: offered.flatMap((one) =>
			fix(words.change({ name: one }), nearest !== undefined, replaceValue(cell, path, one)),
		),
	};
}
