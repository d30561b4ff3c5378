/** What the command line's library says of a call that it does not understand, in our words. */
import { type Phrase, sentences, told } from "../shared/text/sentence.ts";

const words = sentences("command-line.usage", {
	missing: "{name} is missing.",
	unknownOption: "There is no option {option}.",
	unknownCommand: "There is no command {command}.",
	noValue: "{option} needs a value.",
	required: "{option} is needed.",
	excludes: "{one} and {other} exclude each other.",
	notAllowed: "{option} cannot be {value}. Use one of: {allowed}.",
	invalid: "{option} cannot be {value}. {why}",
	invalidArgument: "{name} cannot be {value}. {why}",
	tooMany: "{command} takes {expected}, not {given}.",
	noArgument: "no argument",
	oneArgument: "1 argument",
	arguments: "{count} arguments",
	meant: " Did you mean {name}?",
});

/** Each form of the library's messages, and what is said instead. */
const FORMS: readonly (readonly [RegExp, (...parts: string[]) => Phrase])[] = [
	[/^missing required argument '(.*)'$/, (name) => words.missing({ name })],
	[/^unknown option '(.*)'$/, (option) => words.unknownOption({ option })],
	[/^unknown command '(.*)'$/, (command) => words.unknownCommand({ command })],
	[/^option '(.*)' argument missing$/, (option) => words.noValue({ option })],
	[/^required option '(.*)' not specified$/, (option) => words.required({ option })],
	[/^option '(.*)' cannot be used with option '(.*)'$/, (one, other) => words.excludes({ one, other })],
	[
		/^option '(.*)' argument '(.*)' is invalid\. Allowed choices are (.*)\.$/s,
		(option, value, allowed) => words.notAllowed({ option, value, allowed }),
	],
	[
		/^option '(.*?)' argument '(.*)' is invalid\. (.*)$/s,
		(option, value, why) => words.invalid({ option, value, why }),
	],
	[
		/^command-argument value '(.*)' is invalid for argument '(.*?)'\. (.*)$/s,
		(value, name, why) => words.invalidArgument({ name, value, why }),
	],
	[
		/^too many arguments(?: for '(.*)')?\. Expected (\d+) arguments? but got (\d+)\.$/,
		(command = "lodebook", expected, given) =>
			words.tooMany({
				command,
				expected:
					expected === "0"
						? words.noArgument()
						: expected === "1"
							? words.oneArgument()
							: words.arguments({ count: expected }),
				given,
			}),
	],
];

/** The same message as the house would say it; one of a form that is not known stays as it is. */
export function usageError(message: string): string {
	const [, text = "", meant] = /^error: (.*?)(?:\n\(Did you mean (?:one of )?(.*)\?\))?\n*$/s.exec(message) ?? [];
	for (const [form, say] of FORMS) {
		const parts = form.exec(text);
		if (parts) return `${told(say(...parts.slice(1)))}${meant ? told(words.meant({ name: meant })) : ""}\n`;
	}
	return message;
}
