/** A made repository of 40 plans, 5 libraries and 2 groups with a history: every path that works on many plans, run in it. */
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, test } from "vitest";
import {
	GROUPS,
	LIBRARIES,
	type MadeRepository,
	MEMBERS,
	madeRepository,
	PLANS,
	planPath,
} from "../../made-repository.ts";
import { CLI } from "../client.ts";

const SCRIPT = fileURLToPath(new URL("../../../.github/actions/check-plans/check.sh", import.meta.url));
/** Plans, libraries, groups with a kit for each member. */
const COUNT = PLANS + LIBRARIES.length + GROUPS.length * (1 + MEMBERS.length);
const isThere = (command: string): boolean => spawnSync(command, ["--version"]).status === 0;

let made: MadeRepository;
const lodebook = (...args: string[]) => {
	const { status, stdout, stderr } = made.run(process.execPath, [CLI, ...args]);
	return { status, stdout, stderr };
};

beforeAll(() => {
	made = madeRepository();
});

describe.skipIf(process.platform === "win32")("in the made repository", () => {
	test("the same commits each time", () => {
		expect(madeRepository().commits).toEqual(made.commits);
		expect(made.commits.length).toBe(8);
	});

	test("check: every plan but the draft, in order, and nothing of how they are written is wrong", () => {
		const { stdout, stderr } = lodebook("check", ".", "--json");
		const { files } = JSON.parse(stdout);
		expect(files.length).toBe(COUNT + 1);
		const paths = files.map(({ path }: { path: string }) => path);
		expect([...paths].sort()).toEqual(paths);
		expect(paths).toContain("plans/02-fold.lode.yaml");
		expect(stderr).toContain("1 plan is left out because of `exclude` in the settings");
		const codes = files.flatMap(({ findings }: { findings: { code: string }[] }) => findings.map(({ code }) => code));
		expect(codes.filter((code: string) => /^(?:structure|reuse|settings)\//.test(code))).toEqual([]);
	});

	test("a draft on standard input takes from the libraries as if it were there", () => {
		const text = made.read(planPath(4));
		const { status, stdout } = made.run("bash", [
			"-c",
			`printf '%s' "$1" | "$2" "$3" check - --stdin-path plans/new.lode.yaml --json`,
			"-",
			text,
			process.execPath,
			CLI,
		]);
		expect(status).toBe(lodebook("check", planPath(4)).status);
		expect(stdout).toContain('"path": "plans/new.lode.yaml"');
		expect(stdout).not.toContain("reuse/");
	});

	test("parts of a matrix have together what the whole has", () => {
		const parts = [1, 2, 3].map((part) => {
			const script = `git ls-files -z 'plans/*.lode.yaml' | split -t '\\0' -n r/${part}/3 | xargs -0 -r "$0" "$1" check --json --`;
			const { stdout } = made.run("bash", ["-c", script, process.execPath, CLI]);
			return JSON.parse(stdout).files.map(({ path }: { path: string }) => path);
		});
		expect(parts.map(({ length }) => length)).toEqual([14, 13, 13]);
		expect(parts.flat().sort()).toEqual(made.git("ls-files", "plans").split("\n").sort());
	});

	test("compare: a library that changed, seen in all that take from it; a plan with another name is the same", () => {
		const [, , , , before, renamed, raised] = made.commits as string[];
		const compared = (from: string, to: string) => {
			const { status, stdout } = lodebook("compare", `${from}:`, `${to}:`, "--json", "--exit-code");
			return { status, plans: JSON.parse(stdout).plans as { path: string; state: string; was: string }[] };
		};
		const moved = compared(before as string, renamed as string);
		expect(moved).toMatchObject({ status: 1, plans: [{ path: "plans/02-fold.lode.yaml", was: planPath(2) }] });
		const wall = compared(renamed as string, raised as string);
		expect(wall.status).toBe(1);
		const paths = wall.plans.map(({ path }) => path);
		// Those of the south are every other one.
		expect(paths.filter((path) => path.startsWith("plans/")).sort()).toEqual(
			Array.from({ length: PLANS / 2 }, (_, i) => planPath(2 * i + 1)),
		);
		expect(paths).toEqual(expect.arrayContaining([...GROUPS, "sites/south.lode.yaml"]));
		expect(paths).not.toContain("sites/north.lode.yaml");
		expect(compared(raised as string, raised as string)).toEqual({ status: 0, plans: [] });
	});

	test("compare: with the folder as it is, nothing is gone that the settings pass over; a rename from which nothing follows is that alone", () => {
		const clean = lodebook("compare", "HEAD:", ".", "--exit-code");
		expect(clean.stdout).toMatch(/^\d+ plans compared: \d+ unchanged\.$/m);
		expect(clean.status).toBe(0);
		expect(lodebook("compare", `${made.commits[0]}:`, ".").stdout).not.toContain("drafts");
		// Settings have come since, which change nothing in it.
		const line = / *02-fold\.lode\.yaml .*/.exec(lodebook("compare", `${made.commits[4]}:plans`, "plans").stdout)?.[0];
		expect(line?.trim()).toBe("02-fold.lode.yaml  renamed from 02.lode.yaml");
	});

	test("the action: a raised skyline in a shared site is checked in each plan that takes it", () => {
		const own = mkdtempSync(join(tmpdir(), "lodebook-runner-"));
		const [, , , , , renamed] = made.commits as string[];
		const { status, stdout } = made.run("bash", [SCRIPT], {
			BASE: renamed as string,
			CLI,
			FAIL_ON: "error",
			RUNNER_TEMP: own,
			GITHUB_OUTPUT: join(own, "output"),
			GITHUB_STEP_SUMMARY: join(own, "step"),
		});
		const summary = readFileSync(join(own, "lodebook-summary.md"), "utf8");
		expect(stdout).toMatch(/^::(?:error|warning|notice) file=plans\/01\.lode\.yaml,/m);
		expect(stdout).not.toMatch(/file=plans\/00\.lode\.yaml/);
		for (let i = 0; i < PLANS / 2; i++)
			expect(summary).toContain(`### ${planPath(2 * i + 1)}: changed by what it takes from other plans`);
		expect(summary).not.toContain(planPath(0));
		expect([0, 1]).toContain(status);
	});

	test("two branches that changed one plan are merged by its cells", () => {
		const other = madeRepository();
		const driver = `"${process.execPath}" "${CLI}" merge --marker-size %L --path %P -- %O %A %B`;
		other.git("config", "merge.lodebook.driver", driver);
		other.write(".gitattributes", "*.lode.yaml merge=lodebook\n");
		other.commit("Plans are merged as plans");
		other.git("checkout", "-qb", "later");
		other.edit(planPath(6), (text) => text.replace(/leave: \S+/, 'leave: "03:00"'));
		other.commit("Longer");
		other.git("checkout", "-q", "main");
		other.edit(planPath(6), (text) => text.replace("title: Night 7", "title: The seventh night"));
		other.edit(planPath(6), (text) => text.replace(/arrive: \S+/, 'arrive: "18:00"'));
		other.commit("Another title, and later");
		other.git("merge", "-q", "--no-edit", "later");
		const merged = other.read(planPath(6));
		for (const part of ['leave: "03:00"', 'arrive: "18:00"', "title: The seventh night"])
			expect(merged).toContain(part);
		expect(merged).not.toContain("<<<<<<<");
	});

	test("report: all of them, libraries with those who take from them, a card for each of a group", () => {
		const { status, stderr } = lodebook("report", ".", "-o", "site");
		expect(stderr).toContain(`${COUNT} plans in site`);
		expect(status).toBe(0);
		const pages = readdirSync(join(made.folder, "site"), { recursive: true, encoding: "utf8" });
		expect(pages.filter((path) => path.endsWith("index.html")).length).toBe(COUNT + 1);
		const index = made.read("site/index.html");
		expect(index.match(/<tr>/g)?.length).toBe(1 + PLANS + GROUPS.length);
		const south = made.read("site/plans/sites/south.plan/index.html");
		expect(south.match(/href="[^"]*plans\/plans\/\d\d\.plan\/index\.html"/g)?.length).toBe(PLANS / 2);
		for (const [place, name] of MEMBERS.entries())
			expect(made.read(`site/plans/groups/spring.plan/card-${place + 1}.html`)).toContain(`Workshop 1: ${name}</h1>`);
		made.git("clean", "-qfdx");
	});

	test("nights of all plans, each under its name; libraries and groups' kits have none", () => {
		const { stdout } = lodebook("nights", "plans", "--from", "2027-06-03", "--until", "2027-06-05", "--best", "1");
		expect(stdout.match(/^plans\/\S+ {2}Night \d+$/gm)?.length).toBe(PLANS);
	});

	test.skipIf(!isThere("pre-commit"))("pre-commit runs the hooks on what is staged", () => {
		const hooks = readFileSync(new URL("../../../.pre-commit-hooks.yaml", import.meta.url), "utf8");
		// As they are for others, but with the command line that is built here.
		const local = hooks
			.replace(/entry: hook\.sh/g, `entry: "'${process.execPath}' '${CLI}'"`.replace(/"$/, ""))
			.replace(/(entry: ".*?)$/gm, '$1"')
			.replace(/language: script/g, "language: system");
		made.write(
			".pre-commit-config.yaml",
			`repos:\n  - repo: local\n    hooks:\n${local.replace(/^(?=.)/gm, "      ")}`,
		);
		made.edit(planPath(8), (text) => text.replace(/leave: \S+/, "leave: 02:00").replace("night:", "nihgt:"));
		made.git("add", "-A");
		const { status, stdout, stderr } = made.run("pre-commit", ["run"], {
			PRE_COMMIT_HOME: mkdtempSync(join(tmpdir(), "lodebook-hooks-")),
		});
		made.git("reset", "-q", "--hard");
		expect(stdout + stderr).toMatch(/check plans\.+Failed[\s\S]*plans\/08\.lode\.yaml:\d+:\d+ {2}error/);
		expect(status).toBe(1);
		expect(existsSync(join(made.folder, ".pre-commit-config.yaml"))).toBe(false);
	});
});
