/** The outputs as a page, made from their table: what they are made of and with which option of which command. Markdown. */
import { told } from "../../text/sentence.ts";
import type { Materials } from "../output.ts";
import { OUTPUTS } from "../outputs.ts";

/** The command that makes outputs of each material, and what that is. */
const COMMANDS: Readonly<Record<keyof Materials, readonly [command: string, of: string]>> = {
	plan: ["show", "one plan"],
	files: ["check", "plans and folders of plans"],
	states: ["compare", "two plans, two states of one, or two folders of plans"],
};

/** The outputs, a row for each command that has it. */
export function outputReference(): string {
	const rows = OUTPUTS.flatMap(({ name, option, choice, mediaType, extension, of }) =>
		(Object.keys(COMMANDS) as readonly (keyof Materials)[]).flatMap((material) => {
			const help = of[material]?.help;
			if (!help) return [];
			const [command, made] = COMMANDS[material];
			const argument = choice ? ` ${choice.among.join("|")}` : "";
			const typed = `lodebook ${command}${option ? ` ${option}${argument}` : ""}`.replace(/\|/g, "\\|");
			return [`| ${name} | \`${typed}\` | ${made} | ${told(help)} | ${mediaType} | \`.${extension}\` |`];
		}),
	);
	return `<!-- Written by npm run generate: do not edit. -->

# Outputs

| output | command | made of | what it does | media type | file |
|---|---|---|---|---|---|
${rows.join("\n")}
`;
}
