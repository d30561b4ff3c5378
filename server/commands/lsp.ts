import { Command } from "commander";
import { sentences, told } from "../../shared/text/sentence.ts";
import { serve } from "../serve.node.ts";

const words = sentences("command.lsp", {
	more: "Example, in an editor's settings:",
	runsLanguageServer: "Runs the language server on standard input and output, for any editor with a language client.",
	useStandardInput: "use standard input and output (the default, and the only transport)",
});

export const lspCommand = (): Command =>
	new Command("lsp")
		.description(told(words.runsLanguageServer()))
		.option("--stdio", told(words.useStandardInput()))
		.addHelpText("after", `\n${told(words.more())}\n  command: lodebook lsp --stdio\n  files:   *.lode.yaml`)
		.action(serve);
