/** Whatever is offered works: each fix, once applied, and each mark that is suggested. Over the samples, the plans of `tests/evening/` and random ones. */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { evaluateMethod } from "../../shared/cells/method/method.ts";
import { wallClock } from "../../shared/earth/zone.ts";
import { check } from "../../shared/findings/check.ts";
import type { Finding } from "../../shared/findings/finding.ts";
import { newProblem } from "../../shared/findings/new-problems.ts";
import type { MethodContent } from "../../shared/methods/methods.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { evaluateText } from "../plan-text.ts";
import { randomPlan } from "../random-plans.ts";

const COUNT = Number(process.env.LODEBOOK_EVENINGS ?? 300);

const plansIn = (folder: string): readonly (readonly [name: string, text: string])[] =>
	readdirSync(new URL(folder, import.meta.url))
		.filter((file) => file.endsWith(".lode.yaml"))
		.map((file) => [file, readFileSync(new URL(folder + file, import.meta.url), "utf8")] as const);
const PLANS = [
	...plansIn("../../samples/"),
	...plansIn("../evening/"),
	...Array.from({ length: COUNT }, (_, seed) => [`plan ${seed}`, randomPlan(seed)] as const),
];

const findingsOf = (text: string): readonly Finding[] => check(evaluateText(text));
const ofKind = (findings: readonly Finding[], { code, cell }: Finding): number =>
	findings.filter((one) => one.code === code && one.cell?.index === cell?.index).length;

const isOfReading = ({ code }: Finding): boolean => code.startsWith("structure/") || code === "method/unknown-star";

test(`every fix that is offered in ${PLANS.length} plans takes its finding away and brings no error`, () => {
	let fixes = 0;
	const wrong: string[] = [];
	for (const [name, text] of PLANS) {
		const before = findingsOf(text);
		for (const finding of before)
			for (const { title, edits } of finding.fixes) {
				fixes++;
				const after = findingsOf(applyEdits(text, edits));
				if (ofKind(after, finding) >= ofKind(before, finding))
					wrong.push(`${name}: ${finding.code}: “${title}” leaves it`);
				// A word that is put right is read for the first time: what it says may be wrong in turn.
				if (isOfReading(finding)) continue;
				const errors = after.filter(({ severity }) => severity === "error");
				const made = newProblem(errors, before);
				if (made) wrong.push(`${name}: ${finding.code}: “${title}” brings ${made.code}: ${made.message}`);
			}
	}
	expect(wrong).toEqual([]);
	expect(fixes).toBeGreaterThan(COUNT);
}, 300_000);

test("every mark that is suggested works at its time", () => {
	let marks = 0;
	const wrong: string[] = [];
	for (const [name, text] of PLANS) {
		const { methods, tonight } = evaluateText(text);
		for (const { value } of methods) {
			if (!value?.method.search || !tonight) continue;
			for (const { name: mark, keys, at } of value.method.search.find(value.content, tonight).slice(0, 12)) {
				marks++;
				const content = { ...value.content, ...keys, at: wallClock(tonight.zone, at).secondsOfDay } as MethodContent;
				if (!evaluateMethod(content, tonight)?.works) wrong.push(`${name}: ${value.method.kind} on ${mark}`);
			}
		}
	}
	expect(wrong).toEqual([]);
	expect(marks).toBeGreaterThan(COUNT);
}, 120_000);
