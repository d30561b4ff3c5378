import { modelAt } from "../../plan/field-at.ts";
import { type Pick, picked } from "../../plan/pick.ts";
import type { Cell } from "../../plan/plan.ts";
import { cellsOf } from "../../plan/plan.ts";
import { isCometLine } from "../../sky/comet-line.ts";
import { allNames, findBody } from "../../sky/place.ts";
import { findStar, starSpellings } from "../../sky/stars.ts";
import { nearestWord } from "../../text/nearest.ts";
import { sentences } from "../../text/sentence.ts";
import { at, type Found, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("method/unknown-star", {
	title: "Unknown star or planet",
	about: `Lodebook knows stars down to magnitude 6 by proper name (\`Spica\`), Bayer letter (\`eta Virginis\`, \`eta
		Vir\`, \`η Vir\`), Flamsteed number (\`15 Vir\`) or Hipparcos number (\`HIP 60129\`). Other bodies are \`sun\`,
		\`moon\`, the planets and \`galactic-centre\`. Objects are known by number (\`M42\`, \`NGC 7000\`, \`IC 434\`)
		and by common name: all of Messier's, and those of the NGC and IC brighter than magnitude 9 or wider than 10′.
		Constellations are known by name. Nothing can be computed for any other name. Correct the spelling, or use
		another of the star's names.`,
	noStar: "`{name}` is not a star. Name a star here.",
	unknown: "No {what} down to magnitude 6 is called `{name}`.{hint}",
	star: "star",
	body: "star, planet, object or constellation",
	nearest: " Did you mean `{nearest}`?",
	spellings: " Try its proper name, `eta Virginis`, `15 Vir` or `HIP 60129`.",
	change: "Change to {nearest}",
});

export default rule({
	code: "method/unknown-star",
	severity: "error",
	words,
	wrong: { method: 'kind: square-laser\nguide-star: eta Virgin\nat: "20:01"\nlocal-rules-checked: true' },
	instead: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true' },
	right: { method: 'kind: square-laser\nguide-star: η Vir\nat: "20:01"\nlocal-rules-checked: true' },
	*find({ plan }) {
		const cells = [
			...cellsOf(plan, "method"),
			...cellsOf(plan, "targets").slice(0, 1),
			...cellsOf(plan, "log").slice(0, 1),
		];
		for (const cell of cells) yield* unknownIn(cell);
	},
});

/** Every name of a star or a body in a cell, by the model. */
function* unknownIn(cell: Cell): Iterable<Found> {
	for (const { path, found } of picked(cell, unknownAt)) yield* unknown(cell, path, found.name, found.what);
}

const unknownAt: Pick<{ readonly name: string; readonly what: "star" | "body" }> = (kind, path, { source }) => {
	const what = modelAt(kind, path)?.shape.names;
	const name = source?.trim() ?? "";
	// What is wrong with a comet's line is told where it is read.
	return !what || name === "" || isCometLine(name) || (what === "star" ? findStar(name) : findBody(name))
		? undefined
		: { name, what };
};

function* unknown(cell: Cell, path: string, name: string, what: "star" | "body"): Iterable<Found> {
	const called = name.slice(0, 60);
	if (what === "star" && findBody(name)) {
		yield { ...at(cell, path), message: words.noStar({ name: called }) };
		return;
	}
	const nearest = nearestWord(name, what === "star" ? starSpellings() : allNames());
	yield {
		...at(cell, path),
		message: words.unknown({
			what: what === "star" ? words.star() : words.body(),
			name: called,
			hint: nearest ? words.nearest({ nearest }) : words.spellings(),
		}),
		fixes: nearest ? fix(words.change({ nearest }), false, replaceValue(cell, path, nearest)) : [],
	};
}
