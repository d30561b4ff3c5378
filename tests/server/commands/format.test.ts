import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { chapel, lodebook } from "./run.ts";

test("format: --check tells, format mends, and then --check is content", () => {
	const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "loose.lode.yaml");
	writeFileSync(path, readFileSync(chapel, "utf8").replace('at: "20:01"', "at: 20:01   "));
	expect(lodebook("format", path, "--check")).toMatchObject({ status: 1, stdout: `${path}\n` });
	expect(lodebook("format", path).status).toBe(0);
	expect(readFileSync(path, "utf8").trimEnd()).toBe(readFileSync(chapel, "utf8").trimEnd());
	expect(lodebook("format", path, "--check")).toMatchObject({ status: 0, stdout: "" });
});

test("format leaves bytes that are no UTF-8 as they are", () => {
	const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "latin.lode.yaml");
	const bytes = Buffer.from([0x70, 0x6c, 0x61, 0x6e, 0x3a, 0x20, 0xe9, 0x20, 0x0a]);
	writeFileSync(path, bytes);
	expect(lodebook("format", path)).toMatchObject({ status: 2, stderr: expect.stringContaining("UTF-8") });
	expect(readFileSync(path).equals(bytes)).toBe(true);
});

test("format leaves a file alone whose merge was not finished, and says so; --check fails", () => {
	const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "merged.lode.yaml");
	const text = "plan:\n  title: A   \n---\nnight:\n<<<<<<< a\n  date: 2027-06-05\n=======\n>>>>>>> b\n";
	writeFileSync(path, text);
	for (const args of [
		["format", path],
		["format", path, "--check"],
	]) {
		const { status, stdout, stderr } = lodebook(...args);
		expect(status).toBe(2);
		expect(stdout).toBe("");
		expect(stderr).toContain("is left as it is: it contains merge conflict markers");
	}
	expect(readFileSync(path, "utf8")).toBe(text);
});

test.each([
	["an alias", "targets:\n  - &a\n    from: 20:01\n  - *a\n", 'targets:\n  - &a\n    from: "20:01"\n  - *a\n'],
	["an escaped line end", 'plan:\n  title: "abc\\ \n    def"  \n', 'plan:\n  title: "abc\\ \n    def"\n'],
	[
		"a folded block",
		"plan:\n  title: >-\n    a  \n    b  \n  summary: c  \n",
		"plan:\n  title: >-\n    a  \n    b  \n  summary: c\n",
	],
	["U+2028", "plan:\n  title: a  \u2028b  \n", "plan:\n  title: a  \u2028b\n"],
	["a carriage return alone", "plan:\n  title: a  \rb  \n", "plan:\n  title: a  \rb\n"],
])("format says the same around %s, in one go", (_, text, formatted) => {
	const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "meant.lode.yaml");
	writeFileSync(path, text);
	expect(lodebook("format", path).status).toBe(0);
	expect(readFileSync(path, "utf8")).toBe(formatted);
	expect(lodebook("format", path, "--check").status).toBe(0);
});
