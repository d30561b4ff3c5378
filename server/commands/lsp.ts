import { Command } from "commander";
import { serve } from "../serve.node.ts";

export const lspCommand = (): Command =>
	new Command("lsp")
		.description("Runs the language server on standard input and output, for any editor with a language client.")
		.option("--stdio", "speak over standard input and output (the only way, and the default)")
		.addHelpText(
			"after",
			"\nExample, in an editor's settings:\n  command: lodebook lsp --stdio\n  files:   *.lode.yaml",
		)
		.action(serve);
