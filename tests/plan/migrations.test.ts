/**
 * Plans of an older format, by a made-up one: version 1 of it had a `place` cell where there is a `site`, and lenses by
 * `focal`; version 2 had the site and still `focal`; version 3 is as plans are read now.
 */
import { describe, expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { FORMAT, formatOf, MIGRATIONS, type Migration, migrated } from "../../shared/plan/migrations.ts";
import { type Plan, readPlan } from "../../shared/plan/plan.ts";
import type { TextEdit } from "../../shared/text/edits.ts";

/** Each match of a whole word at the start of a line of cells of the plan, by another. */
const renamed = ({ text }: Plan, from: RegExp, to: string): readonly TextEdit[] =>
	[...text.matchAll(from)].map(({ index, 0: found }) => ({ from: index, to: index + found.length, text: to }));
const STEPS: readonly Migration[] = [
	{ from: 1, edits: (plan) => renamed(plan, /^place(?=:)/gm, "site") },
	{ from: 2, edits: (plan) => renamed(plan, /(?<=^ {2})focal(?=:)/gm, "focal-length") },
];

const now = exampleText({ plan: "title: At the fold\nformat: 3" });
const commented = now.replace(/^site:/m, "# where we are\nsite: # by the gate");
const of2 = commented.replace("format: 3", "format: 2").replace(/focal-length/g, "focal");
const of1 = of2.replace("format: 2", "format: 1").replace(/^site:/m, "place:");
const codes = (text: string): readonly string[] =>
	check(evaluate(readPlan(text)))
		.map(({ code }) => code)
		.filter((code) => code !== "structure/newer-format");

describe("a made-up older format", () => {
	test("is not what is read now, and is once it was migrated, comments and order kept", () => {
		expect(codes(of1)).toContain("structure/unknown-kind");
		expect(codes(of2)).toContain("structure/unknown-key");
		expect(migrated(readPlan(of1), STEPS, 3)).toBe(commented);
		expect(migrated(readPlan(of2), STEPS, 3)).toBe(commented);
		expect(codes(commented)).toEqual(codes(now));
	});

	test("one that says no version is of the first, and says the new one afterwards", () => {
		const without = of1.replace("  format: 1\n", "");
		const text = migrated(readPlan(without), STEPS, 3) ?? "";
		expect(formatOf(readPlan(text))).toBe(3);
		expect(text.replace("  format: 3\n", "")).toBe(commented.replace("  format: 3\n", ""));
		const bare = migrated(readPlan("place:\r\n  name: Fold\r\n"), STEPS, 3);
		expect(bare).toBe("plan:\r\n  format: 3\r\n---\r\nsite:\r\n  name: Fold\r\n");
	});

	test("one that is not older is left alone, and so is one to which no steps lead", () => {
		expect(migrated(readPlan(commented), STEPS, 3)).toBe(undefined);
		expect(migrated(readPlan(commented.replace("format: 3", "format: 4")), STEPS, 3)).toBe(undefined);
		expect(migrated(readPlan(of1), STEPS.slice(1), 3)).toBe(undefined);
		expect(migrated(readPlan(of1), STEPS.slice(0, 1), 3)).toBe(undefined);
	});

	test("a plan that cannot be read is not migrated into another that cannot", () => {
		for (const text of ["plan: [", "plan: 3\n", "plan:\n  format: two\n", "\0"])
			expect(() => migrated(readPlan(text), STEPS, 3)).not.toThrow();
	});
});

test("the steps that there are lead from each version to the next, up to that of now", () => {
	expect(MIGRATIONS.map(({ from }) => from)).toEqual(Array.from({ length: FORMAT - 1 }, (_, i) => i + 1));
	expect(migrated(readPlan(exampleText({ plan: "title: A\nformat: 1" })))).toBe(undefined);
});
