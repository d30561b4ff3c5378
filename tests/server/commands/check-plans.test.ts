/** The action's script, run in repositories of its own. */
import { spawnSync } from "node:child_process";
import {
	cpSync,
	existsSync,
	mkdirSync,
	mkdtempSync,
	readFileSync,
	realpathSync,
	rmSync,
	symlinkSync,
	writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { describe, expect, test } from "vitest";
import { CLI } from "../client.ts";
import { chapel } from "./run.ts";

const SCRIPT = fileURLToPath(new URL("../../../.github/actions/check-plans/check.sh", import.meta.url));
const text = readFileSync(chapel, "utf8");

class Repository {
	readonly folder: string;

	constructor(folder = realpathSync(mkdtempSync(join(tmpdir(), "lodebook-repository-")))) {
		this.folder = folder;
	}

	run(command: string, args: readonly string[], env: Record<string, string> = {}) {
		return spawnSync(command, args, {
			cwd: this.folder,
			encoding: "utf8",
			env: { ...process.env, ...env, NO_COLOR: "1" },
		});
	}

	git(...args: string[]): string {
		const { status, stdout, stderr } = this.run("git", [
			...["-c", "user.name=t", "-c", "user.email=t@example.org", "-c", "protocol.file.allow=always"],
			...args,
		]);
		expect(status, `git ${args.join(" ")}: ${stderr}`).toBe(0);
		return stdout.trim();
	}

	write(name: string, content: string = text): void {
		writeFileSync(join(this.folder, name), content);
	}

	/** Commits everything; gives the commit. */
	commit(): string {
		this.git("add", "-A");
		this.git("commit", "-qm", "change", "--allow-empty");
		return this.git("rev-parse", "HEAD");
	}

	/** A repository with two plans in its first commit. */
	static begun(): { readonly repository: Repository; readonly base: string } {
		const repository = new Repository();
		repository.git("init", "-q");
		repository.write("kept.lode.yaml");
		repository.write("changed.lode.yaml");
		return { repository, base: repository.commit() };
	}

	/** Runs the script; what it writes goes to a folder of its own. */
	check(base: string, env: Record<string, string> = {}) {
		const own = mkdtempSync(join(tmpdir(), "lodebook-runner-"));
		const { status, stdout, stderr } = this.run("bash", [SCRIPT], {
			BASE: base,
			CLI,
			RUNNER_TEMP: own,
			GITHUB_OUTPUT: join(own, "output"),
			GITHUB_STEP_SUMMARY: join(own, "step"),
			...env,
		});
		const read = (name: string): string => (existsSync(join(own, name)) ? readFileSync(join(own, name), "utf8") : "");
		expect(read("output")).toBe(`summary=${join(own, "lodebook-summary.md")}\n`);
		return { status, stdout, stderr, summary: read("lodebook-summary.md"), step: read("step") };
	}
}

/** Every line that a workflow would obey, by what it commands. */
const commandsIn = (stdout: string): readonly string[] =>
	stdout.split(/\r\n|\n|\r/).flatMap((line) => /^\s*::([\w-]+)|##\[(\w+)/.exec(line)?.slice(1).find(Boolean) ?? []);

// What is called bash on Windows may be another system.
describe.skipIf(process.platform === "win32")("on a branch", () => {
	test("annotates changed plans only, compares the old and shows the new, and no name of a file runs", () => {
		const { repository, base } = Repository.begun();
		repository.write("changed.lode.yaml", text.replace('at: "20:01"', 'at: "20:20"'));
		repository.write("-$(touch ran)`touch ran`.lode.yaml");
		repository.commit();
		const { status, stdout, summary, step } = repository.check(base);
		expect(status).toBe(1);
		expect(stdout).toMatch(/^::error file=changed\.lode\.yaml,line=40,.*title=method\/guide-star-not-there::/m);
		expect(stdout).not.toContain("kept");
		expect(summary).toContain("| method 1 | at | 20:01 | 20:20 |");
		expect(summary).toContain("## Core over the roofless chapel");
		expect(step).toBe(summary);
		expect(existsSync(join(repository.folder, "ran"))).toBe(false);
	});

	test("compares with where the branch began, not with what the base has become since", () => {
		const { repository, base } = Repository.begun();
		const main = repository.git("symbolic-ref", "--short", "HEAD");
		repository.git("checkout", "-qb", "other");
		repository.write("changed.lode.yaml", text.replace('at: "20:01"', 'at: "20:20"'));
		repository.commit();
		repository.git("checkout", "-q", main);
		repository.write("changed.lode.yaml", text.replace('at: "20:01"', 'at: "20:09"'));
		const ahead = repository.commit();
		expect(ahead).not.toBe(base);
		repository.git("checkout", "-q", "other");
		expect(repository.check(ahead).summary).toContain("| method 1 | at | 20:01 | 20:20 |");
	});

	test("nothing changed", () => {
		const { repository, base } = Repository.begun();
		repository.write("README", "x");
		repository.commit();
		expect(repository.check(base)).toMatchObject({
			status: 0,
			stdout: "No plan is changed.\n",
			summary: "No plan is changed.\n",
		});
	});

	test("links, new ones and those that replace a plan, are left out and said; what they lead to is not read", () => {
		const { repository, base } = Repository.begun();
		const secret = join(mkdtempSync(join(tmpdir(), "lodebook-")), "secret.lode.yaml");
		writeFileSync(secret, "plan:\n  secret: 1\n");
		rmSync(join(repository.folder, "changed.lode.yaml"));
		symlinkSync(secret, join(repository.folder, "changed.lode.yaml"));
		symlinkSync(secret, join(repository.folder, "new.lode.yaml"));
		repository.commit();
		const { status, stdout, summary, step } = repository.check(base);
		expect(status).toBe(0);
		expect(stdout).toBe(
			["changed", "new"]
				.map(
					(name) =>
						`::notice title=Plan is not checked::${name}.lode.yaml: it is a symbolic link, and links are not followed.\n`,
				)
				.join(""),
		);
		expect(summary).toContain("- `changed.lode.yaml` is not checked: it is a symbolic link");
		expect(summary + stdout).not.toMatch(/secret|No plan is changed/);
		expect(step).toBe(summary);
	});

	const site = /site:\n[\s\S]*?(?=---)/.exec(text)?.[0] ?? "";
	const library = `plan: { title: Sites, kind: library, format: 1 }\n---\n${site}`;
	const raised = library.replace("[120, 18], [160, 49]", "[120, 60], [160, 70]");

	/** A repository with a library and a plan that takes its site from it. */
	function withLibrary() {
		const { repository } = Repository.begun();
		mkdirSync(join(repository.folder, "plans"));
		repository.write("sites.lode.yaml", library);
		repository.write("plans/taking.lode.yaml", text.replace(site, "site:\n  from: ../sites.lode.yaml\n"));
		return { repository, base: repository.commit() };
	}

	test("a changed library: the plans that take from it are checked and compared too", () => {
		const { repository, base } = withLibrary();
		repository.write("sites.lode.yaml", raised);
		repository.commit();
		const { status, stdout, summary } = repository.check(base);
		expect(status).toBe(1);
		expect(stdout).toMatch(/^::error file=plans\/taking\.lode\.yaml,.*title=target\/hidden::/m);
		expect(stdout).not.toContain("kept");
		expect(summary).toContain("### plans/taking.lode.yaml: changed by what it takes from other plans, 1 new error");
		expect(summary).toContain("### sites.lode.yaml: ");
	});

	test("a library that is taken away: what took from it is checked", () => {
		const { repository, base } = withLibrary();
		rmSync(join(repository.folder, "sites.lode.yaml"));
		repository.commit();
		const { status, stdout, summary } = repository.check(base);
		expect(status).toBe(1);
		expect(stdout).toMatch(/^::error file=plans\/taking\.lode\.yaml,/m);
		expect(summary).toMatch(/\| sites\.lode\.yaml \| deleted \|/);
	});

	test("renamed and deleted plans are said so", () => {
		const { repository, base } = Repository.begun();
		repository.git("mv", "changed.lode.yaml", "moved.lode.yaml");
		repository.write("moved.lode.yaml", text.replace('at: "20:01"', 'at: "20:20"'));
		repository.git("rm", "-q", "kept.lode.yaml");
		repository.commit();
		const { status, stdout, summary } = repository.check(base);
		expect(status).toBe(1);
		expect(stdout).toMatch(/^::error file=moved\.lode\.yaml,line=40,/m);
		expect(summary).toMatch(
			/\| moved\.lode\.yaml \| renamed from (changed|kept)\.lode\.yaml, method 1 edited, 1 new error/,
		);
		expect(summary).toMatch(/\| (kept|changed)\.lode\.yaml \| deleted \|/);
		expect(summary).toContain("### moved.lode.yaml: renamed");
	});

	test("only deleted: nothing is checked, and the summary says so", () => {
		const { repository, base } = Repository.begun();
		repository.git("rm", "-q", "kept.lode.yaml");
		repository.commit();
		const { status, stdout, summary } = repository.check(base);
		expect([status, stdout]).toEqual([0, ""]);
		expect(summary).toMatch(/\| kept\.lode\.yaml \| deleted \|/);
	});

	test("a link that becomes a plan is shown as a new one", () => {
		const { repository } = Repository.begun();
		symlinkSync("kept.lode.yaml", join(repository.folder, "link.lode.yaml"));
		const base = repository.commit();
		rmSync(join(repository.folder, "link.lode.yaml"));
		repository.write("link.lode.yaml");
		repository.commit();
		const { status, summary } = repository.check(base);
		expect(status).toBe(0);
		expect(summary).toContain("## Core over the roofless chapel");
	});

	test("a name that holds a line break and a workflow command says nothing", () => {
		const { repository, base } = Repository.begun();
		for (const name of ["a\n::warning::owned.lode.yaml", "b\r::error::owned.lode.yaml", "##[error]owned.lode.yaml"])
			symlinkSync("nowhere", join(repository.folder, name));
		symlinkSync("nowhere", join(repository.folder, "`|<b>%0A::error::é.lode.yaml"));
		repository.write("c\n::warning::owned.lode.yaml");
		repository.commit();
		const { stdout, stderr, summary } = repository.check(base);
		expect(new Set(commandsIn(stdout + stderr))).toEqual(new Set(["notice"]));
		expect(commandsIn(stdout)).toHaveLength(4);
		expect(commandsIn(summary)).toEqual([]);
		expect(stdout).toContain("a\\x0a\\x3a\\x3awarning\\x3a\\x3aowned.lode.yaml: it is a symbolic link");
		expect(summary).toContain("\\x60\\x7c\\x3cb\\x3e\\x250A\\x3a\\x3aerror\\x3a\\x3a\\xc3\\xa9.lode.yaml");
	});

	test("a file over the limit, a module of another repository, a pipe in a plan's place: left out and said", () => {
		const { repository, base } = Repository.begun();
		const inner = Repository.begun();
		repository.git("clone", "-q", inner.repository.folder, "module.lode.yaml");
		repository.write("large.lode.yaml", "#".repeat(5_000_001));
		repository.write("pipe.lode.yaml");
		repository.write("small.lode.yaml");
		repository.commit();
		rmSync(join(repository.folder, "pipe.lode.yaml"));
		spawnSync("mkfifo", [join(repository.folder, "pipe.lode.yaml")]);
		const { status, stdout, summary } = repository.check(base);
		expect(status).toBe(0);
		expect(stdout.split("\n")).toEqual([
			"::notice title=Plan is not checked::large.lode.yaml: it has 5000001 bytes, and at most 5000000 are read.",
			"::notice title=Plan is not checked::module.lode.yaml: it is not a file.",
			"::notice title=Plan is not checked::pipe.lode.yaml: it is not a file in the folder that is checked.",
			"",
		]);
		expect(summary.match(/is not checked/g)).toHaveLength(3);
		expect(summary).toContain("## Core over the roofless chapel");
	});

	test("a shallow clone is deepened until it can be compared", () => {
		const { repository, base } = Repository.begun();
		for (let i = 0; i < 3; i++) {
			repository.write("README", String(i));
			repository.commit();
		}
		repository.write("changed.lode.yaml", text.replace('at: "20:01"', 'at: "20:20"'));
		repository.commit();
		const folder = realpathSync(mkdtempSync(join(tmpdir(), "lodebook-shallow-")));
		const shallow = new Repository(join(folder, "clone"));
		repository.git("clone", "-q", "--depth=1", pathToFileURL(repository.folder).href, shallow.folder);
		expect(shallow.git("rev-parse", "--is-shallow-repository")).toBe("true");
		const { status, stdout, summary } = shallow.check(base);
		expect(status).toBe(1);
		expect(stdout).toMatch(/^::error file=changed\.lode\.yaml,line=40,/m);
		expect(summary).toContain("| method 1 | at | 20:01 | 20:20 |");
	});

	test("a shallow clone that cannot be deepened, a base that is nowhere, no repository: status 2, and said", () => {
		const { repository, base } = Repository.begun();
		repository.write("changed.lode.yaml", text.replace('at: "20:01"', 'at: "20:20"'));
		repository.commit();
		const folder = realpathSync(mkdtempSync(join(tmpdir(), "lodebook-shallow-")));
		const shallow = new Repository(join(folder, "clone"));
		repository.git("clone", "-q", "--depth=1", pathToFileURL(repository.folder).href, shallow.folder);
		shallow.git("remote", "set-url", "origin", pathToFileURL(join(folder, "gone")).href);
		const none = join(folder, "none");
		mkdirSync(none);
		for (const { status, stdout, summary, step } of [
			shallow.check(base),
			repository.check("0123456789012345678901234567890123456789"),
			new Repository(none).check(base, { GIT_CEILING_DIRECTORIES: folder }),
		]) {
			expect(status).toBe(2);
			expect(stdout).toMatch(/^::error title=Plans are not checked::[^\n]+\n$/);
			expect(summary).toMatch(/^Plans are not checked: /);
			expect(step).toBe(summary);
			expect(stdout + summary).not.toContain("No plan is changed");
		}
	});

	test.each(["diff", "cat-file"])("git %s fails: status 2, and said", (command) => {
		const { repository, base } = Repository.begun();
		repository.write("changed.lode.yaml", text.replace('at: "20:01"', 'at: "20:20"'));
		repository.commit();
		const bin = mkdtempSync(join(tmpdir(), "lodebook-bin-"));
		const git = spawnSync("bash", ["-c", "command -v git"], { encoding: "utf8" }).stdout.trim();
		writeFileSync(join(bin, "git"), `#!/bin/sh\n[ "$1" = ${command} ] && exit 128\nexec ${git} "$@"\n`, {
			mode: 0o755,
		});
		const { status, stdout } = repository.check(base, { PATH: `${bin}:${process.env.PATH}` });
		expect(status).toBe(2);
		expect(stdout).toBe(`::error title=Plans are not checked::git ${command} failed.\n`);
	});

	test("a long summary is cut between two characters", () => {
		const { repository, base } = Repository.begun();
		for (let i = 0; i < 40; i++)
			repository.write(`${i}.lode.yaml`, text.replace("Core over the roofless chapel", "é日𝄞".repeat(300 + i)));
		repository.commit();
		const { summary } = repository.check(base);
		expect(summary).toMatch(/The rest is left out: it is too long for a comment\.\n$/);
		expect(summary).not.toContain("\uFFFD");
		expect(Buffer.byteLength(summary)).toBeGreaterThan(59_000);
	});
});

describe.skipIf(process.platform === "win32")("the command line of the action", () => {
	const root = fileURLToPath(new URL("../../../", import.meta.url));
	const tool = (script: string, env: Record<string, string>) => {
		const own = mkdtempSync(join(tmpdir(), "lodebook-runner-"));
		const { status, stdout, stderr } = spawnSync("bash", [script], {
			cwd: own,
			encoding: "utf8",
			env: { ...process.env, RUNNER_TEMP: own, GITHUB_OUTPUT: join(own, "output"), ...env },
		});
		const output = join(own, "output");
		return { status, stdout, stderr, cli: existsSync(output) ? readFileSync(output, "utf8").slice(4).trim() : "" };
	};
	const script = join(root, ".github/actions/check-plans/tool.sh");

	/** The files of the tree, as a clone has them. */
	const cloned = (): string => {
		const clone = join(mkdtempSync(join(tmpdir(), "lodebook-clone-")), "lodebook");
		mkdirSync(clone);
		const listed = spawnSync("git", ["ls-files", "-z", "-c", "-o", "--exclude-standard"], {
			cwd: root,
			encoding: "utf8",
		}).stdout.split("\0");
		for (const name of listed.filter((one) => one !== "" && existsSync(join(root, one)))) {
			mkdirSync(dirname(join(clone, name)), { recursive: true });
			cpSync(join(root, name), join(clone, name));
		}
		return clone;
	};

	test("packed: another repository is checked with it alone", () => {
		const folder = mkdtempSync(join(tmpdir(), "lodebook-packed-"));
		const packed = spawnSync("npm", ["pack", "--ignore-scripts", "--silent", "--pack-destination", folder], {
			cwd: root,
			encoding: "utf8",
		});
		const { status, cli } = tool(script, { TOOL: join(folder, packed.stdout.trim()) });
		expect(status).toBe(0);
		expect(cli).not.toContain(root);
		const { repository, base } = Repository.begun();
		repository.write("changed.lode.yaml", text.replace('at: "20:01"', 'at: "20:20"'));
		repository.commit();
		const checked = repository.check(base, { CLI: cli });
		expect(checked.status, checked.stderr).toBe(1);
		expect(checked.summary).toContain("| method 1 | at | 20:01 | 20:20 |");
	});

	test("a clean clone builds its own; what is not there is said", () => {
		const clone = cloned();
		symlinkSync(join(root, "node_modules"), join(clone, "node_modules"));
		const built = tool(join(clone, ".github/actions/check-plans/tool.sh"), { TOOL: "" });
		expect(built.status, built.stderr).toBe(0);
		expect(realpathSync(built.cli)).toBe(realpathSync(join(clone, "dist/lodebook.mjs")));
		expect(spawnSync(process.execPath, [built.cli, "check", chapel]).status).toBe(0);
		const missing = tool(script, { TOOL: join(clone, "none.tgz") });
		expect(missing).toMatchObject({
			status: 2,
			stdout: expect.stringMatching(/^::error title=Plans are not checked::/),
		});
	});

	test("a hook of pre-commit builds that of its clean clone once, and says what it lacks", () => {
		const clone = cloned();
		const bin = mkdtempSync(join(tmpdir(), "lodebook-bin-"));
		// Nothing is fetched: npm is told what it would have put there.
		const npm = (does: string): void => writeFileSync(join(bin, "npm"), `#!/bin/sh\n${does}\n`, { mode: 0o755 });
		const hook = (...args: string[]) =>
			spawnSync(join(clone, "hook.sh"), args, {
				encoding: "utf8",
				env: { ...process.env, PATH: `${bin}:${process.env.PATH}` },
			});
		npm("exit 1");
		expect(hook("check", "--", chapel)).toMatchObject({
			status: 2,
			stdout: "",
			stderr: expect.stringMatching(/cannot be built; it needs Node 20\.19 or newer, and npm\.\n$/),
		});
		npm(`ln -s '${join(root, "node_modules")}' node_modules`);
		const first = hook("check", "--", chapel);
		expect([first.status, first.stdout], first.stderr).toEqual([0, "1 plan checked: no problems found.\n"]);
		npm("exit 1");
		expect(hook("check", "--", chapel).status).toBe(0);
	});
});

test("the hooks: a file whose name is an option's is a file", () => {
	const hooks = readFileSync(new URL("../../../.pre-commit-hooks.yaml", import.meta.url), "utf8");
	const entries = [...hooks.matchAll(/entry: hook\.sh (.+)\n {2}args: \[(.*)\]/g)];
	expect(entries).toHaveLength(2);
	for (const [, entry = "", args = ""] of entries) {
		const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
		writeFileSync(join(folder, "--json.lode.yaml"), text);
		const { status, stderr } = spawnSync(
			process.execPath,
			[CLI, ...entry.split(" "), ...args.split(", "), "--json.lode.yaml"],
			{ cwd: folder, encoding: "utf8" },
		);
		expect(status, stderr).toBe(0);
	}
});
