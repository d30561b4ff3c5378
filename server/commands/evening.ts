import { Command, Option } from "commander";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { writeEvening } from "../../shared/findings/evening-edits.ts";
import { answerText } from "../../shared/outputs/json/json.ts";
import { eveningRecord } from "../../shared/outputs/json/plan.ts";
import { eveningText } from "../../shared/outputs/text/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, readPlanFile } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan } from "../library.node.ts";
import { paint } from "../terminal.node.ts";
import { replaceFile } from "../write-file.node.ts";

const words = sentences("command.evening", {
	showsEveningOrder:
		"Shows the evening in order: each step with its time, how late it may begin, the fallbacks, and what can be done when the alignment is lost.",
	writeTimesThat:
		"write the computed times into the plan; nothing is written if that would cause a new error or warning",
	timesStepsWere: "{path}: the times of {count} steps were written.",
	thereNoEvening: "{path}: the evening cannot be computed; lodebook check says what is missing",
});

export const eveningCommand = (): Command =>
	new Command("evening")
		.description(told(words.showsEveningOrder()))
		.argument("<file>", "a plan file")
		.option("--json", HELP.json)
		.addOption(new Option("--write", told(words.writeTimesThat())).conflicts("json"))
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook evening samples/roofless-chapel.lode.yaml\n  lodebook evening samples/roofless-chapel.lode.yaml --write`,
		)
		.action((path: string, options: { readonly json?: boolean; readonly write?: boolean }) => {
			const file = readPlanFile(path);
			const evaluation = evaluate(joinedPlan(path, file.text));
			if (options.write) {
				const written = writeEvening(evaluation, (text) => evaluate(joinedPlan(path, text)));
				if (!written.ok) throw new CannotRun(`${path}: ${told(written.why)}`);
				replaceFile(file, applyEdits(file.text, written.edits));
				process.stderr.write(`${told(words.timesStepsWere({ path: shown(path), count: written.edits.length }))}\n`);
			} else if (options.json) process.stdout.write(answerText(eveningRecord(evaluation)));
			else {
				const lines = eveningText(evaluation, paint);
				if (lines.length === 0) throw new CannotRun(told(words.thereNoEvening({ path })));
				process.stdout.write(lines.join("").replace(/^\n/, ""));
			}
		});
