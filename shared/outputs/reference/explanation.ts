/** The explanation page of a finding, Markdown. */
import type { Example } from "../../findings/finding.ts";
import { ruleOf } from "../../findings/rules.ts";
import { told } from "../../text/sentence.ts";
import { SEVERITIES } from "../severity.ts";

export function explanationMarkdown(code: string): string {
	const rule = ruleOf(code);
	if (!rule) return `# No such finding\n\nNo finding has the code \`${code.slice(0, 80)}\`.\n`;
	return `# ${told(rule.words.title())}\n\n\`${rule.code}\`, ${told(SEVERITIES[rule.severity].explained)}.\n\n${told(rule.words.about())}\n\n## For example\n\n\`\`\`yaml\n${exampleCells(rule.wrong)}\n\`\`\`\n`;
}

/** The cells that an example changes, as they would be typed. */
export function exampleCells(example: Example): string {
	if ("text" in example) return (example.text as string).trimEnd();
	const cells = Object.entries(example).flatMap(([kind, body]) =>
		(Array.isArray(body) ? body : [body]).flatMap((one) =>
			typeof one === "string" ? [`${kind}:\n${one.replace(/^(?=.)/gm, "  ")}`] : [],
		),
	);
	return cells.length > 0 ? cells.join("\n---\n") : `# a plan without its ${Object.keys(example)[0]} cell`;
}
