/** What a cell's part of the page says. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("output.notebook", {
	values: "Values",
	cautions: "Safety",
	finding: "{word}: {message} [{code}]",
	findingWord: "{word}:",
	value: "{label}: {text}",
});
