/** Runs every rule over a reckoned plan. */
import { inText } from "../plan/plan.ts";
import type { Reckoning } from "../reckon.ts";
import type { Finding, Rule, Severity } from "./finding.ts";
import { RULES } from "./rules.ts";

/** More findings than this say nothing new. */
const MOST_FINDINGS = 500;

const ORDER: Readonly<Record<Severity, number>> = { error: 0, warning: 1, info: 2 };

/** The findings of a plan, by place; at one place the worst first. */
export function check(reckoning: Reckoning): readonly Finding[] {
	const findings: Finding[] = [];
	for (const rule of RULES) for (const finding of run(rule, reckoning)) findings.push(finding);
	findings.sort((a, b) => a.from - b.from || ORDER[a.severity] - ORDER[b.severity] || a.to - b.to);
	return findings.slice(0, MOST_FINDINGS);
}

function* run(rule: Rule, reckoning: Reckoning): Iterable<Finding> {
	const { code } = rule;
	for (const { cell, span, message, fixes = [], severity = rule.severity } of rule.find(reckoning)) {
		const { from, to } = cell ? inText(cell, span) : span;
		yield { code, severity, cell, from, to, message, fixes };
	}
}

/** How many findings there are of each severity. */
export const countBySeverity = (findings: readonly Finding[]): Readonly<Record<Severity, number>> => ({
	error: findings.filter(({ severity }) => severity === "error").length,
	warning: findings.filter(({ severity }) => severity === "warning").length,
	info: findings.filter(({ severity }) => severity === "info").length,
});
