/** Runs every rule over an evaluated plan. */

import type { Evaluation } from "../evaluate/evaluate.ts";
import { inText } from "../plan/plan.ts";
import { type Phrase, told } from "../text/sentence.ts";
import type { Finding, Fix, Rule, Severity, ToldFix } from "./finding.ts";
import { RULES } from "./rules.ts";

/** More findings than this say nothing new. */
const MOST_FINDINGS = 500;

const ORDER: Readonly<Record<Severity, number>> = { error: 0, warning: 1, info: 2 };

/** The findings of a plan, by place; at one place the worst first. */
export function check(evaluation: Evaluation): readonly Finding[] {
	const findings: Finding[] = [];
	// A node with an anchor is met once where it stands, and again wherever an alias names it.
	const said = new Set<string>();
	for (const rule of RULES) {
		for (const finding of run(rule, evaluation)) {
			const { code, from, to, message } = finding;
			const same = `${code} ${from} ${to} ${message}`;
			if (said.has(same)) continue;
			said.add(same);
			findings.push(finding);
		}
	}
	findings.sort((a, b) => a.from - b.from || ORDER[a.severity] - ORDER[b.severity] || a.to - b.to);
	return findings.slice(0, MOST_FINDINGS);
}

function* run(rule: Rule, evaluation: Evaluation): Iterable<Finding> {
	const { code } = rule;
	for (const { cell, span, message, fixes = [], severity = rule.severity } of rule.find(evaluation)) {
		const { from, to } = cell ? inText(cell, span) : span;
		yield { code, severity, cell, from, to, message: toldOr(message), fixes: fixes.map(toldFix) };
	}
}

const toldOr = (phrase: Phrase | string): string => (typeof phrase === "string" ? phrase : told(phrase));
const toldFix = (fix: Fix): ToldFix => ({ ...fix, title: toldOr(fix.title) });

/** How many findings there are of each severity. */
export const countBySeverity = (findings: readonly Finding[]): Readonly<Record<Severity, number>> => ({
	error: findings.filter(({ severity }) => severity === "error").length,
	warning: findings.filter(({ severity }) => severity === "warning").length,
	info: findings.filter(({ severity }) => severity === "info").length,
});
