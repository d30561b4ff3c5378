import { readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { checkText, codesOf } from "../plan-text.ts";

describe("rules", () => {
	test("every file of the folders is in the index, under its own code", () => {
		const folder = new URL("../../shared/findings/", import.meta.url);
		const files = readdirSync(folder, { withFileTypes: true })
			.filter((entry) => entry.isDirectory())
			.flatMap(({ name }) =>
				readdirSync(new URL(`${name}/`, folder)).map((file) => `${name}/${file.replace(".ts", "")}`),
			);
		const helpers = [
			"structure/problems",
			"structure/got",
			"site/place-and-zone",
			"night/clock-times",
			"method/obstacles",
			"method/guide-star-fixes",
			"method/windows",
			"target/each",
		];
		expect(RULES.map(({ code }) => code).sort()).toEqual(files.filter((file) => !helpers.includes(file)).sort());
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

		test("its right example does not, and neither does the wrong one once a way out is taken", () => {
			const right = codesOf(exampleText(rule.right));
			expect(right).not.toContain(code);
			// What is right in form is right altogether.
			if (code.startsWith("structure/")) expect(right).toEqual([]);
			const text = exampleText(rule.wrong);
			const findings = checkText(text).filter((finding) => finding.code === code);
			for (const { fixes } of findings) {
				for (const { edits, title } of fixes) {
					const fixed = applyEdits(text, edits);
					const left = codesOf(fixed).filter((one) => one === code).length;
					expect(left, `${title}\n${fixed}`).toBeLessThan(findings.length);
				}
			}
		});

		test("the same in a text with CRLF", () => {
			const text = exampleText(rule.wrong);
			expect(codesOf(text.replace(/\n/g, "\r\n"))).toEqual(codesOf(text));
		});
	});
});
