import { METHOD_KEYS } from "../../cells/method/keys.ts";
import { listText } from "../../notation/spoken.ts";
import { cellsOf } from "../../plan/plan.ts";
import { at, rule } from "../finding.ts";

export default rule({
	code: "structure/key-of-other-kind",
	severity: "warning",
	title: "A key this method does not use",
	about: "The key belongs to another kind of method; it is read and has no effect.",
	wrong: { method: "kind: compass\nguide-star: eta Virginis" },
	right: {},
	*find({ plan }) {
		for (const cell of cellsOf(plan, "method")) {
			const kind = cell.read.content?.kind;
			if (!kind) continue;
			for (const key of Object.keys(cell.read.content ?? {})) {
				const kinds = METHOD_KEYS.get(key);
				if (kinds && !kinds.includes(kind))
					yield {
						...at(cell, key, "key"),
						message: `\`${key}\` has no effect on \`${kind}\`: it belongs to ${listText(kinds)}.`,
					};
			}
		}
	},
});
