import { listText } from "../../notation/spoken.ts";
import { inText } from "../../plan/plan.ts";
import { fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/unknown-word",
	severity: "error",
	title: "A word that is not one of the few",
	about: "The key takes one of a few words, and this is none of them.",
	wrong: { method: 'kind: squared-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true' },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unknown-word")) {
			const { word, nearest, known } = problem;
			yield {
				cell,
				span: problem,
				message: `\`${word}\` is none of ${listText(known)}.${nearest ? ` Did you mean \`${nearest}\`?` : ""}`,
				fixes: nearest ? fix(`Change to ${nearest}`, true, { ...inText(cell, problem), text: nearest }) : [],
			};
		}
	},
});
