/** Names that YAML would take for something else, put into plans by the built server and command line. */
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { CodeAction, CompletionList, TextEdit, WorkspaceEdit } from "vscode-languageserver";
import { parseAllDocuments, stringify } from "yaml";
import { HOSTILE_NAMES } from "../hostile-names.ts";
import { cursor } from "../plan-text.ts";
import { positionOf } from "./client.ts";
import { chapel, lodebook } from "./commands/run.ts";
import { applied, serve } from "./served.ts";

const { client, opened } = serve();

const NAMES = HOSTILE_NAMES.filter((name) => name.trim() !== "");

type Content = Readonly<Record<string, unknown>>;

/** The content of each cell, by its kind; cells of a kind in their order. */
function contentsOf(text: string): (kind: string) => readonly unknown[] {
	const documents = parseAllDocuments(text, { version: "1.2", logLevel: "silent" });
	expect(documents.flatMap(({ errors }) => errors.map(({ message }) => message))).toEqual([]);
	const cells = documents.map((document) => (document.toJS() ?? {}) as Content);
	return (kind) => cells.flatMap((cell) => (kind in cell ? [cell[kind]] : []));
}

const editsOf = (edit: WorkspaceEdit | null | undefined): readonly TextEdit[] =>
	Object.values(edit?.changes ?? {}).flat();

/** Names by which a lens may be called and referred to, as different writers have them. */
const WRITTEN = [
	"name: wide",
	"name: 'wide'",
	'name: "wide"',
	"name: >-\n    wide",
	"name: !!str wide",
	'"name": "wi\\\n    de"',
];

test.each(WRITTEN)("rename, in place of %s", async (written) => {
	const text = `lens:
  ${written}
  sensor: full-frame
---
targets:
  - name: A
    lens: wide
  - { name: B, lens: wide, exposure: 1 s }
  - {name: C, exposure: 1 s, lens: "wide"}
  - name: D
    lens: 'wide'   # comment
  - name: E
    lens: |-
      wide
`;
	const uri = await opened(text);
	for (const name of NAMES) {
		const edit = await client.request<WorkspaceEdit>("textDocument/rename", {
			textDocument: { uri },
			position: positionOf(text, text.indexOf("lens: wide") + 7),
			newName: name,
		});
		const after = applied(text, editsOf(edit));
		const contents = contentsOf(after);
		expect((contents("lens")[0] as Content).name, after).toBe(name);
		expect((contents("targets")[0] as Content[]).map(({ lens }) => lens)).toEqual(Array(5).fill(name));
		expect((contents("targets")[0] as Content[]).map(({ name: own }) => own)).toEqual(["A", "B", "C", "D", "E"]);
		expect(after).toContain("# comment");
	}
});

test.each([
	["in a block", "  - name: A\n    lens: $0\n"],
	["before a comment", "  - name: A\n    lens: $0 # comment\n"],
	["in a flow mapping", "  - { name: A, lens: $0, exposure: 1 s }\n"],
	["in double quotes", '  - name: A\n    lens: "$0"\n'],
	["in an open quote", '  - name: A\n    lens: "$0\n'],
	["in single quotes", "  - name: A\n    lens: '$0'\n"],
	["in single quotes of a flow mapping", "  - { name: A, lens: '$0' }\n"],
	["over a name with a hash in quotes", '  - name: A\n    lens: "a $0# b"\n'],
])("completion %s", async (_, targets) => {
	const names = [...new Set(NAMES.map((name) => name.trim()))];
	const lenses = names.map(
		(name) => `lens:\n  name: ${stringify(name, { defaultStringType: "QUOTE_DOUBLE", lineWidth: 0 }).trim()}\n---\n`,
	);
	const { text, offset } = cursor(`${lenses.join("")}targets:\n${targets}`);
	const uri = await opened(text);
	const { items } = await client.request<CompletionList>("textDocument/completion", {
		textDocument: { uri },
		position: positionOf(text, offset),
	});
	expect(items.map(({ label }) => label).sort()).toEqual([...names].sort());
	for (const { label, textEdit } of items) {
		const after = applied(text, [textEdit as TextEdit]);
		expect((contentsOf(after)("targets")[0] as Content[])[0], after.slice(-300)).toMatchObject({
			name: "A",
			lens: label,
		});
		if (text.includes("# comment")) expect(after).toContain(" # comment");
	}
});

test("quick fixes: what is offered leaves YAML", async () => {
	for (const name of NAMES) {
		const text = `${stringify({ lens: { name, "focal-length": "24 mm", sensor: "full-frame", pixels: "6000 x 4000" } }, { lineWidth: 0 })}---
${stringify({ targets: [{ name: "A", aim: "Spica", lens: "unlike anything", exposure: "60 s" }] }, { collectionStyle: "flow", lineWidth: 0 })}`;
		const uri = await opened(text);
		const at = positionOf(text, text.lastIndexOf("unlike"));
		const actions = await client.request<CodeAction[]>("textDocument/codeAction", {
			textDocument: { uri },
			range: { start: at, end: at },
			context: { diagnostics: [], only: ["quickfix"] },
		});
		expect(actions.length, name).toBeGreaterThan(0);
		const [first] = actions;
		const target = (contentsOf(applied(text, editsOf(first?.edit)))("targets")[0] as Content[])[0];
		expect(String(target?.lens).trim()).toBe(name.trim());
	}
});

/** What no program can be given as an argument. */
const ARGUMENTS = NAMES.filter((name) => !/[\0]|\p{Cs}/u.test(name));

test.each([0, 30])(
	"nights --write keeps every name, quotes what it writes, and edits a target that is named twice once",
	(from) => {
		const names = ARGUMENTS.slice(from, from + 30);
		const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "a.lode.yaml");
		const quoted = (name: string): string =>
			stringify(name, { defaultStringType: "QUOTE_DOUBLE", lineWidth: 0 }).trim();
		const targets = names.map(
			(name, i) =>
				`  - name: ${quoted(name)}\n    aim: galactic-centre\n    from: ${["15:00", '"15:00"', "'15:00'", ">-\n      15:00"][i % 4]}\n    exposure: 60 s\n`,
		);
		const text = `${readFileSync(chapel, "utf8").split(/^---\n(?=targets:)/m)[0]}---
targets:
  - &first
    name: first
    aim: galactic-centre
    from: 15:00
    exposure: 60 s
  - *first
${targets.join("")}`;
		writeFileSync(path, text);
		const { status, stderr } = lodebook("nights", path, "--write", "2027-07-04");
		expect(stderr).toContain("2027-07-04");
		expect(status).toBe(0);
		const after = contentsOf(readFileSync(path, "utf8"));
		const read = after("targets")[0] as Content[];
		expect(read.map(({ name }) => name)).toEqual(["first", "first", ...names]);
		for (const { from: time } of read) expect(time).toMatch(/^(?!15:00)\d\d:\d\d$/);
		expect(read[0]?.from).toBe(read[1]?.from);
		expect((after("night")[0] as Content).date).toBe("2027-07-04");
	},
);

test("new: names are read back as they were given", () => {
	for (const name of ARGUMENTS.filter((one) => one.length < 100 && !one.startsWith("-")).filter(
		(_, i) => i % 8 === 0,
	)) {
		const { status, stdout, stderr } = lodebook(
			"new",
			"--site",
			name,
			"--title",
			name,
			"--latitude",
			"32.4123 S",
			"--longitude",
			"54.3622 W",
			"--date",
			"2027-06-05",
		);
		expect(stderr).toBe("");
		expect(status).toBe(0);
		const contents = contentsOf(stdout);
		expect((contents("site")[0] as Content).name).toBe(name.trim());
		expect((contents("plan")[0] as Content).title).toBe(name.trim());
	}
});

test("new --from: the title, too", () => {
	for (const name of ARGUMENTS.filter((one) => one.length < 100 && !one.startsWith("-")).filter(
		(_, i) => i % 12 === 0,
	)) {
		const { stdout, stderr } = lodebook("new", "--from", chapel, "--title", name, "--date", "2027-06-09");
		expect((contentsOf(stdout)("plan")[0] as Content).title, stderr).toBe(name.trim());
	}
});
