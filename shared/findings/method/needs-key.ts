import { METHOD_KEYS } from "../../cells/kinds.ts";
import { at, fix, insertKey, rule } from "../finding.ts";
import { starFixes } from "./guide-star-fixes.ts";
import { obstaclesOf } from "./obstacles.ts";

const EXAMPLES: Readonly<Record<string, string>> = {
	body: "Jupiter",
	landmark: "water tower",
	stars: "[Spica, eta Virginis]",
	first: '{ star: Spica, at: "21:10" }',
	second: '{ star: Altair, at: "21:20" }',
};

export default rule({
	code: "method/needs-key",
	severity: "error",
	title: "The method needs one more key",
	about:
		"The method cannot be reckoned without it: a square laser needs its guide star, a bearing from the sky its body, a bearing from a landmark its landmark, a sweep its two stars, a drift test its two test frames.",
	wrong: { method: "kind: square-laser\nlocal-rules-checked: true" },
	right: {},
	*find(evaluation) {
		for (const { cell, method, obstacle } of obstaclesOf(evaluation, "needs-key")) {
			const { key } = obstacle;
			const kind = METHOD_KEYS[key]?.[0] ?? method.method.kind;
			const own = key === "guide-star" ? starFixes(evaluation, cell, method.content) : undefined;
			// A key that is there but cannot be read has a finding of its own.
			if (cell.read.places.has(key)) continue;
			yield {
				...at(cell, "kind"),
				message: `\`${method.method.kind}\` needs \`${key}\`.${own?.words ?? ` For example \`${key}: ${EXAMPLES[key] ?? "…"}\`.`}`,
				fixes: own?.fixes ?? fix(`Add ${key}`, false, insertKey(cell, "", key, EXAMPLES[key] ?? kind)),
			};
		}
	},
});
