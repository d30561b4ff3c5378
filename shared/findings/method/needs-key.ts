import { asYaml } from "../../text/scalar.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, insertKey, rule } from "../finding.ts";
import { otherMarks } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/needs-key", {
	title: "The method needs one more key",
	about: `The method cannot be reckoned without it: a square laser needs its guide star, a bearing from the sky its body, a
		bearing from a landmark its landmark, a sweep its two stars, a drift test its two test frames.`,
	needs: "`{kind}` needs `{key}`.{more}",
	example: " For example `{key}: {example}`.",
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
			const example = keys[key]?.example ?? "";
			const others = search?.momentary && search.key === key ? otherMarks(evaluation, cell, method) : undefined;
			yield {
				...at(cell, "kind"),
				message: words.needs({ kind, key, more: others?.say ?? words.example({ key, example }) }),
				fixes: others?.fixes ?? fix(words.add({ key }), false, insertKey(cell, "", key, asYaml(example))),
			};
		}
	},
});
