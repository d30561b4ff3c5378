import { Argument, Command } from "commander";
import { RULES } from "../../shared/findings/rules.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { HELP } from "../help-words.ts";

const words = sentences("command.completions", {
	about: "Prints a completion script for a shell.",
	help: "Prints the help of a command",
});

/** Completion scripts for shells, made from the commands themselves. `all`: the program with every command. */
export const completionsCommand = (all: () => Promise<Command>): Command =>
	new Command("completions")
		.description(told(words.about()))
		.addArgument(new Argument("<shell>").choices(["bash", "zsh", "fish"]))
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  eval "$(lodebook completions bash)"\n  lodebook completions fish > ~/.config/fish/completions/lodebook.fish`,
		)
		.action(async (shell: string) => {
			const { commands } = await all();
			const known: Words[] = commands.map((command) => ({
				name: command.name(),
				about: command.description().split(/[.:;]/)[0] ?? "",
				options: command.options.map(({ long, description, argChoices, required, optional }) => ({
					long: long ?? "",
					about: description,
					takes: required || optional,
					values: argChoices ?? [],
				})),
				values: [
					...command.registeredArguments.flatMap(({ argChoices }) => argChoices ?? []),
					// What is explained is a finding's code.
					...(command.name() === "explain" ? RULES.map(({ code }) => code) : []),
				],
			}));
			// The program's own, which it makes by itself.
			known.push({ name: "help", about: told(words.help()), options: [], values: known.map(({ name }) => name) });
			process.stdout.write(
				shell === "fish"
					? fish(known)
					: shell === "zsh"
						? `autoload -U +X bashcompinit && bashcompinit\n${bash(known)}`
						: bash(known),
			);
		});

interface Words {
	readonly name: string;
	readonly about: string;
	readonly options: readonly {
		readonly long: string;
		readonly about: string;
		/** Whether something follows it, and what it may be; a file where that is not said. */
		readonly takes: boolean;
		readonly values: readonly string[];
	}[];
	/** What its argument may be; a file where that is not said. */
	readonly values: readonly string[];
}

function bash(commands: readonly Words[]): string {
	const cases = commands
		.map(
			({ name, options, values }) =>
				`    ${name}) options="${[...options.map(({ long }) => long), "--help"].join(" ")}" values="${values.join(" ")}" ;;`,
		)
		.join("\n");
	const chosen = commands
		.flatMap(({ name, options }) =>
			options.flatMap(({ long, takes, values }) =>
				takes ? [`    "${name} ${long}") chosen="${values.join(" ")}" ;;`] : [],
			),
		)
		.join("\n");
	// A value that is chosen from a list; a file behind an option or for a command that has none.
	return `_lodebook() {
  local word="\${COMP_WORDS[COMP_CWORD]}" before="\${COMP_WORDS[COMP_CWORD-1]}" options="" values="" chosen=none
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "${commands.map(({ name }) => name).join(" ")}" -- "$word"))
    return
  fi
  case "\${COMP_WORDS[1]} $before" in
${chosen}
  esac
  case "\${COMP_WORDS[1]}" in
${cases}
  esac
  if [ "$chosen" != none ]; then values="$chosen"
  elif [[ "$word" == -* ]]; then values="$options"
  fi
  if [ -n "$values" ]; then COMPREPLY=($(compgen -W "$values" -- "$word")); else COMPREPLY=($(compgen -f -- "$word")); fi
}
complete -o filenames -F _lodebook lodebook
`;
}

const quoted = (text: string): string => `'${text.replace(/\\/g, "\\\\").replace(/'/g, "\\'")}'`;

function fish(commands: readonly Words[]): string {
	return commands
		.flatMap(({ name, about, options, values }) => [
			`complete -c lodebook -n __fish_use_subcommand -a ${name} -d ${quoted(about)}`,
			...options.map(
				({ long, about: what, takes, values: choices }) =>
					`complete -c lodebook -n '__fish_seen_subcommand_from ${name}' -l ${long.replace(/^--/, "")} -d ${quoted(what)}${
						choices.length > 0 ? ` -x -a ${quoted(choices.join(" "))}` : takes ? " -r" : ""
					}`,
			),
			...(values.length > 0
				? [`complete -c lodebook -n '__fish_seen_subcommand_from ${name}' -f -a ${quoted(values.join(" "))}`]
				: []),
		])
		.map((line) => `${line}\n`)
		.join("");
}
