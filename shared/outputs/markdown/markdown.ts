/** Markdown for a code-review site. */
import type { Output } from "../output.ts";
import { statesMarkdown } from "./comparison.ts";
import { summaryMarkdown } from "./summary.ts";
import { words } from "./words.ts";

export const markdown: Output = {
	name: "markdown",
	title: words.exported(),
	option: "--markdown",
	mediaType: "text/markdown",
	extension: "md",
	of: {
		plan: {
			help: words.ofPlan(),
			make: ({ evaluation, findings }) => summaryMarkdown(evaluation, findings),
		},
		states: {
			help: words.ofStates(),
			make: statesMarkdown,
		},
	},
};
