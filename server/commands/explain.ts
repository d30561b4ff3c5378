import { Command } from "commander";
import type { Rule } from "../../shared/findings/finding.ts";
import { RULES, ruleOf } from "../../shared/findings/rules.ts";
import { exampleCells } from "../../shared/outputs/reference/explanation.ts";
import { nearestWord } from "../../shared/text/nearest.ts";
import { told } from "../../shared/text/sentence.ts";
import { CannotRun } from "../files.node.ts";
import { paint, rows } from "../terminal.node.ts";

export const explainCommand = (): Command =>
	new Command("explain")
		.description("Explains a finding: what it means, why it matters, what to do. Without a code it lists all.")
		.argument("[code]", "for example method/guide-star-never-near")
		.addHelpText("after", "\nExample:\n  lodebook explain method/low-latitude")
		.action((code: string | undefined) => {
			if (code === undefined) {
				process.stdout.write(
					rows(
						RULES.map((rule) => [rule.code, `${rule.severity}: ${told(rule.words.title())}`]),
						"",
					),
				);
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
			process.stdout.write(explanation(rule));
		});

function explanation(rule: Rule): string {
	return [
		`${paint(told(rule.words.title()), "bold")}  ${paint(`${rule.code}, ${rule.severity}`, "dim")}\n\n`,
		`${wrapped(told(rule.words.about()))}\n\n`,
		`${paint("For example", "dim")}\n\n${indented(exampleCells(rule.wrong))}\n`,
	].join("");
}

const indented = (text: string): string => text.replace(/^(?=.)/gm, "    ");

function wrapped(text: string, width = 96): string {
	const lines: string[] = [];
	let line = "";
	for (const word of text.split(/\s+/)) {
		if (line !== "" && line.length + word.length + 1 > width) {
			lines.push(line);
			line = word;
		} else line = line === "" ? word : `${line} ${word}`;
	}
	return [...lines, line].join("\n");
}
