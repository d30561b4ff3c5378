/** The command line. One file a command; this one only joins them. */
import { Command, InvalidArgumentError } from "commander";
import { checkCommand } from "./commands/check.ts";
import { compareCommand } from "./commands/compare.ts";
import { explainCommand } from "./commands/explain.ts";
import { formatCommand } from "./commands/format.ts";
import { locateCommand } from "./commands/locate.ts";
import { lspCommand } from "./commands/lsp.ts";
import { newCommand } from "./commands/new.ts";
import { nightsCommand } from "./commands/nights.ts";
import { showCommand } from "./commands/show.ts";
import { starsCommand } from "./commands/stars.ts";
import { CannotRun } from "./files.node.ts";

declare const LODEBOOK_VERSION: string;

const program = new Command("lodebook")
	.description("Plans a night under the stars with a tracker whose pole is hidden: checks plans, reckons every number in them, finds guide stars.")
	.version(LODEBOOK_VERSION)
	.showHelpAfterError("(lodebook --help shows all commands, lodebook COMMAND --help an example)")
	.exitOverride();

for (const command of [
	checkCommand,
	showCommand,
	starsCommand,
	nightsCommand,
	compareCommand,
	formatCommand,
	newCommand,
	locateCommand,
	explainCommand,
	lspCommand,
]) {
	program.addCommand(command().exitOverride());
}

try {
	await program.parseAsync(process.argv);
} catch (error) {
	process.exitCode = exitStatus(error);
}

/** 0 for help and version; 2 for what could not be run, said on standard error. */
function exitStatus(error: unknown): number {
	if (error instanceof CannotRun || error instanceof InvalidArgumentError) {
		process.stderr.write(`lodebook: ${error.message}\n`);
		return 2;
	}
	const { exitCode, code } = error as { exitCode?: number; code?: string };
	if (typeof code === "string" && code.startsWith("commander.")) return exitCode === 0 ? 0 : 2;
	process.stderr.write(`lodebook: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
	return 2;
}

// A reader that stops early, such as `head`, is no error.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
	if (error.code === "EPIPE") process.exit(process.exitCode ?? 0);
	throw error;
});
