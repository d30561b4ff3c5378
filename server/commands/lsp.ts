import { Command } from "commander";
import { serve } from "../serve.node.ts";

export const lspCommand = (): Command =>
	new Command("lsp")
		.description("Runs the language server on standard input and output, for any editor with a language client.")
		.option("--stdio", "use standard input and output (the default, and the only transport)")
		.addHelpText(
			"after",
			"\nExample, in an editor's settings:\n  command: lodebook lsp --stdio\n  files:   *.lode.yaml",
		)
		.action(serve);
