/** Headings and sentences of Markdown for a code-review site. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("output.markdown", {
	ofPlan: "print a summary for a code-review site",
	ofStates: "print Markdown, for a comment on a pull request",
	findingHead: "| line | | finding |",
	valueHead: "| figure | |",
	named: "{kind}: {name}",
	valueOf: "{of}: {label}",
	cautions: "Take care",
	align: "Align: {kind}",
	fallback: "Or: {kind}",
	night: "The night",
	compared: "{after} compared with {before}",
	same: "Nothing changed in the plan or in what follows from it.",
	gained: "Findings gained",
	lost: "Findings lost",
	changedFindingHead: "| severity | cell | what |",
	keys: "In the text",
	keyHead: "| cell | key | before | now |",
	windows: "Windows",
	windowHead: "| what | before | now |",
	values: "Figures",
	changedValueHead: "| cell | figure | of | before | now |",
	never: "never",
	folded: "{title} ({count})",
	coded: "{message} ({code})",
});
