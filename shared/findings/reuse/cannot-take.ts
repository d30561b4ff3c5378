import { CELL_KINDS } from "../../cells/kinds.ts";
import { isList } from "../../notation/list.ts";
import type { ReuseProblem } from "../../plan/reuse.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("reuse/cannot-take", {
	title: "Cell cannot be reused",
	about: `With \`from\` a cell takes its keys, or its entries, from a cell of the same kind in another plan. The path
		must be relative and inside the workspace, the file must exist and contain such a cell, and plans must not refer
		to each other in a circle. Correct the path, or write the cell out here.`,
	notRelative: "Write a relative path inside the workspace, such as `../sites/chapel.lode.yaml`.",
	outside: `This path leads out of the workspace, and nothing outside it is read. Move the other plan inside, or write the
		cell out here.`,
	notFound: "There is no plan at `{from}`, relative to this file. Correct the path.",
	noCell: "`{from}` has no `{kind}` cell{ofKind}. Name another plan, or write the cell out here.",
	ofKind: " of the kind `{kind}`",
	called: " called `{name}`",
	tooMany: `With those taken from \`{from}\` this list has more than {most} entries; the rest are left out. Shorten
		one of the two lists.`,
	cycle: "These plans refer to each other in a circle. Write the cell out in one of them.",
});

const MESSAGES: Readonly<Record<ReuseProblem["type"], (problem: ReuseProblem) => Phrase>> = {
	"not-relative": () => words.notRelative(),
	outside: () => words.outside(),
	"not-found": ({ from }) => words.notFound({ from: from.slice(0, 80) }),
	"no-cell": ({ cell, kind, from }) => {
		const method = cell.read.kind === "method" ? cell.read.content?.kind : undefined;
		const { name } = (cell.read.content ?? {}) as { readonly name?: string };
		const ofKind =
			method !== undefined
				? [words.ofKind({ kind: method })]
				: name !== undefined
					? [words.called({ name: name.slice(0, 80) })]
					: [];
		return words.noCell({ kind, ofKind, from: from.slice(0, 80) });
	},
	cycle: () => words.cycle(),
	"too-many": ({ kind, from }) => {
		const { shape } = CELL_KINDS[kind];
		return words.tooMany({ from: from.slice(0, 80), most: isList(shape) ? shape.max : 0 });
	},
};

export default rule({
	code: "reuse/cannot-take",
	severity: "error",
	words,
	wrong: { site: "from: /etc/passwd" },
	right: { site: "from: ../sites/none.lode.yaml\nlatitude: 32.4123 S\nlongitude: 54.3622 W" },
	over: [
		{ site: "from: ../../sites/none.lode.yaml\nlatitude: 32.4123 S\nlongitude: 54.3622 W" },
		{ site: "from: ../sites/nine.lode.yaml\nlatitude: 32.4123 S\nlongitude: 54.3622 W" },
	],
	*find({ plan }) {
		for (const problem of plan.reuse?.problems ?? [])
			yield { ...at(problem.cell, "from"), message: MESSAGES[problem.type](problem) };
	},
});
