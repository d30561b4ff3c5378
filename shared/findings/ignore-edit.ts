/** The edit that hides a finding by a comment above its line, the reason still to be written. */
import { IGNORE, ignoresOf, lineAt } from "../plan/ignores.ts";
import { type Plan, readPlan } from "../plan/plan.ts";
import { applyEdits } from "../text/edits.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import { cannotBeIgnored, type Edit, type Finding, lineBreakOf } from "./finding.ts";
import { ruleOf } from "./rules.ts";

const words = sentences("findings.ignore", { ignore: "Ignore it on this line (write the reason after the colon)" });

/** Undefined where nothing may hide it, or no comment can stand above its line. */
export function ignoreEdit(
	{ text }: Plan,
	{ code, from }: Finding,
): { readonly title: Phrase; readonly edit: Edit } | undefined {
	const rule = ruleOf(code);
	if (!rule || cannotBeIgnored(rule)) return undefined;
	const line = lineAt(text, from);
	const indent = /^[ ]*/.exec(text.slice(line.from, line.to))?.[0] ?? "";
	const edit = { from: line.from, to: line.from, text: `${indent}# ${IGNORE} ${code}: ${lineBreakOf(text)}` };
	const after = line.from + edit.text.length;
	// Inside a block of text it would be text.
	const hides = ignoresOf(readPlan(applyEdits(text, [edit]))).some(
		(one) => one.code === code && one.line.from === after,
	);
	return hides ? { title: words.ignore(), edit } : undefined;
}
