import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { examplesOf, insteadOf } from "../../shared/findings/finding.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { told } from "../../shared/text/sentence.ts";
import { checkText, codesOf } from "../plan-text.ts";

/** Characters by which an example one step over a threshold may differ from one that is right: part of a line. */
const NEAR = 40;

describe("rules", () => {
	test("every file of the folders that gives a rule is in the index, under its own code", () => {
		const folder = new URL("../../shared/findings/", import.meta.url);
		const codes = readdirSync(folder, { withFileTypes: true })
			.filter((entry) => entry.isDirectory())
			.flatMap(({ name }) => readdirSync(new URL(`${name}/`, folder)).map((file) => `${name}/${file}`))
			.filter((path) => /^export default /m.test(readFileSync(new URL(path, folder), "utf8")))
			.map((path) => path.replace(/\.ts$/, ""));
		expect(RULES.map(({ code }) => code).sort()).toEqual(codes.sort());
	});

	test("the plan that examples change checks clean", () => {
		expect(checkText(exampleText({}))).toEqual([]);
	});

	describe.each(RULES.map((rule) => [rule.code, rule] as const))("%s", (code, rule) => {
		test("its wrong example has it, within a line, and says something", () => {
			const text = exampleText(rule.wrong);
			const found = checkText(text).filter((finding) => finding.code === code);
			expect(found.length, codesOf(text).join(", ")).toBeGreaterThan(0);
			for (const { from, to, message } of found) {
				expect(to).toBeGreaterThan(from);
				expect(text.slice(from, to)).not.toMatch(/[\r\n]/);
				expect(message).toMatch(/\S.*[.?]$/s);
				expect(message).not.toMatch(/undefined|NaN|Infinity|\[object/);
			}
		});

		test("its right examples do not", () => {
			for (const right of examplesOf(rule.right)) {
				const text = exampleText(right);
				expect(codesOf(text), text).not.toContain(code);
				// What is right in form is right altogether.
				if (code.startsWith("structure/")) expect(codesOf(text), text).toEqual([]);
			}
		});

		test("what its explanation shows instead does not, and is another text", () => {
			const text = exampleText(insteadOf(rule));
			expect(codesOf(text), text).not.toContain(code);
			expect(text).not.toBe(exampleText(rule.wrong));
		});

		test("its explanation says more than its title, in a few sentences", () => {
			const [title, about] = [told(rule.words.title()), told(rule.words.about())];
			expect(about.split(/\s+/).length, about).toBeGreaterThanOrEqual(35);
			expect(about.split(/[.:;!] (?=[A-Z`])/).length, about).toBeGreaterThanOrEqual(2);
			expect(about.toLowerCase()).not.toContain(`${title.toLowerCase()}.`);
			expect(title).not.toMatch(/[.?!]$/);
			for (const { message } of checkText(exampleText(rule.wrong)).filter((finding) => finding.code === code))
				expect(message.toLowerCase()).not.toContain(title.toLowerCase());
		});

		const over = examplesOf(rule.over ?? []);

		if (over.length > 0)
			test("one step from a right example it has it", () => {
				for (const example of over) expect(codesOf(exampleText(example)), exampleText(example)).toContain(code);
				const [right, wrong] = [examplesOf(rule.right), over].map((examples) => examples.map(exampleText));
				for (const text of right ?? [])
					expect(Math.min(...(wrong ?? []).map((one) => apart(one, text)))).toBeLessThan(NEAR);
				for (const text of wrong ?? [])
					expect(Math.min(...(right ?? []).map((one) => apart(one, text)))).toBeLessThan(NEAR);
			});

		test("taking a fix removes it", () => {
			for (const example of [rule.wrong, ...over]) {
				const text = exampleText(example);
				const findings = checkText(text).filter((finding) => finding.code === code);
				for (const { fixes } of findings) {
					for (const { edits, title } of fixes) {
						const fixed = applyEdits(text, edits);
						const left = codesOf(fixed).filter((one) => one === code).length;
						expect(left, `${title}\n${fixed}`).toBeLessThan(findings.length);
					}
				}
			}
		});

		test("the same in a text with CRLF", () => {
			const text = exampleText(rule.wrong);
			expect(codesOf(text.replace(/\n/g, "\r\n"))).toEqual(codesOf(text));
		});
	});
});

/** How many characters of two texts lie between what they begin and what they end with alike, of the longer one. */
function apart(one: string, other: string): number {
	const shorter = Math.min(one.length, other.length);
	let before = 0;
	while (before < shorter && one[before] === other[before]) before++;
	let after = 0;
	while (after < shorter - before && one[one.length - 1 - after] === other[other.length - 1 - after]) after++;
	return Math.max(one.length, other.length) - before - after;
}
