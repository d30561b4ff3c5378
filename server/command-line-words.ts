/** What the command line says beside its commands. Titles and options of the help are the library's, told in our words. */
import { sentences, texts } from "../shared/text/sentence.ts";

export const words = sentences("command-line", {
	notWritten: "the answer cannot be written: {why}",
});

export const TEXTS = texts("command-line", {
	about:
		"Plans a night under the stars with a tracker that cannot see the pole: checks plans, computes every number in them, finds guide stars.",
	afterError: "(lodebook --help shows all commands, lodebook COMMAND --help an example)",
	version: "print the version",
	help: "print this help",
	helpOf: "print the help of a command",
});

/** Titles of the help by those that the library writes. */
export const TITLES: Readonly<Record<string, string>> = Object.fromEntries(
	Object.entries(
		texts("command-line.title", {
			Usage: "Usage:",
			Arguments: "Arguments:",
			Options: "Options:",
			Commands: "Commands:",
		}),
	).map(([title, text]) => [`${title}:`, text]),
);
