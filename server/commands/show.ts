import { Command, InvalidArgumentError, Option } from "commander";
import { memberNames, memberPlan, OF_MEMBER } from "../../shared/outputs/member.ts";
import type { CheckedPlan, Output } from "../../shared/outputs/output.ts";
import { GROUNDS, type Ground } from "../../shared/outputs/page/style.ts";
import { listText } from "../../shared/text/list.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, readText } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { checkedPlan } from "../library.node.ts";
import { outputOptions } from "../output-options.node.ts";
import { writeOutput } from "../write-file.node.ts";

const words = sentences("command.show", {
	showsEverythingThat:
		"Shows everything that follows from a plan: the pole, the night, the lens, the steps of the alignment with their numbers, the targets.",
	whatPictureDrawn: "background of the picture",
	writeFileInstead: "write to a file instead of standard output",
	ofMember: "of a group: the card or the calendar of one member",
	onlyCards: "--member goes with --card or with --calendar.",
	notAGroup: "{path} is not the plan of a group",
	noMember: "{path} has no member called {name}; it has {names}",
	noKit: "{path}: nothing can be made for {name}; lodebook check says what is wrong",
});

export function showCommand(outputs?: readonly Output[]): Command {
	const forms = outputOptions("plan", outputs);
	const command = new Command("show").description(told(words.showsEverythingThat())).argument("<file>", "a plan file");
	return forms
		.addTo(command)
		.addOption(
			new Option("--ground <ground>", told(words.whatPictureDrawn())).choices(Object.keys(GROUNDS)).default("light"),
		)
		.option("--member <name>", told(words.ofMember()))
		.option("-o, --out <file>", told(words.writeFileInstead()))
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook show samples/roofless-chapel.lode.yaml\n  lodebook show samples/roofless-chapel.lode.yaml --json -o chapel.json`,
		)
		.action((path: string, options: Options) => {
			const asked = forms.asked(options);
			const { member } = options;
			if (member !== undefined && !OF_MEMBER.includes(asked.name))
				throw new InvalidArgumentError(told(words.onlyCards()));
			const whole = checkedPlan(path, readText(path));
			const plan = member === undefined ? whole : planOf(member, whole);
			write(options.out, asked.text(plan, path, options.ground), path);
		});
}

interface Options {
	readonly out?: string;
	readonly member?: string;
	readonly ground: Ground;
}

/** What is asked for of one of a group. */
function planOf(name: string, group: CheckedPlan): CheckedPlan {
	const { path } = group;
	const names = memberNames(group);
	if (names.length === 0) throw new CannotRun(told(words.notAGroup({ path })));
	if (!names.includes(name)) throw new CannotRun(told(words.noMember({ path, name, names: listText(names) })));
	const plan = memberPlan(group, names.indexOf(name));
	if (!plan) throw new CannotRun(told(words.noKit({ path, name })));
	return plan;
}

function write(out: string | undefined, text: string, plan: string): void {
	if (out === undefined) {
		process.stdout.write(text);
		return;
	}
	writeOutput(out, text, plan);
	process.stderr.write(`Written to ${shown(out)}.\n`);
}
