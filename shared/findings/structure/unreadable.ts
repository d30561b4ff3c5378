import type { Cell } from "../../plan/plan.ts";
import { asYaml } from "../../text/scalar.ts";
import { sentences } from "../../text/sentence.ts";
import type { Span } from "../../text/span.ts";
import { type Edit, fix, replaceWrong, rule, setKey } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/unreadable", {
	title: "Value cannot be read",
	about: `The value is not written in a form that its key accepts: a quantity without a unit or with the wrong one, or
		a coordinate, bearing, clock time or date in an unknown notation. Lodebook does not guess what was meant.
		Rewrite the value as the error says; a fix is offered where there is a likely reading.`,
	message: "{why}",
	change: "Change to {better}",
});

export default rule({
	code: "structure/unreadable",
	severity: "error",
	words,
	wrong: { lens: "focal-length: 24\nsensor: 36 x 24 mm\npixels: 6000 x 4000" },
	instead: { lens: "focal-length: 24 mm\nsensor: 36 x 24 mm\npixels: 6000 x 4000" },
	right: { lens: "focal-length: 2.4cm\nf-number: f/2\nsensor: full-frame\npixels: 6000 × 4000 px" },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unreadable")) {
			const { why, fix: meant, beside = {} } = problem;
			const better = meant && replaceWrong(cell, problem, meant);
			yield {
				cell,
				span: problem,
				message: words.message({ why }),
				fixes: better
					? fix(words.change({ better: better.text }), false, better, ...besideIt(cell, problem, beside))
					: [],
			};
		}
	},
});

/** Sets the keys beside a value that cannot be read. */
function besideIt(cell: Cell, { from }: Span, values: Readonly<Record<string, string>>): readonly (Edit | undefined)[] {
	const [path = ""] = [...cell.read.places].find(([, { value }]) => value.from === from) ?? [];
	const parent = path.split(".").slice(0, -1).join(".");
	return Object.entries(values).map(([key, value]) => setKey(cell, parent, key, asYaml(value)));
}
