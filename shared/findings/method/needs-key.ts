import { nightFor, proposedBy } from "../../evaluate/proposals.ts";
import type { Cell } from "../../plan/plan.ts";
import { type Given, written } from "../../text/scalar.ts";
import { sentences } from "../../text/sentence.ts";
import { at, type Edit, fix, insertKey, rule } from "../finding.ts";
import { otherMarks } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/needs-key", {
	title: "Method incomplete",
	about: `The method cannot be computed without this key: a right-angle laser needs a guide star, a bearing from the sky a
		star or planet, a bearing from a landmark the landmark, a sweep two stars, and a drift test two test frames. The
		message and the fix offer a value that works tonight where there is one.`,
	needs: "`{kind}` needs `{key}`.{more}",
	example: " Add it, for example `{key}: {example}`.",
	add: "Add {key}",
});

export default rule({
	code: "method/needs-key",
	severity: "error",
	words,
	wrong: { method: "kind: square-laser\nlocal-rules-checked: true" },
	right: { method: "kind: square-laser\nguide-star: eta Virginis\nlocal-rules-checked: true" },
	*find(evaluation) {
		for (const { cell, method, obstacle } of obstaclesOf(evaluation, "needs-key")) {
			const { key } = obstacle;
			// A key that is there but cannot be read has a finding of its own.
			if (cell.read.places.has(key)) continue;
			const { kind, keys, search } = method.method;
			const others = search?.momentary && search.key === key ? otherMarks(evaluation, cell, method) : undefined;
			const tonight = nightFor(evaluation, method.method);
			const [proposed] = tonight ? proposedBy(method.method, tonight, method.content) : [];
			const meant = proposed && Object.hasOwn(proposed.keys, key) ? proposed.keys : undefined;
			const value = meant?.[key];
			const example = value === undefined ? (keys[key]?.example ?? "") : written(value);
			yield {
				...at(cell, "kind"),
				message: words.needs({ kind, key, more: others?.say ?? words.example({ key, example }) }),
				fixes: others?.fixes ?? (meant ? fix(words.add({ key }), false, ...missingOf(cell, meant)) : []),
			};
		}
	},
});

/** Writes those of the keys that the cell has not. */
const missingOf = (cell: Cell, keys: Readonly<Record<string, Given>>): readonly (Edit | undefined)[] =>
	Object.entries(keys)
		.filter(([key]) => !cell.read.places.has(key))
		.map(([key, value]) => insertKey(cell, "", key, value));
