/** The explanation of a finding, Markdown: what it means, an example that has it, and what one would write instead. */
import { CELL_KIND_NAMES } from "../../cells/kinds.ts";
import { exampleText } from "../../findings/example-plan.ts";
import { type Example, insteadOf, type Rule } from "../../findings/finding.ts";
import { ruleOf } from "../../findings/rules.ts";
import { ALL_METHODS } from "../../methods/methods.ts";
import { listText } from "../../text/list.ts";
import { sentences, told } from "../../text/sentence.ts";
import { SEVERITIES } from "../severity.ts";

const words = sentences("output.explanation", {
	unknown: "Unknown finding",
	noSuch: "No finding has the code `{code}`.",
	line: "`{code}`, {severity}",
	example: "For example",
	instead: "Instead",
	without: "# A plan without its {kind} cell.",
	see: "See {links}.",
});

/** As a page of its own. */
export function explanationMarkdown(code: string): string {
	const rule = ruleOf(code);
	return rule
		? explained(rule, "#")
		: `# ${told(words.unknown())}\n\n${told(words.noSuch({ code: code.slice(0, 80) }))}\n`;
}

/** What a finding means, why it matters and what to do: the first part of its explanation. */
export const meaningOf = (code: string): string => {
	const rule = ruleOf(code);
	return rule ? told(rule.words.about()) : "";
};

/** As a part of a longer page, under a heading of its own, with links to other pages of the reference. */
export const explanationSection = (rule: Rule, heading: string): string => explained(rule, heading, linksOf(rule));

function explained(rule: Rule, heading: string, links: readonly string[] = []): string {
	const severity = SEVERITIES[rule.severity].explained;
	return [
		`${heading} ${told(rule.words.title())}`,
		told(words.line({ code: rule.code, severity })),
		told(rule.words.about()),
		...(links.length > 0 ? [told(words.see({ links: listText(links) }))] : []),
		`${heading}# ${told(words.example())}`,
		yaml(rule.wrong),
		`${heading}# ${told(words.instead())}`,
		`${yaml(insteadOf(rule))}\n`,
	].join("\n\n");
}

const yaml = (example: Example): string => `\`\`\`yaml\n${exampleCells(example)}\n\`\`\``;

/** The cells that an example changes, as they would be typed. */
export function exampleCells(example: Example): string {
	if ("text" in example) return (example.text as string).trimEnd();
	const cells = Object.entries(example).flatMap(([kind, body]) =>
		(Array.isArray(body) ? body : [body]).flatMap((one) =>
			typeof one === "string" ? [`${kind}:\n${one.replace(/^(?=.)/gm, "  ")}`] : [],
		),
	);
	return cells.length > 0 ? cells.join("\n---\n") : told(words.without({ kind: Object.keys(example)[0] ?? "" }));
}

/** The methods and the kinds of cells that the example is about, where they are more to the finding than its example. */
function linksOf({ code, wrong }: Rule): readonly string[] {
	if (/^(?:structure|reuse)\//.test(code) || "text" in wrong) return [];
	const text = code.startsWith("method/") ? exampleText(wrong) : exampleCells(wrong);
	const methods = ALL_METHODS.filter(({ kind }) => new RegExp(`^ {2}kind: ${kind}$`, "m").test(text));
	const cells = CELL_KIND_NAMES.filter((kind) => Object.hasOwn(wrong, kind));
	return [
		...methods.map(({ kind }) => `[\`${kind}\`](methods.md#${kind})`),
		...cells.map((kind) => `[\`${kind}\`](format.md#${kind})`),
	];
}
