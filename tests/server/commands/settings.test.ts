/** Settings of a repository on the command line. */
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { planWith } from "../../plan-text.ts";
import { lodebook, runIn } from "./run.ts";

const field = planWith({
	site: "name: Open field\nlatitude: 32.4123 S\nlongitude: 54.3622 W",
	method: "kind: phone",
});

function repository(settings: string): string {
	const root = mkdtempSync(join(tmpdir(), "lodebook-repository-"));
	mkdirSync(join(root, ".git"));
	mkdirSync(join(root, "plans/drafts"), { recursive: true });
	writeFileSync(join(root, "plans/a.lode.yaml"), field);
	writeFileSync(join(root, "plans/drafts/b.lode.yaml"), "site: {\n");
	writeFileSync(join(root, "lodebook.lode.yaml"), `settings:\n${settings.replace(/^/gm, "  ")}\n`);
	return root;
}

const paths = (stdout: string, root: string): readonly string[] =>
	JSON.parse(stdout).files.map(({ path }: { path: string }) => path.slice(root.length + 1));

test("what they exclude is passed over in folders, and checked where it is named", () => {
	const root = repository("exclude: [plans/drafts]");
	const { status, stdout, stderr } = lodebook("check", root, "--json");
	expect(status).toBe(0);
	expect(stderr).toContain("1 plan is left out because of `exclude` in the settings");
	writeFileSync(join(root, "plans/drafts/c.lode.yaml"), "site: {\n");
	for (const command of ["check", "format"])
		expect(lodebook(command, join(root, "plans")).stderr).toContain("2 plans are left out");
	expect(lodebook("check", join(root, "plans/a.lode.yaml")).stderr).not.toContain("left out");
	expect(paths(stdout, root)).toEqual(["lodebook.lode.yaml", "plans/a.lode.yaml"]);
	expect(lodebook("check", join(root, "plans/drafts/b.lode.yaml")).status).toBe(1);
	expect(paths(lodebook("check", join(root, "plans"), "--json").stdout, root)).toEqual(["plans/a.lode.yaml"]);
});

test("what makes a check fail, unless the command says otherwise", () => {
	const root = repository("exclude: [plans/drafts]\nfail-on: note");
	expect(lodebook("check", root).status).toBe(1);
	expect(lodebook("check", root, "--fail-on", "error").status).toBe(0);
	const strict = repository("exclude: [plans/drafts]\nfindings: [{ code: method/better-available, severity: error }]");
	const { status, stdout } = lodebook("check", strict);
	expect(status).toBe(1);
	expect(stdout).toMatch(/a\.lode\.yaml:\d+:\d+ {2}error .*\[method\/better-available\]/);
});

test("defaults are in every answer", () => {
	const root = repository("defaults: { prepare: { walk-in: 40 min } }");
	expect(lodebook("evening", join(root, "plans/a.lode.yaml")).stdout).toMatch(/16:20–17:00 +Walk in/);
});

test("a link out of the repository is not read", () => {
	const root = repository("fail-on: error");
	const other = mkdtempSync(join(tmpdir(), "lodebook-elsewhere-"));
	writeFileSync(join(other, "s.lode.yaml"), "settings:\n  fail-on: note\n");
	const linked = mkdtempSync(join(tmpdir(), "lodebook-linked-"));
	mkdirSync(join(linked, ".git"));
	writeFileSync(join(linked, "a.lode.yaml"), field);
	symlinkSync(join(other, "s.lode.yaml"), join(linked, "lodebook.lode.yaml"));
	expect(lodebook("check", join(linked, "a.lode.yaml")).status).toBe(0);
	expect(lodebook("check", join(root, "plans/a.lode.yaml")).status).toBe(0);
});

test("a default that changed is seen in a comparison of folders, though no plan's text did", () => {
	const folder = mkdtempSync(join(tmpdir(), "settings-git-"));
	const git = (...args: string[]) =>
		execFileSync("git", ["-c", "user.name=a", "-c", "user.email=a@example.org", ...args], { cwd: folder });
	git("init", "-q");
	writeFileSync(join(folder, "a.lode.yaml"), planWith({}));
	git("add", ".");
	git("commit", "-qm", "one");
	writeFileSync(join(folder, "lodebook.lode.yaml"), "settings:\n  defaults: { prepare: { set-up: 47 min } }\n");
	expect(runIn(folder, "compare", "HEAD:.", ".").stdout).not.toContain("1 unchanged");
	git("add", ".");
	git("commit", "-qm", "two");
	expect(runIn(folder, "compare", "HEAD:.", ".", "--exit-code").status).toBe(0);
});
