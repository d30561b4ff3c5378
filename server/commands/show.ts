import { Command, Option } from "commander";
import type { Output } from "../../shared/outputs/output.ts";
import { GROUNDS, type Ground } from "../../shared/outputs/page/style.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { readText } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { checkedPlan } from "../library.node.ts";
import { outputOptions } from "../output-options.node.ts";
import { writeOutput } from "../write-file.node.ts";

const words = sentences("command.show", {
	showsEverythingThat:
		"Shows everything that follows from a plan: the pole, the night, the lens, the steps of the alignment with their numbers, the targets.",
	whatPictureDrawn: "what a picture is drawn on",
	writeFileInstead: "write to a file instead of standard output",
});

export function showCommand(outputs?: readonly Output[]): Command {
	const forms = outputOptions("plan", outputs);
	const command = new Command("show").description(told(words.showsEverythingThat())).argument("<file>", "a plan file");
	return forms
		.addTo(command)
		.addOption(
			new Option("--ground <ground>", told(words.whatPictureDrawn())).choices(Object.keys(GROUNDS)).default("light"),
		)
		.option("-o, --out <file>", told(words.writeFileInstead()))
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook show samples/roofless-chapel.lode.yaml\n  lodebook show samples/roofless-chapel.lode.yaml --json -o chapel.json`,
		)
		.action((path: string, options: { readonly out?: string; readonly ground: Ground }) => {
			const asked = forms.asked(options);
			const plan = checkedPlan(path, readText(path));
			write(options.out, asked.text(plan, path, options.ground), path);
		});
}

function write(out: string | undefined, text: string, plan: string): void {
	if (out === undefined) {
		process.stdout.write(text);
		return;
	}
	writeOutput(out, text, plan);
	process.stderr.write(`Written to ${shown(out)}.\n`);
}
