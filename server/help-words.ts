/** Words that the help of several commands has. */
import { texts } from "../shared/text/sentence.ts";

export const HELP = texts("command.help", {
	example: "Example:",
	examples: "Examples:",
	exitStatus: "Exit status:",
	json: "print JSON",
});
