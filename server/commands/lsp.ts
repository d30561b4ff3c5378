import { createRequire } from "node:module";
import { Command } from "commander";

export const lspCommand = (): Command =>
	new Command("lsp")
		.description("Runs the language server on standard input and output, for any editor with a language client.")
		.option("--stdio", "speak over standard input and output (the only way, and the default)")
		.addHelpText("after", "\nExample, in an editor's settings:\n  command: lodebook lsp --stdio\n  files:   *.lode.yaml")
		.action(() => {
			// The extension's own server, one file beside this one: quicker to load than many small ones.
			if (!process.argv.includes("--stdio")) process.argv.push("--stdio");
			createRequire(import.meta.url)("./server.node.cjs");
		});
