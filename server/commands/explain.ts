import { Command } from "commander";
import { RULES, ruleOf } from "../../shared/findings/rules.ts";
import { explanationText, rulesText } from "../../shared/outputs/text/explanation.ts";
import { nearestWord } from "../../shared/text/nearest.ts";
import { CannotRun } from "../files.node.ts";
import { paint } from "../terminal.node.ts";

export const explainCommand = (): Command =>
	new Command("explain")
		.description("Explains a finding: what it means, why it matters, what to do. Without a code it lists them all.")
		.argument("[code]", "the code of a finding, for example method/guide-star-never-near")
		.addHelpText("after", "\nExample:\n  lodebook explain method/low-latitude")
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
				throw new CannotRun(
					`no finding has the code ${code}${nearest ? `; did you mean ${nearest}?` : "; lodebook explain lists all"}`,
				);
			}
			process.stdout.write(explanationText(rule, paint));
		});
