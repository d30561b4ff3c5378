/** The commands and how they end. One file a command; this one only joins them. */
import { Command, InvalidArgumentError } from "commander";
import { EditsRefused } from "../shared/text/edits.ts";
import { told } from "../shared/text/sentence.ts";
import { shownLines } from "../shared/text/shown.ts";
import { TEXTS, TITLES, words } from "./command-line-words.ts";
import { CannotRun, reason } from "./files.node.ts";
import { say } from "./terminal.node.ts";
import { usageError } from "./usage-errors.ts";

declare const LODEBOOK_VERSION: string;

// An answer that could not be written is no answer. A reader that stops early, such as `head`, has what it wanted.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
	if (error.code === "EPIPE") process.exit();
	say(told(words.notWritten({ why: reason(error) })));
	process.exit(2);
});
process.stderr.on("error", ({ code }: NodeJS.ErrnoException) => {
	if (code !== "EPIPE") process.exitCode = 2;
});

const program = new Command("lodebook")
	.description(TEXTS.about)
	.version(LODEBOOK_VERSION, "-V, --version", TEXTS.version)
	.helpOption("-h, --help", TEXTS.help)
	.helpCommand("help [command]", TEXTS.helpOf)
	.configureHelp({ styleTitle: (title) => TITLES[title] ?? title })
	.showHelpAfterError(TEXTS.afterError)
	.configureOutput({
		writeErr: (text) => process.stderr.write(shownLines(text)),
		outputError: (text, write) => write(usageError(text)),
	})
	.exitOverride();

/** Each command's module is loaded when it is the one asked for; all of them for the list of commands. */
const COMMANDS: Readonly<Record<string, () => Promise<() => Command>>> = {
	check: async () => (await import("./commands/check.ts")).checkCommand,
	show: async () => (await import("./commands/show.ts")).showCommand,
	stars: async () => (await import("./commands/stars.ts")).starsCommand,
	evening: async () => (await import("./commands/evening.ts")).eveningCommand,
	nights: async () => (await import("./commands/nights.ts")).nightsCommand,
	compare: async () => (await import("./commands/compare.ts")).compareCommand,
	report: async () => (await import("./commands/report.ts")).reportCommand,
	merge: async () => (await import("./commands/merge.ts")).mergeCommand,
	measure: async () => (await import("./commands/measure.ts")).measureCommand,
	log: async () => (await import("./commands/log.ts")).logCommand,
	format: async () => (await import("./commands/format.ts")).formatCommand,
	new: async () => (await import("./commands/new.ts")).newCommand,
	skyline: async () => (await import("./commands/skyline.ts")).skylineCommand,
	landmarks: async () => (await import("./commands/landmarks.ts")).landmarksCommand,
	locate: async () => (await import("./commands/locate.ts")).locateCommand,
	explain: async () => (await import("./commands/explain.ts")).explainCommand,
	lsp: async () => (await import("./commands/lsp.ts")).lspCommand,
	completions: async () => {
		const { completionsCommand } = await import("./commands/completions.ts");
		return () => completionsCommand(() => withCommands(new Command("lodebook"), Object.keys(COMMANDS)));
	},
};

const [, , asked = ""] = process.argv;
const wanted = Object.hasOwn(COMMANDS, asked) ? [asked] : Object.keys(COMMANDS);
await withCommands(program, wanted);

async function withCommands(onto: Command, names: readonly string[]): Promise<Command> {
	for (const name of names)
		onto.addCommand(
			(await (COMMANDS[name] as () => Promise<() => Command>)())().copyInheritedSettings(onto).exitOverride(),
		);
	return onto;
}

try {
	await program.parseAsync(process.argv);
} catch (error) {
	process.exitCode = exitStatus(error);
}

/** 0 for help and version; 2 for what could not be run, said on standard error. */
function exitStatus(error: unknown): number {
	if (error instanceof CannotRun || error instanceof InvalidArgumentError || error instanceof EditsRefused) {
		say(error.message);
		return 2;
	}
	const { exitCode, code } = error as { exitCode?: number; code?: string };
	if (typeof code === "string" && code.startsWith("commander.")) return exitCode === 0 ? 0 : 2;
	process.stderr.write(`lodebook: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
	return 2;
}
