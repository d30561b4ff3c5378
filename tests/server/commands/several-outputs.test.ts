/** One answer at a time: options that exclude each other are refused, never silently the first of them taken. */
import { describe, expect, test } from "vitest";
import type { Materials } from "../../../shared/outputs/output.ts";
import { OUTPUTS } from "../../../shared/outputs/outputs.ts";
import { chapel, lodebook } from "./run.ts";

const CALLED: Readonly<Record<keyof Materials, readonly string[]>> = {
	plan: ["show", chapel],
	files: ["check", chapel],
	states: ["compare", chapel, chapel],
};

/** The options of all outputs of a material, each with an argument where it takes one. */
const optionsOf = (material: keyof Materials): readonly (readonly string[])[] =>
	OUTPUTS.flatMap(({ option, choice, of }) =>
		option !== undefined && of[material] ? [[option, ...(choice?.among.slice(0, 1) ?? [])]] : [],
	);

describe.each(Object.keys(CALLED) as (keyof Materials)[])("outputs of %s", (material) => {
	test("any two together: status 2, both named, no answer", () => {
		const options = optionsOf(material);
		expect(options.length).toBeGreaterThan(1);
		const [first = [], ...others] = options;
		for (const other of others) {
			const { status, stdout, stderr } = lodebook(...CALLED[material], ...other, ...first);
			expect([status, stdout]).toEqual([2, ""]);
			expect(stderr).toMatch(/^lodebook: --[a-z-]+ and --[a-z-]+ cannot be given together: one answer at a time\.\n$/);
			for (const [name = ""] of [first, other]) expect(stderr).toContain(name);
		}
	});
});

test("three together are named as such; one given twice is refused", () => {
	expect(lodebook("check", chapel, "--json", "--sarif", "--annotations").stderr).toContain("--json, --");
	const { status, stdout, stderr } = lodebook("show", chapel, "--svg", "panorama", "--svg", "timeline");
	expect([status, stdout]).toEqual([2, ""]);
	expect(stderr).toContain("It can be given once only");
	expect(lodebook("show", chapel, "--svg", "nothing").stderr).toContain("Use one of: ");
});

test.each([
	["nights", chapel, "--write", "2027-06-07", "--json"],
	["nights", chapel, "--from", "2027-06-07", "--write", "2027-06-07"],
	["new", "--from", chapel, "--date", "2027-06-07", "--site", "Knoll"],
	["new", "--latitude", "1 N", "--from", chapel, "--date", "2027-06-07"],
])("%s %s %s %s %s %s: what would count for nothing is refused", (...args) => {
	const { status, stdout, stderr } = lodebook(...args);
	expect([status, stdout]).toEqual([2, ""]);
	expect(stderr).toContain("exclude each other");
});
