import { METHOD_KEYS } from "../../cells/method/keys.ts";
import { methodOf, methodWithKind, nameOfCell } from "../../methods/methods.ts";
import { cellsOf } from "../../plan/plan.ts";
import { listText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule } from "../finding.ts";
import { removal } from "../remove-key.ts";

const words = sentences("structure/key-of-other-kind", {
	title: "Key of another method",
	about: `Every method has keys of its own, such as the guide star of the right-angle laser. A key that belongs to
		another method is ignored: it changes nothing in the plan's numbers. Delete the key, or change \`kind\` to the
		method that uses it.`,
	message: "The {method} does not use `{key}`, which belongs to {kinds}. Delete it or change `kind`.",
	delete: "Delete {key}",
});

export default rule({
	code: "structure/key-of-other-kind",
	severity: "warning",
	words,
	wrong: { method: "kind: compass\nguide-star: eta Virginis" },
	right: {
		method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true\nreach: 1°',
	},
	*find({ plan }) {
		for (const cell of cellsOf(plan, "method")) {
			const kind = cell.read.content?.kind;
			if (!kind) continue;
			for (const key of Object.keys(cell.read.content ?? {})) {
				const kinds = METHOD_KEYS.get(key);
				if (kinds && !kinds.includes(kind))
					yield {
						...at(cell, key, "key"),
						message: words.message({
							key,
							method: nameOfCell(cell.read.content),
							kinds: listText(kinds.map((one) => methodWithKind(methodOf(one)))),
						}),
						fixes: fix(words.delete({ key }), false, removal(cell, key)),
					};
			}
		}
	},
});
