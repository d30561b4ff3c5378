/** Two states of a plan: what is the same thing in both is found by what it is. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { compare, isSame, type Side } from "../../shared/outputs/compare/compare.ts";
import { comparisonMarkdown } from "../../shared/outputs/markdown/comparison.ts";
import { comparisonParts } from "../../shared/outputs/text/comparison.ts";
import { evaluateText } from "../plan-text.ts";

const chapel = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");
const cave = readFileSync(new URL("../../samples/gannet-cave.lode.yaml", import.meta.url), "utf8");

const sideOf = (text: string): Side => {
	const evaluation = evaluateText(text);
	return { evaluation, findings: check(evaluation) };
};
const compared = (before: string, after: string) => compare(sideOf(before), sideOf(after));
/** The text with one part put in place of another that is there. */
function edited(text: string, part: string | RegExp, by: string): string {
	const now = text.replace(part, by);
	expect(now).not.toBe(text);
	return now;
}

const BEFORE_ALL = `targets:
  - name: embers
    aim: { azimuth: 95, altitude: 12 }
    lens: wide
    at: "18:20"
    exposure: 8 s
    tracked: false
`;

describe("lists", () => {
	test("a target put first is one row of text, and no value of another target moves", () => {
		const { text, values, findings } = compared(chapel, edited(chapel, "targets:\n", BEFORE_ALL));
		expect(text).toEqual([
			{ cell: "targets", of: "embers", key: "", before: null, after: expect.stringMatching(/^name: embers\naim/) },
		]);
		expect(values.filter(({ cell }) => cell === "targets")).toEqual([]);
		expect(findings.lost).toEqual([]);
	});

	test("a target that is taken out, one that changes its name, and two that change places", () => {
		const with3 = edited(chapel, "targets:\n", BEFORE_ALL);
		expect(compared(with3, chapel).text).toMatchObject([{ of: "embers", key: "", after: null }]);
		const renamed = compared(chapel, edited(chapel, "name: core over the gable", "name: the core"));
		expect(renamed.text).toEqual([
			{ cell: "targets", of: "the core", key: "name", before: "core over the gable", after: "the core" },
		]);
		expect([renamed.values, renamed.windows]).toEqual([[], []]);
		const [, first = "", second = ""] = /( {2}- name: gable[\s\S]*?)( {2}- name: core[\s\S]*?)---/.exec(chapel) ?? [];
		const swapped = compared(chapel, edited(chapel, first + second, second + first));
		expect(swapped.text).toEqual([
			{
				cell: "targets",
				of: null,
				key: "order",
				before: "gable by last light, core over the gable",
				after: "core over the gable, gable by last light",
			},
		]);
	});

	test("a key of one target among several, by its name", () => {
		const both = edited(edited(chapel, "targets:\n", BEFORE_ALL), "exposure: 90 s", "exposure: 120 s");
		expect(compared(chapel, both).text).toContainEqual({
			cell: "targets",
			of: "core over the gable",
			key: "exposure",
			before: "90 s",
			after: "120 s",
		});
	});

	test("a raised skyline is one row with the points that moved, an outline too", () => {
		const { text } = compared(chapel, edited(chapel, "[160, 49], [215, 52]", "[160, 55], [215, 60]"));
		expect(text).toEqual([
			{
				cell: "site",
				of: null,
				key: "skyline",
				before: "… [160, 49], [215, 52] …",
				after: "… [160, 55], [215, 60] …",
			},
		]);
		const more = compared(chapel, edited(chapel, ", [300, 6]]", ", [300, 6], [330, 8]]"));
		expect(more.text).toMatchObject([{ key: "skyline", before: null, after: "… [330, 8]" }]);
		const [, name = "", point = ""] = /name: ([^,\n]+),?\s+outline: \[(\[[^\]]+\])/.exec(cave) ?? [];
		const moved = compared(cave, edited(cave, `outline: [${point}`, "outline: [[1, 1]"));
		expect(moved.text).toMatchObject([{ cell: "site", of: name, key: expect.stringMatching(/outline$/) }]);
	});

	test("a list that begins with another plan's", () => {
		const taken = (entries: string): string =>
			`${chapel.slice(0, chapel.indexOf("targets:"))}targets:\n  from: other.lode.yaml\n  add:\n${entries}`;
		const [one, two] = ["    - { name: one, exposure: 8 s }\n", "    - { name: two, exposure: 9 s }\n"];
		expect(compared(taken(one), taken(two + one)).text).toMatchObject([{ of: "two", key: "", before: null }]);
	});
});

describe("methods", () => {
	const [, laser = "", landmark = ""] =
		/(method:\n {2}kind: square[\s\S]*?---\n)(method: #[\s\S]*?---\n)/.exec(chapel) ?? [];

	test("two that change places are told as their order, with no number of the other", () => {
		const { text, values } = compared(chapel, edited(chapel, laser + landmark, landmark + laser));
		expect(text).toEqual([
			{
				cell: "method",
				of: null,
				key: "order",
				before: "square-laser, landmark-bearing",
				after: "landmark-bearing, square-laser",
			},
		]);
		expect(values.filter(({ id }) => id.startsWith("method."))).toEqual([]);
	});

	test("a value never has another star's name", () => {
		const { values } = compared(chapel, edited(chapel, "guide-star: eta Virginis", "guide-star: Spica"));
		const miss = values.find(({ id }) => id === "method.star-miss");
		expect(miss).toMatchObject({ before: { of: "eta Virginis" }, after: { of: "Spica" } });
		const comparison = compared(chapel, edited(chapel, "guide-star: eta Virginis", "guide-star: Spica"));
		const row = comparisonParts(comparison, (text) => text)
			.split("\n")
			.find((line) => line.includes(`${miss?.label}`));
		expect(row).toContain(`${miss?.before?.text} (eta Virginis) → ${miss?.after?.text} (Spica)`);
		const markdown = comparisonMarkdown(comparison, "a", "b").replaceAll("\\", "");
		expect(markdown).toContain(`| ${miss?.before?.text} (eta Virginis) | ${miss?.after?.text} (Spica) |`);
	});
});

test("what no longer works leads, then times, then numbers, and what was typed behind them", () => {
	const comparison = compared(chapel, edited(chapel, 'at: "20:01"', 'at: "20:20"'));
	const heads = ["New findings", "The evening", "Values", "Written"];
	const text = comparisonParts(comparison, (one) => one);
	expect(heads.map((head) => text.split("\n").indexOf(head)).every((at) => at >= 0)).toBe(true);
	expect(heads.map((head) => text.indexOf(`${head}\n`))).toEqual(
		heads.map((head) => text.indexOf(`${head}\n`)).sort((a, b) => a - b),
	);
	expect(comparison.findings.gained[0]?.severity).toBe("error");
	const severities = comparison.findings.gained.map(({ severity }) => ["error", "warning", "info"].indexOf(severity));
	expect(severities).toEqual([...severities].sort());
	expect(comparison.evening.map(({ what }) => what)).toContain("Align: right-angle laser");
});

test("a plan that only is written otherwise has not changed", () => {
	const other = edited(chapel, "place: [ruin]", "place:\n    - ruin");
	expect(isSame(compared(chapel, edited(chapel, "head: geared", 'head: "geared"')))).toBe(true);
	expect(compared(chapel, other).values).toEqual([]);
});
