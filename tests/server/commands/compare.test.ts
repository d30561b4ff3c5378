import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { chapel, runIn } from "./run.ts";

const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
const git = (...args: string[]) =>
	spawnSync("git", ["-c", "user.name=t", "-c", "user.email=t@example.org", ...args], {
		cwd: folder,
		encoding: "utf8",
	});
const inFolder = (...args: string[]) => runIn(folder, ...args);

test("a plan changed on a branch: the text, what follows from it, findings gained; the same plan: nothing", () => {
	const text = readFileSync(chapel, "utf8");
	git("init", "-q");
	writeFileSync(join(folder, "chapel.lode.yaml"), text);
	git("add", ".");
	git("commit", "-qm", "plan");
	writeFileSync(join(folder, "chapel.lode.yaml"), text.replace('at: "20:01"', 'at: "20:20"'));
	const { stdout, status } = inFolder("compare", "HEAD:chapel.lode.yaml", "chapel.lode.yaml", "--json");
	expect(status).toBe(0);
	const { text: keys, figures: values, findings } = JSON.parse(stdout);
	expect(keys).toEqual([{ cell: "method 1", of: null, key: "at", before: "20:01", after: "20:20" }]);
	expect(findings.gained.map(({ code }: { code: string }) => code)).toContain("method/guide-star-not-there");
	expect(findings.lost).toEqual([]);
	expect(values.find(({ id }: { id: string }) => id === "method.star-miss")).toMatchObject({
		cell: "method 1",
		before: { text: "0.88°" },
		after: { text: "4.54°" },
	});
	expect(values.some(({ id }: { id: string }) => id.startsWith("site."))).toBe(false);
	expect(inFolder("compare", "HEAD:chapel.lode.yaml", "HEAD:chapel.lode.yaml").stdout).toBe(
		"Nothing changed, neither in the plan nor in its values.\n",
	);
});

test("a revision that is not there, or would be an option of git, is refused", () => {
	expect(inFolder("compare", "nowhere:chapel.lode.yaml", "chapel.lode.yaml")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("could not be read from git"),
	});
	expect(inFolder("compare", "--", "--batch:chapel.lode.yaml", "chapel.lode.yaml")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("no such file"),
	});
});

test("Markdown: a plan's text cannot become markup", () => {
	const evil = "<img src=x onerror=alert(1)> | [a](javascript:x) `b` @someone";
	writeFileSync(
		join(folder, "evil.lode.yaml"),
		readFileSync(chapel, "utf8").replace("Core over the roofless chapel", JSON.stringify(evil)),
	);
	const { stdout } = inFolder("compare", "HEAD:chapel.lode.yaml", "evil.lode.yaml", "--markdown");
	expect(stdout).toContain("&lt;img");
	expect(stdout).not.toMatch(/<img|[^\\]\[a\]|[^\\]@someone/);
});
