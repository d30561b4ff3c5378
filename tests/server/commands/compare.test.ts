import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, renameSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { chapel, runIn, samples } from "./run.ts";

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
		"Nothing changed in the plan or its values.\n",
	);
});

test("a revision that is not there, or would be an option of git, is refused", () => {
	expect(inFolder("compare", "nowhere:chapel.lode.yaml", "chapel.lode.yaml")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("could not be read from git: there is no such revision"),
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

describe("a repository of plans", () => {
	const root = mkdtempSync(join(tmpdir(), "lodebook-plans-"));
	const gitIn = (cwd: string, ...args: string[]) => {
		const identity = ["-c", "user.name=t", "-c", "user.email=t@example.org", "-c", "protocol.file.allow=always"];
		const { status, stderr } = spawnSync("git", [...identity, ...args], { cwd, encoding: "utf8" });
		expect(status, stderr).toBe(0);
	};
	const text = readFileSync(chapel, "utf8");
	const site = /site:\n[\s\S]*?(?=---)/.exec(text)?.[0] ?? "";
	const library = `plan: { title: Sites, kind: library, format: 1 }\n---\n${site}`;
	const taking = text.replace(site, "site:\n  from: ../sites/chapel.lode.yaml\n");
	const raised = library.replace("[120, 18], [160, 49]", "[120, 60], [160, 70]");
	const write = (name: string, content: string) => writeFileSync(join(root, name), content);
	const at = (folder: string, ...args: string[]) => runIn(join(root, folder), "compare", ...args);

	for (const name of ["", "plans", "sites"]) mkdirSync(join(root, name), { recursive: true });
	write("sites/chapel.lode.yaml", library);
	write("plans/a.lode.yaml", taking);
	write("plans/b.lode.yaml", text);
	write("plans/c.lode.yaml", readFileSync(join(samples, "dry-gorge.lode.yaml"), "utf8"));
	symlinkSync("b.lode.yaml", join(root, "plans/link.lode.yaml"));
	gitIn(root, "init", "-q");
	gitIn(root, "add", ".");
	gitIn(root, "commit", "-qm", "plans");
	write("sites/chapel.lode.yaml", raised);
	gitIn(root, "mv", "plans/b.lode.yaml", "plans/renamed.lode.yaml");
	gitIn(root, "rm", "-q", "plans/c.lode.yaml");
	write("plans/d.lode.yaml", text.replace("Core over", "Another core over"));

	test("what a revision's plan takes is read at that revision", () => {
		const { stdout } = at("", "HEAD:plans/a.lode.yaml", "plans/a.lode.yaml");
		expect(stdout).toMatch(/New findings[\s\S]*\[target\/hidden\]/);
		expect(stdout).toMatch(/site: Skyline under the pole +50\.1° → 63\.5°/);
		expect(at("", "HEAD:plans/a.lode.yaml", "HEAD:plans/a.lode.yaml").stdout).toMatch(/^Nothing changed/);
		// The index has the plan's site as it was.
		expect(at("", "HEAD:plans/a.lode.yaml", ":plans/a.lode.yaml").stdout).toMatch(/^Nothing changed/);
	});

	test("from a sub-folder, by the path from the root or from there", () => {
		for (const source of ["HEAD:plans/a.lode.yaml", "HEAD:a.lode.yaml", "HEAD:./a.lode.yaml", ":a.lode.yaml"])
			expect(at("plans", source, "a.lode.yaml").stdout, source).toContain("[target/hidden]");
	});

	test("a plan that had another name is found under it", () => {
		expect(at("plans", "HEAD:renamed.lode.yaml", "renamed.lode.yaml", "--json")).toMatchObject({
			status: 0,
			stdout: expect.stringContaining('"old": "HEAD:plans/b.lode.yaml"'),
		});
		expect(at("", "HEAD:plans/none.lode.yaml", "plans/a.lode.yaml")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("there is no such plan in that revision"),
		});
	});

	test("links that are stored are not followed", () => {
		const { status, stderr } = at("", "HEAD:plans/link.lode.yaml", "plans/a.lode.yaml");
		expect(status).toBe(2);
		expect(stderr).toContain("it is a link there");
	});

	test("--exit-code: 1 when anything changed, else 0", () => {
		expect(at("", "HEAD:plans/a.lode.yaml", "plans/a.lode.yaml", "--exit-code").status).toBe(1);
		expect(at("", "HEAD:plans/a.lode.yaml", "HEAD:plans/a.lode.yaml", "--exit-code").status).toBe(0);
		expect(at("", "HEAD:", "HEAD:", "--exit-code").status).toBe(0);
		expect(at("", "HEAD:", ".", "--exit-code").status).toBe(1);
	});

	test("two folders: the summary first, then each plan that changed; a library's users too", () => {
		const { stdout, status } = at("", "HEAD:", ".");
		expect(status).toBe(0);
		const lines = stdout.split("\n");
		expect(lines[0]).toBe("5 plans compared: 2 changed, 1 renamed, 1 new and 1 deleted.");
		expect(lines.slice(1, 6).map((line) => line.trim().replace(/ {2,}/, ": "))).toEqual([
			expect.stringMatching(/^plans\/a\.lode\.yaml: changed by what it takes from other plans, 1 new error/),
			"plans/c.lode.yaml: deleted",
			"plans/d.lode.yaml: new",
			"plans/renamed.lode.yaml: renamed from plans/b.lode.yaml",
			expect.stringMatching(/^sites\/chapel\.lode\.yaml: /),
		]);
		expect(stdout).toContain("site: skyline  … [120, 18], [160, 49] … → … [120, 60], [160, 70] …");
		const record = JSON.parse(at("", "HEAD:plans", "plans", "--json").stdout);
		expect(record).toMatchObject({ old: "HEAD:plans", new: "plans", compared: 4 });
		expect(record.plans.map(({ path, state, was }: Record<string, string>) => [path, state, was])).toEqual([
			["a.lode.yaml", "changed", "a.lode.yaml"],
			["c.lode.yaml", "deleted", "c.lode.yaml"],
			["d.lode.yaml", "new", null],
			["renamed.lode.yaml", "changed", "b.lode.yaml"],
		]);
		const markdown = at("", "HEAD:plans", "plans", "--markdown").stdout;
		expect(markdown).toContain("### a.lode.yaml: changed by what it takes");
		expect(markdown.indexOf("| a.lode.yaml |")).toBeLessThan(markdown.indexOf("### a.lode.yaml"));
		expect(at("", "HEAD:", "plans/a.lode.yaml")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("is a plan"),
		});
	});

	test("in a module of the repository, and from it", () => {
		const outer = mkdtempSync(join(tmpdir(), "lodebook-outer-"));
		gitIn(outer, "init", "-q");
		gitIn(outer, "submodule", "--quiet", "add", root, "shared");
		writeFileSync(join(outer, "own.lode.yaml"), text.replace(site, "site:\n  from: shared/sites/chapel.lode.yaml\n"));
		gitIn(outer, "add", ".");
		gitIn(outer, "commit", "-qm", "outer");
		expect(runIn(outer, "compare", "HEAD:own.lode.yaml", "own.lode.yaml").stdout).toMatch(/^Nothing changed/);
		const inside = runIn(outer, "compare", "HEAD:shared/plans/a.lode.yaml", "shared/plans/a.lode.yaml");
		expect(inside.stdout).toMatch(/^Nothing changed/);
		writeFileSync(join(outer, "shared/sites/chapel.lode.yaml"), raised);
		expect(runIn(outer, "compare", "HEAD:own.lode.yaml", "own.lode.yaml").stdout).toContain("[target/hidden]");
		expect(runIn(join(outer, "shared/plans"), "compare", "HEAD:a.lode.yaml", "a.lode.yaml").stdout).toContain(
			"[target/hidden]",
		);
		renameSync(join(outer, "shared"), join(outer, "gone"));
		expect(runIn(outer, "compare", "HEAD:own.lode.yaml", "HEAD:own.lode.yaml").status).toBe(0);
	});

	test("no program of the repository's settings runs", () => {
		const ran = join(root, "ran");
		for (const setting of ["core.fsmonitor", "diff.external", "filter.x.clean", "filter.x.smudge", "diff.x.textconv"])
			gitIn(root, "config", setting, `touch ${ran}; cat`);
		write(".gitattributes", "*.lode.yaml filter=x diff=x\n");
		at("", "HEAD:", ".");
		at("plans", "HEAD:renamed.lode.yaml", ":renamed.lode.yaml");
		expect(() => readFileSync(ran)).toThrow("ENOENT");
	});
});
