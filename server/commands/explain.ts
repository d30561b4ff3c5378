import { Command } from "commander";
import { RULES, ruleOf } from "../../shared/findings/rules.ts";
import { explanationText, rulesText } from "../../shared/outputs/text/explanation.ts";
import { nearestWord } from "../../shared/text/nearest.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { CannotRun } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { paint } from "../terminal.node.ts";

const words = sentences("command.explain", {
	explainsFindingWhat:
		"Explains a finding: what it means, why it matters, what to do. Without a code it lists them all.",
	codeFindingFor: "the code of a finding, for example method/guide-star-never-near",
	unknown: "no finding has the code {code}; lodebook explain lists all",
	unknownMeant: "no finding has the code {code}; did you mean {nearest}?",
});

export const explainCommand = (): Command =>
	new Command("explain")
		.description(told(words.explainsFindingWhat()))
		.argument("[code]", told(words.codeFindingFor()))
		.addHelpText("after", `\n${HELP.example}\n  lodebook explain method/low-latitude`)
		.action((code: string | undefined) => {
			if (code === undefined) {
				process.stdout.write(rulesText(RULES));
				return;
			}
			const rule = ruleOf(code);
			if (!rule) {
				const nearest = nearestWord(
					code,
					RULES.map((one) => one.code),
				);
				throw new CannotRun(told(nearest ? words.unknownMeant({ code, nearest }) : words.unknown({ code })));
			}
			process.stdout.write(explanationText(rule, paint));
		});
