/** Two plans that came from one are merged cell by cell; nothing that either side wrote is lost. */
import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { mergePlans } from "../../shared/plan/merge.ts";
import { readPlan } from "../../shared/plan/plan.ts";

const folder = new URL("../../samples/", import.meta.url);
const SAMPLES = readdirSync(folder)
	.filter((name) => name.endsWith(".lode.yaml"))
	.map((name) => readFileSync(new URL(name, folder), "utf8"));
const chapel = readFileSync(new URL("roofless-chapel.lode.yaml", folder), "utf8");

function edited(text: string, part: string | RegExp, by: string): string {
	const now = text.replace(part, by);
	expect(now).not.toBe(text);
	return now;
}

const EMBERS = `  - name: embers
    aim: { azimuth: 95, altitude: 12 }
    lens: wide
    at: "18:20"
    exposure: 8 s
    tracked: false
`;
const STREAM = EMBERS.replace("embers", "stream").replace("18:20", "18:40");

describe("merges without a conflict", () => {
	test.each([
		["cells beside each other", ['arrive: "17:00"', 'arrive: "16:30"'], ["focal-length: 24 mm", "focal-length: 28 mm"]],
		["keys beside each other", ['arrive: "17:00"', 'arrive: "16:30"'], ['leave: "02:00"', 'leave: "03:00"']],
		["keys of one target", ["exposure: 90 s", "exposure: 120 s"], ["frames: 12", "frames: 20"]],
		["its first key and another", ["name: core over the gable", "name: the core"], ["frames: 12", "frames: 20"]],
		["a target first and one changed", ["targets:\n", `targets:\n${EMBERS}`], ["frames: 12", "frames: 20"]],
		[
			"a new cell and a changed one",
			["---\nnote:", "---\nlens: { name: long, focal-length: 85 mm }\n---\nnote:"],
			["head: geared", "head: ball"],
		],
		["a comment and a value", ["site:\n", "# from the survey\nsite:\n"], ["elevation: 145 m", "elevation: 146 m"]],
	] as const)("%s", (_, [from, to], [other, by]) => {
		const [ours, theirs] = [edited(chapel, from, to), edited(chapel, other, by)];
		const wanted = edited(ours, other, by);
		expect(mergePlans(chapel, ours, theirs)).toEqual({ text: wanted, conflicts: 0 });
		expect(mergePlans(chapel, theirs, ours)).toEqual({ text: wanted, conflicts: 0 });
	});

	test("a target from each side, at the same place", () => {
		const [ours, theirs] = [
			edited(chapel, "targets:\n", `targets:\n${EMBERS}`),
			edited(chapel, "targets:\n", `targets:\n${STREAM}`),
		];
		const { text, conflicts } = mergePlans(chapel, ours, theirs);
		expect(conflicts).toBe(0);
		const targets = readPlan(text).cells.find(({ read }) => read.kind === "targets")?.read.content as {
			name: string;
		}[];
		expect(targets.map(({ name }) => name).sort()).toEqual([
			"core over the gable",
			"embers",
			"gable by last light",
			"stream",
		]);
	});

	test("methods in another order on one side, a changed one on the other", () => {
		const [, laser = "", landmark = ""] =
			/(method:\n {2}kind: square[\s\S]*?---\n)(method: #[\s\S]*?---\n)/.exec(chapel) ?? [];
		const ours = edited(chapel, laser + landmark, landmark + laser);
		const theirs = edited(chapel, 'at: "20:01"', 'at: "20:02"');
		expect(mergePlans(chapel, ours, theirs)).toEqual({
			text: edited(ours, 'at: "20:01"', 'at: "20:02"'),
			conflicts: 0,
		});
		expect(mergePlans(chapel, theirs, ours).text).toBe(edited(ours, 'at: "20:01"', 'at: "20:02"'));
	});

	test("cells of one name: one that stays word for word is itself, wherever the other goes", () => {
		const two = edited(chapel, "---\ntracker:", "---\nlens:\n  name: wide\n  focal-length: 200 mm\n---\ntracker:");
		const [, first = ""] = /(---\nlens:[\s\S]*?)(?=---\nlens:)/.exec(two) ?? [];
		const ours = edited(two, first, "") + first;
		const theirs = edited(two, "focal-length: 24 mm", "focal-length: 28 mm");
		const wanted = edited(ours, "focal-length: 24 mm", "focal-length: 28 mm");
		expect(mergePlans(two, ours, theirs)).toEqual({ text: wanted, conflicts: 0 });
		expect(mergePlans(two, theirs, ours)).toEqual({ text: wanted, conflicts: 0 });
	});

	test("a cell that one side took out and the other left as it was", () => {
		const gone = edited(chapel, /---\ntracker:[\s\S]*?(?=---)/, "");
		const other = edited(chapel, "frames: 12", "frames: 20");
		expect(mergePlans(chapel, gone, other).text).toBe(edited(gone, "frames: 12", "frames: 20"));
		expect(mergePlans(chapel, other, gone).text).toBe(edited(gone, "frames: 12", "frames: 20"));
	});

	test("line ends and the mark at the beginning stay ours", () => {
		const windows = `\uFEFF${chapel.replaceAll("\n", "\r\n")}`;
		const theirs = edited(chapel, "frames: 12", "frames: 20");
		const ours = edited(windows, "elevation: 145 m", "elevation: 146 m");
		expect(mergePlans(chapel, ours, theirs)).toEqual({ text: edited(ours, "frames: 12", "frames: 20"), conflicts: 0 });
	});
});

describe("conflicts", () => {
	test("the same key in two ways: both are there, the rest is merged", () => {
		const ours = edited(edited(chapel, "exposure: 90 s", "exposure: 120 s"), "elevation: 145 m", "elevation: 150 m");
		const theirs = edited(edited(chapel, "exposure: 90 s", "exposure: 60 s"), "frames: 12", "frames: 20");
		const { text, conflicts } = mergePlans(chapel, ours, theirs);
		expect(conflicts).toBe(1);
		expect(text).toContain(
			"<<<<<<< ours\n    exposure: 120 s\n=======\n    exposure: 60 s\n>>>>>>> theirs\n    frames: 20\n",
		);
		expect(text).toContain("elevation: 150 m");
		expect(mergePlans(chapel, ours, theirs, { size: 9 }).text).toContain(`\n${"<".repeat(9)} ours\n`);
	});

	test("taken out on one side and changed on the other", () => {
		const gone = edited(chapel, /---\ntracker:[\s\S]*?(?=---)/, "");
		const changed = edited(chapel, "head: geared", "head: ball");
		const { text, conflicts } = mergePlans(chapel, gone, changed);
		expect(conflicts).toBe(1);
		expect(text).toMatch(/<<<<<<< ours\n=======\ntracker:\n {2}head: ball[\s\S]*?>>>>>>> theirs\n/);
	});

	test("no plan before: the same is the same, another is a conflict", () => {
		expect(mergePlans("", chapel, chapel)).toEqual({ text: chapel, conflicts: 0 });
		const other = edited(chapel, "elevation: 145 m", "elevation: 150 m");
		const { text, conflicts } = mergePlans("", chapel, other);
		expect(conflicts).toBeGreaterThan(0);
		expect(text).toContain("elevation: 145 m");
		expect(text).toContain("elevation: 150 m");
	});
});

/** An edit of a plan's lines or cells. */
type Change = (text: string) => string;
const cells = (text: string): string[] => readPlan(text).cells.map((cell) => cell.text);
const CHANGES = fc.oneof(
	fc.tuple(fc.nat(), fc.constantFrom("9", "x", " # said", "")).map(
		([at, more]): Change =>
			(text) => {
				const lines = text.split("\n");
				const place = at % Math.max(1, lines.length);
				lines[place] += more;
				return lines.join("\n");
			},
	),
	fc.nat().map(
		(at): Change =>
			(text) => {
				const all = cells(text);
				return all.length < 2 ? text : all.filter((_, place) => place !== 1 + (at % (all.length - 1))).join("");
			},
	),
	fc.tuple(fc.nat(), fc.constantFrom("note: one", "note: two", "lens: { name: long, focal-length: 85 mm }", "??")).map(
		([at, cell]): Change =>
			(text) => {
				const all = cells(text).map((one) => (one.endsWith("\n") ? one : `${one}\n`));
				all.splice(1 + (at % all.length), 0, `---\n${cell}\n`);
				return all.join("");
			},
	),
	fc.nat().map(
		(at): Change =>
			(text) => {
				const all = cells(text).map((one) => (one.endsWith("\n") ? one : `${one}\n`));
				const [moved = ""] = all.splice(1 + (at % Math.max(1, all.length - 1)), 1);
				all.push(moved);
				return all.join("");
			},
	),
	fc.constantFrom<Change>(
		(text) => text.replace("targets:\n", `targets:\n${EMBERS}`),
		(text) => text.replace("targets:\n", `targets:\n${STREAM}`),
	),
);
const changed = (base: string, changes: readonly Change[]): string =>
	changes.reduce((text, change) => change(text), base);

/** Lines that say something, markers of documents left out. */
const saying = (text: string): string[] =>
	text
		.split("\n")
		.map((line) => line.trim().replace(/^- /, ""))
		.filter((line) => line !== "" && line !== "---");
const cellTexts = (text: string): string[] =>
	cells(text)
		.map((cell) => saying(cell).join("\n"))
		.filter((one) => one !== "");

test("a merge never loses a cell, and no line that either side wrote", () => {
	fc.assert(
		fc.property(
			fc.constantFrom(...SAMPLES),
			fc.array(CHANGES, { maxLength: 3 }),
			fc.array(CHANGES, { maxLength: 3 }),
			(base, forOurs, forTheirs) => {
				const [ours, theirs] = [changed(base, forOurs), changed(base, forTheirs)];
				const { text, conflicts } = mergePlans(base, ours, theirs);
				const lines = new Set(saying(text));
				const old = new Set(saying(base));
				for (const line of [...saying(ours), ...saying(theirs)]) if (!old.has(line)) expect(lines).toContain(line);
				// A cell of both sides is in the merge: as it is, or, where both changed it, line by line (above).
				const [own, other] = [new Set(cellTexts(ours)), new Set(cellTexts(theirs))];
				const whole = saying(text).join("\n");
				for (const cell of own) if (other.has(cell)) expect(whole).toContain(cell);
				if (conflicts === 0) expect(text).not.toMatch(/^(<{7}|={7}|>{7})/m);
			},
		),
		{ numRuns: 300 },
	);
});

test("one side alone is that side, byte for byte", () => {
	fc.assert(
		fc.property(fc.constantFrom(...SAMPLES), fc.array(CHANGES, { minLength: 1, maxLength: 3 }), (base, changes) => {
			const ours = changed(base, changes);
			expect(mergePlans(base, ours, base)).toEqual({ text: ours, conflicts: 0 });
			expect(mergePlans(base, base, ours)).toEqual({ text: ours, conflicts: 0 });
			expect(mergePlans(base, ours, ours)).toEqual({ text: ours, conflicts: 0 });
		}),
		{ numRuns: 100 },
	);
});
