/** Headings and sentences of Markdown for a code-review site. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("output.markdown", {
	exported: "Markdown",
	ofPlan: "print a summary for a code-review site",
	ofStates: "print Markdown, for a comment on a pull request",
	findingHead: "| line | | finding |",
	valueHead: "| value | |",
	named: "{kind}: {name}",
	valueOf: "{of}: {label}",
	cautions: "Safety",
	notes: "Notes",
	night: "The night",
	compared: "{after} compared with {before}",
	same: "Nothing changed, neither in the plan nor in its values.",
	gained: "New findings",
	lost: "Findings gone",
	changedFindingHead: "| severity | cell | finding |",
	keys: "Keys",
	keyHead: "| cell | key | before | now |",
	windows: "Windows",
	windowHead: "| what | before | now |",
	values: "Values",
	changedValueHead: "| cell | value | of | before | now |",
	never: "never",
	folded: "{title} ({count})",
	coded: "{message} ({code})",
});
