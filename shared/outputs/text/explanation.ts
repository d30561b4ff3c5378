/** The explanation of a finding, on a terminal. */
import { insteadOf, type Rule } from "../../findings/finding.ts";
import { told } from "../../text/sentence.ts";
import type { Environment } from "../output.ts";
import { exampleCells } from "../reference/explanation.ts";
import { severityWord } from "../severity.ts";
import { rows, wrapped } from "./layout.ts";
import { words } from "./words.ts";

export const explanationText = (rule: Rule, paint: Environment["paint"]): string =>
	[
		`${paint(told(rule.words.title()), "bold")}  ${paint(`${rule.code}, ${severityWord(rule.severity)}`, "dim")}\n\n`,
		`${wrapped(told(rule.words.about()))}\n\n`,
		`${paint(told(words.example()), "dim")}\n\n${indented(exampleCells(rule.wrong))}\n`,
		`\n${paint(told(words.instead()), "dim")}\n\n${indented(exampleCells(insteadOf(rule)))}\n`,
	].join("");

const indented = (text: string): string => text.replace(/^(?=.)/gm, "    ");

/** Every rule in a line. */
export const rulesText = (rules: readonly Rule[]): string =>
	rows(
		rules.map(({ code, severity, words: own }) => [code, `${severityWord(severity)}: ${told(own.title())}`]),
		"",
	);
