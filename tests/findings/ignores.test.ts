/** Comments that hide a finding: what they hide, what they do not, and where YAML sees them. */
import { describe, expect, test } from "vitest";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { ignoreEdit } from "../../shared/findings/ignore-edit.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { ignoresOf } from "../../shared/plan/ignores.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { checkText, codesOf } from "../plan-text.ts";

const TOO_LONG = exampleText(RULES.find(({ code }) => code === "method/pole-hidden")?.wrong ?? {});
const REASON = "lodebook-ignore method/pole-hidden: it shows from the step";
const KIND = "  kind: pole-sighting";

describe("a comment", () => {
	test("hides the finding of its line, of the next one, and over other comments and blank lines", () => {
		expect(codesOf(TOO_LONG)).toContain("method/pole-hidden");
		for (const text of [
			TOO_LONG.replace(KIND, `${KIND} # ${REASON}`),
			TOO_LONG.replace(KIND, `  # ${REASON}\n${KIND}`),
			TOO_LONG.replace(KIND, `# ${REASON}\n  # another\n\n${KIND}`),
			TOO_LONG.replace(KIND, `  #   ${REASON}   \r\n${KIND}`),
		]) {
			expect(text).not.toBe(TOO_LONG);
			const before = codesOf(TOO_LONG).filter((code) => code !== "method/pole-hidden");
			expect(codesOf(text), text).toEqual(before);
		}
	});

	test("hides no other finding, and none of another line", () => {
		const other = TOO_LONG.replace(KIND, `${KIND} # lodebook-ignore method/star-hidden: it shows from the step`);
		expect(codesOf(other)).toEqual(expect.arrayContaining(["method/pole-hidden", "ignore/unused"]));
		const above = TOO_LONG.replace("method:", `method: # ${REASON}`);
		expect(codesOf(above)).toEqual(expect.arrayContaining(["method/pole-hidden", "ignore/unused"]));
	});

	test("hides nothing that is about safety or keeps the plan from being read", () => {
		const laser = exampleText({
			method: `kind: square-laser # lodebook-ignore method/local-rules: nobody minds\nguide-star: eta Virginis\nat: "20:01"`,
		});
		expect(codesOf(laser)).toEqual(expect.arrayContaining(["method/local-rules", "ignore/unused"]));
		const unread = exampleText({ night: "date: 2027-06-31 # lodebook-ignore structure/wrong-type: it will" });
		expect(codesOf(unread).some((code) => code.startsWith("structure/"))).toBe(true);
		expect(codesOf(unread)).toContain("ignore/unused");
	});

	test("is one only where YAML sees a comment", () => {
		for (const note of [`|\n  # ${REASON}`, `"# ${REASON}"`, `>-\n  text # ${REASON}`])
			expect(ignoresOf(readPlan(`note: ${note}\n`)), note).toEqual([]);
		expect(ignoresOf(readPlan(`note: text # ${REASON}\n`))).toHaveLength(1);
		expect(ignoresOf(readPlan(`note: { a: [1, 2] # ${REASON}\n }\n`))).toHaveLength(1);
	});

	test("stands where it says it stands, in the second cell too and in broken text", () => {
		const text = `site:\n  name: "a\n---\nnight: # ${REASON}\n  date: [\n`;
		for (const { cell, span, codeSpan } of ignoresOf(readPlan(text))) {
			expect(cell.text.slice(span.from, span.to)).toBe(`# ${REASON}`);
			expect(cell.text.slice(codeSpan.from, codeSpan.to)).toBe("method/pole-hidden");
		}
	});

	test("that ignores nothing is deleted with its line, and nothing else", () => {
		const clean = exampleText({});
		for (const [commented, deleted] of [
			[clean.replace("night:", `night: # ${REASON}`), clean],
			[clean.replace("night:\n", `night:\n    # ${REASON}\n`), clean],
		] as const) {
			const fix = checkText(commented).find(({ code }) => code === "ignore/unused")?.fixes[0];
			expect(applyEdits(commented, fix?.edits ?? [])).toBe(deleted);
		}
	});

	test("is offered for a finding, asks for its reason, and hides it", () => {
		const plan = readPlan(TOO_LONG);
		const hidden = checkText(TOO_LONG).find(({ code }) => code === "method/pole-hidden");
		if (!hidden) throw new Error("no finding");
		const { edit } = ignoreEdit(plan, hidden) ?? {};
		const text = applyEdits(TOO_LONG, edit ? [edit] : []);
		expect(text).toContain("\n  # lodebook-ignore method/pole-hidden: \n  kind: pole-sighting");
		expect(codesOf(text)).toContain("ignore/no-reason");
		expect(codesOf(text)).not.toContain("method/pole-hidden");
	});

	test("is offered for every finding of every rule's wrong example where it may be, and then hides it", () => {
		let offered = 0;
		for (const { wrong } of RULES) {
			const text = exampleText(wrong);
			for (const one of checkText(text)) {
				const edit = ignoreEdit(readPlan(text), one)?.edit;
				if (!edit) continue;
				offered++;
				const after = applyEdits(text, [edit]);
				expect(codesOf(after).filter((code) => code === one.code).length, `${one.code}\n${after}`).toBeLessThan(
					codesOf(text).filter((code) => code === one.code).length,
				);
			}
		}
		expect(offered).toBeGreaterThan(60);
	});

	test("a thousand of them, long and strange ones, take no longer than their length", () => {
		const many = Array.from({ length: 1000 }, (_, i) => `  # lodebook-ignore a/b${i}: ${"x: # ".repeat(20)}`);
		const found = checkText(`${exampleText({})}---\nnote:\n${many.join("\n")}\n  text\n`);
		expect(found.filter(({ code }) => code === "ignore/unknown-code").length).toBeGreaterThan(100);
	});
});
