import { Argument, Command } from "commander";

/** Completion scripts for shells, made from the commands themselves. `all`: the program with every command. */
export const completionsCommand = (all: () => Promise<Command>): Command =>
	new Command("completions")
		.description("Prints a completion script for a shell.")
		.addArgument(new Argument("<shell>").choices(["bash", "zsh", "fish"]))
		.addHelpText(
			"after",
			'\nExamples:\n  eval "$(lodebook completions bash)"\n  lodebook completions fish > ~/.config/fish/completions/lodebook.fish',
		)
		.action(async (shell: string) => {
			const { commands } = await all();
			const words = commands.map((command) => ({
				name: command.name(),
				about: command.description().split(/[.:;]/)[0] ?? "",
				options: command.options.map(({ long, description }) => ({ long: long ?? "", about: description })),
			}));
			process.stdout.write(
				shell === "fish"
					? fish(words)
					: shell === "zsh"
						? `autoload -U +X bashcompinit && bashcompinit\n${bash(words)}`
						: bash(words),
			);
		});

interface Words {
	readonly name: string;
	readonly about: string;
	readonly options: readonly { readonly long: string; readonly about: string }[];
}

function bash(commands: readonly Words[]): string {
	const cases = commands
		.map(({ name, options }) => `    ${name}) options="${[...options.map(({ long }) => long), "--help"].join(" ")}" ;;`)
		.join("\n");
	return `_lodebook() {
  local word="\${COMP_WORDS[COMP_CWORD]}" options=""
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "${commands.map(({ name }) => name).join(" ")} help" -- "$word"))
    return
  fi
  case "\${COMP_WORDS[1]}" in
${cases}
  esac
  if [[ "$word" == -* ]]; then COMPREPLY=($(compgen -W "$options" -- "$word")); else COMPREPLY=($(compgen -f -- "$word")); fi
}
complete -o filenames -F _lodebook lodebook
`;
}

const quoted = (text: string): string => `'${text.replace(/\\/g, "\\\\").replace(/'/g, "\\'")}'`;

function fish(commands: readonly Words[]): string {
	return commands
		.flatMap(({ name, about, options }) => [
			`complete -c lodebook -n __fish_use_subcommand -a ${name} -d ${quoted(about)}`,
			...options.map(
				({ long, about: what }) =>
					`complete -c lodebook -n '__fish_seen_subcommand_from ${name}' -l ${long.replace(/^--/, "")} -d ${quoted(what)}`,
			),
		])
		.map((line) => `${line}\n`)
		.join("");
}
