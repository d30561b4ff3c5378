import { Command, Option } from "commander";
import type { Output } from "../../shared/outputs/output.ts";
import { GROUNDS, type Ground } from "../../shared/outputs/page/style.ts";
import { shown } from "../../shared/text/shown.ts";
import { readText } from "../files.node.ts";
import { checkedPlan } from "../library.node.ts";
import { outputOptions } from "../output-options.node.ts";
import { writeOutput } from "../write-file.node.ts";

export function showCommand(outputs?: readonly Output[]): Command {
	const forms = outputOptions("plan", outputs);
	const command = new Command("show")
		.description(
			"Shows everything that follows from a plan: the pole, the night, the lens, the steps of the alignment with their numbers, the targets.",
		)
		.argument("<file>", "a plan file");
	return forms
		.addTo(command)
		.addOption(
			new Option("--ground <ground>", "what a picture is drawn on").choices(Object.keys(GROUNDS)).default("light"),
		)
		.option("-o, --out <file>", "write to a file instead of standard output")
		.addHelpText(
			"after",
			"\nExamples:\n  lodebook show samples/roofless-chapel.lode.yaml\n  lodebook show samples/roofless-chapel.lode.yaml --json -o chapel.json",
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
