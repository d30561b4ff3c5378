/** Runs every rule over an evaluated plan. */

import type { CellKindName } from "../cells/kinds.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import { KeptBy, lazily } from "../memory/memory.ts";
import { type Ignore, ignoresOf, lineAt } from "../plan/ignores.ts";
import { firstValue, inText, isGroup, isLibrary, type Plan } from "../plan/plan.ts";
import { type Phrase, told } from "../text/sentence.ts";
import { findEachTarget } from "./each-target.ts";
import { cannotBeIgnored, type Finding, type Found, type Others, type Severity, type ToldFix } from "./finding.ts";
import { RULES } from "./rules.ts";

/** More findings than this say nothing new. */
const MOST_FINDINGS = 500;

const ORDER: Readonly<Record<Severity, number>> = { error: 0, warning: 1, info: 2 };

/** What is weighed against each other in an evening. */
const OF_AN_EVENING = [
	"site",
	"night",
	"lens",
	"tracker",
	"method",
	"targets",
] as const satisfies readonly CellKindName[];

const OF_PLANS = RULES.filter(({ each }) => each === undefined);
const CODES = RULES.map(({ code }) => code);
const FIXED = RULES.filter(cannotBeIgnored).map(({ code }) => code);
const OF_TARGETS = RULES.filter(({ each }) => each === "target");
/** The place of each rule in their index: which comes first of findings at one place. */
const PLACES = new Map(RULES.map(({ code }, place) => [code, place]));

/** The findings of a plan, by place; at one place the worst first. */
export function check(evaluation: Evaluation): readonly Finding[] {
	const steps = checking(evaluation);
	for (;;) {
		const step = steps.next();
		if (step.done) return step.value;
	}
}

/** The same in small steps, so that something else can be done in between. */
export function* checking(evaluation: Evaluation): Generator<void, readonly Finding[]> {
	const findings: Finding[] = [];
	const settled = severities(evaluation.plan);
	// A node with an anchor is met once where it stands, and again wherever an alias names it.
	const said = new Set<string>();
	const add = (as: Finding): void => {
		const severity = settled.get(as.code) ?? as.severity;
		if (severity === "off") return;
		const one = severity === as.severity ? as : toldAs(as, severity);
		const same = `${one.code} ${one.from} ${one.to} ${one.message}`;
		if (said.has(same)) return;
		said.add(same);
		if (!hides(one)) findings.push(one);
	};
	const { hides, used } = hiding(evaluation.plan);
	const partial = isPartial(evaluation.plan);
	for (const { code, severity, whole, find } of OF_PLANS) {
		if (partial && whole) continue;
		for (const found of find(evaluation)) add(finding(code, found.severity ?? severity, found));
		yield;
	}
	// Each further site of a library as what it is: of all that is found with it in the first one's place, what is in it.
	for (const { cell, evaluation: own } of evaluation.further)
		for (const { code, severity, whole, find } of OF_PLANS) {
			if (whole) continue;
			for (const found of find(own)) if (found.cell === cell) add(finding(code, found.severity ?? severity, found));
			yield;
		}
	for (const ofTarget of findEachTarget(evaluation, OF_TARGETS)) {
		for (const found of ofTarget)
			if (!partial || !found.rule.whole) add(finding(found.rule.code, found.severity ?? found.rule.severity, found));
		yield;
	}
	const others: Others = { codes: CODES, fixed: FIXED, used, told: () => findings, check };
	for (const { code, severity, after } of RULES)
		for (const found of after?.(evaluation, others) ?? []) add(finding(code, found.severity ?? severity, found));
	findings.sort(
		(a, b) => a.from - b.from || ORDER[a.severity] - ORDER[b.severity] || a.to - b.to || placeOf(a) - placeOf(b),
	);
	return findings.slice(0, MOST_FINDINGS);
}

/** What the settings tell findings as. */
const TOLD_AS = { off: "off", note: "info", warning: "warning", error: "error" } as const;
const AS_THEY_ARE: ReadonlyMap<string, Severity | "off"> = new Map();

function severities({ settings }: Plan): ReadonlyMap<string, Severity | "off"> {
	if (!settings?.findings) return AS_THEY_ARE;
	return new Map(
		settings.findings.flatMap(({ code, severity }) =>
			code === undefined || severity === undefined || FIXED.includes(code) ? [] : [[code, TOLD_AS[severity]] as const],
		),
	);
}

/** The same finding as another severity; its fixes are made when they are asked for, as before. */
const toldAs = (one: Finding, severity: Severity): Finding => ({
	...one,
	severity,
	get fixes() {
		return one.fixes;
	},
});

/** What comments of a plan hide, and which of them have hidden something so far. */
function hiding(plan: Plan): { readonly hides: (finding: Finding) => boolean; readonly used: ReadonlySet<Ignore> } {
	const used = new Set<Ignore>();
	const ignores = ignoresOf(plan);
	if (ignores.length === 0) return { hides: () => false, used };
	const byPlace = new Map<string, Ignore[]>();
	for (const one of ignores) {
		const place = `${one.line.from} ${one.code}`;
		byPlace.set(place, [...(byPlace.get(place) ?? []), one]);
	}
	return {
		hides({ code, from }) {
			if (FIXED.includes(code)) return false;
			const found = byPlace.get(`${lineAt(plan.text, from).from} ${code}`) ?? [];
			for (const one of found) used.add(one);
			return found.length > 0;
		},
		used,
	};
}

/** Whether a file is a library without all that makes an evening. */
const isPartial = (plan: Plan): boolean =>
	(isLibrary(plan) || isGroup(plan)) && OF_AN_EVENING.some((kind) => !firstValue(plan, kind));

const placeOf = ({ code }: Finding): number => PLACES.get(code) ?? 0;

/** A message that is remembered is told once. */
const texts = new KeptBy<Phrase, string>();

function finding(code: string, severity: Severity, { cell, span, message, fixes = [], concerns }: Found): Finding {
	const { from, to } = cell ? inText(cell, span) : span;
	const toldFixes = lazily(() =>
		(typeof fixes === "function" ? fixes() : fixes).map((fix): ToldFix => ({ ...fix, title: told(fix.title) })),
	);
	return {
		code,
		severity,
		cell,
		from,
		to,
		message: texts.of(message, told),
		concerns,
		get fixes() {
			return toldFixes();
		},
	};
}

/** How many findings there are of each severity. */
export const countBySeverity = (
	findings: readonly Pick<Finding, "severity">[],
): Readonly<Record<Severity, number>> => ({
	error: findings.filter(({ severity }) => severity === "error").length,
	warning: findings.filter(({ severity }) => severity === "warning").length,
	info: findings.filter(({ severity }) => severity === "info").length,
});
