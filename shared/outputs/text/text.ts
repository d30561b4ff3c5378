/** Text for a terminal: what a command says when it is asked for nothing else. */
import type { Output } from "../output.ts";
import { comparisonText } from "./comparison.ts";
import { findingsText } from "./findings.ts";
import { planText } from "./plan.ts";
import { words } from "./words.ts";

export const text: Output = {
	name: "text",
	title: words.exported(),
	mediaType: "text/plain",
	extension: "txt",
	of: {
		plan: { help: words.help(), make: planText },
		files: { help: words.help(), make: findingsText },
		states: { help: words.help(), make: comparisonText },
	},
};
