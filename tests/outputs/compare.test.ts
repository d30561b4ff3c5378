/** Two states of a plan: what is the same thing in both is found by what it is. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { compare, isSame, type Side } from "../../shared/outputs/compare/compare.ts";
import { stateText } from "../../shared/outputs/compare/folders.ts";
import { comparisonMarkdown } from "../../shared/outputs/markdown/comparison.ts";
import { comparisonParts } from "../../shared/outputs/text/comparison.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { PlanJoiner } from "../../shared/plan/reuse.ts";
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
	test("a lens that has another name is the same lens, and so is what turns it", () => {
		const renamed = chapel.replace("name: wide", "name: broad").replaceAll("lens: wide", "lens: broad");
		const { text, values } = compared(chapel, renamed);
		expect(text.map(({ cell, key, before, after }) => [cell, key, before, after])).toEqual([
			["lens broad", "name", "wide", "broad"],
			["targets", "lens", "wide", "broad"],
			["targets", "lens", "wide", "broad"],
		]);
		expect(values).toEqual([]);
		const longer = compared(chapel, edited(renamed, "focal-length: 24 mm", "focal-length: 28 mm")).values;
		expect(longer.filter(({ before, after }) => !before || !after)).toEqual([]);
		expect(longer.map(({ cell }) => cell)).toContain("lens broad");
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
		// The landmark now aligns: it is done when the evening has it done, 20 min for setting up and 8 min after arriving.
		expect(values.filter(({ id }) => id.startsWith("method."))).toMatchObject([
			{ id: "method.done", of: "landmark-bearing", before: { text: "17:08" }, after: { text: "17:28" } },
		]);
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

test("what makes an axis uncertain is compared with itself, whichever is the largest", () => {
	const { values } = compared(chapel, edited(chapel, "tilt-scale: ± 1°", "tilt-scale: ± 0.2°"));
	const shares = values.filter(({ id }) => id === "method.source");
	expect(shares.map(({ of, before, after }) => [of, before?.text, after?.text])).toEqual([
		["tilt-scale", "1.0°", "0.2°"],
	]);
	expect(shares[0]).toMatchObject({ label: "From tilt-scale ± 0.2° (tracker)" });
});

test("what no longer works leads, then its cause, then times and numbers", () => {
	const comparison = compared(chapel, edited(chapel, 'at: "20:01"', 'at: "20:20"'));
	const heads = ["New findings", "Edits", "The evening", "Values"];
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

test("what one of the plans does not have is a dash there, and what does not work in either is never", () => {
	const changed = compared(chapel, edited(chapel, "kind: landmark-bearing\n  landmark: water tower", "kind: compass"));
	const text = comparisonParts(changed, (one) => one);
	expect(text).toMatch(/method 2: compass +– → 17:00/);
	// What is gone is told by its text, and by no time of its own.
	const times = text.slice(text.indexOf("Time windows"));
	expect(times).not.toContain("landmark-bearing");
	expect(text).toMatch(/^ {2}method 2 +method: # the fallback ⏎ kind: landmark-bearing .* → –$/m);
});

test("steps are by their times, also those that one of the plans does not have", () => {
	const [, laser = "", landmark = ""] =
		/(method:\n {2}kind: square[\s\S]*?---\n)(method: #[\s\S]*?---\n)/.exec(chapel) ?? [];
	const { evening } = compared(chapel, edited(chapel, laser + landmark, landmark + laser));
	expect(evening.map(({ what }) => what)).toEqual([
		"Align: bearing from a landmark",
		"Align: right-angle laser",
		"Test frame: core over the gable",
		"Aim at core over the gable",
	]);
	const starts = evening.map(({ before, after }) => (after[0] ?? before[0] ?? "").slice(0, 5));
	expect(starts).toEqual([...starts].sort());
});

test("an evening that ends late as before brings no caution, a later one does", () => {
	const earlier = compared(chapel, edited(chapel, 'leave: "02:00"', 'leave: "01:00"'));
	expect(earlier.safety).toEqual([]);
	const later = compared(chapel, edited(chapel, 'leave: "02:00"', 'leave: "03:00"'));
	expect(later.safety).toEqual([expect.stringMatching(/^Late: you finish at 03:00/)]);
});

describe("what became of a plan, in short", () => {
	const stateOf = (after: string): string =>
		stateText({ path: "a", was: undefined, is: "compared", comparison: compared(chapel, after), written: true });

	test("what was edited leads, and an order is told as one", () => {
		const [, first = "", second = ""] = /( {2}- name: gable[\s\S]*?)( {2}- name: core[\s\S]*?)---/.exec(chapel) ?? [];
		expect(stateOf(edited(chapel, first + second, second + first))).toBe("targets reordered");
		const both = edited(edited(chapel, 'leave: "02:00"', 'leave: "01:00"'), "title: Core", "title: The core");
		expect(stateOf(both)).toMatch(/^plan and night edited, .*times changed/);
	});
});

describe("groups", () => {
	const own = (kind: string): string => {
		const cell = chapel.split(/^---$/m).find((one) => new RegExp(`^${kind}:`, "m").test(one));
		return cell?.trim() ?? "";
	};
	const laser = "method: { kind: square-laser, guide-star: eta Virginis, local-rules-checked: true }";
	const kits = (method: string, targets = own("targets")) =>
		[own("lens"), own("tracker"), method, targets].join("\n---\n");
	const KITS = { nia: kits(laser), tom: kits("method: { kind: compass }") };
	const LIST =
		"  - { name: Nia, from: nia.lode.yaml, local-rules-checked: true }\n  - { name: Tom, from: tom.lode.yaml }\n";
	const groupOf = (site = own("site"), files: Readonly<Record<string, string>> = KITS, list = LIST): Side => {
		const text = `plan: { title: Two, kind: group }\n---\nsite: { from: site.lode.yaml }\n---\n${own("night")}\n---\ngroup:\n${list}`;
		const plan = new PlanJoiner().join(readPlan(text), "group.lode.yaml", (path) => {
			const found = path === "site.lode.yaml" ? site : files[path.replace(".lode.yaml", "")];
			return found === undefined ? { missing: "not-found" } : { plan: readPlan(found) };
		});
		const evaluation = evaluate(plan);
		return { evaluation, findings: check(evaluation) };
	};

	test("a shared site that changed is told of each whom it concerns", () => {
		const changed = compare(groupOf(), groupOf(edited(own("site"), "[120, 18]", "[120, 70]")));
		expect(isSame(changed)).toBe(false);
		expect(changed.findings.gained.map(({ cell }) => cell)).toEqual(
			expect.arrayContaining(["Nia: targets", "Tom: targets"]),
		);
		expect(changed.windows.map(({ what }) => what)).toContain("Tom: target: core over the gable");
		expect(changed.findings.gained.some(({ code }) => code === "group/member-findings")).toBe(false);
		expect(isSame(compare(groupOf(), groupOf()))).toBe(true);
	});

	test("a kit that changed is told under its name, with what was edited, and nothing of the others", () => {
		const tom = kits("method: { kind: compass }", edited(own("targets"), "frames: 12", "frames: 20"));
		const changed = compare(groupOf(), groupOf(undefined, { ...KITS, tom }));
		expect(changed.text).toEqual([
			{ cell: "Tom: targets", of: "core over the gable", key: "frames", before: "12", after: "20" },
		]);
		expect(changed.evening.map(({ what }) => what)).toContain("Tom: core over the gable");
		for (const { what } of changed.evening) expect(what).toMatch(/^Tom: /);
		for (const { cell } of changed.values) expect(cell).toMatch(/^Tom: /);
	});

	test("somebody who changes the name stays the same; who comes or goes is told in the list", () => {
		const renamed = compare(groupOf(), groupOf(undefined, undefined, LIST.replace("Tom", "Tim")));
		expect(renamed.text).toMatchObject([{ cell: "group", key: "name", before: "Tom", after: "Tim" }]);
		expect([renamed.values, renamed.evening, renamed.windows]).toEqual([[], [], []]);
		const gone = compare(groupOf(), groupOf(undefined, undefined, LIST.split("\n")[0]));
		expect(gone.text).toMatchObject([{ cell: "group", of: "Tom", after: null }]);
	});
});
