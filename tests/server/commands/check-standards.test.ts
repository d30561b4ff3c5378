/** How `check` keeps to what other programs expect: standard input, fixes, colour, SARIF, reproducible answers. */
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { CLI } from "../client.ts";
import { chapel, lodebook, runIn } from "./run.ts";

const text = readFileSync(chapel, "utf8");
const wrong = text.replace('at: "20:01"', 'at: "20:20"');
const run = (args: readonly string[], { input = "", env = {}, cwd = tmpdir() } = {}) =>
	spawnSync(process.execPath, [CLI, ...args], {
		input,
		cwd,
		encoding: "utf8",
		env: { ...process.env, NO_COLOR: "", FORCE_COLOR: "", ...env },
	});

describe("standard input", () => {
	test.skipIf(process.platform === "win32")(
		"is a plan by the name that is given, and takes from others as if it were there",
		() => {
			const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
			mkdirSync(join(folder, "plans"));
			const site = /site:\n[\s\S]*?(?=---)/.exec(text)?.[0] ?? "";
			writeFileSync(join(folder, "sites.lode.yaml"), `plan: { title: Sites, kind: library }\n---\n${site}`);
			const taking = wrong.replace(site, "site:\n  from: ../sites.lode.yaml\n");
			const asked = ["check", "-", "--stdin-path", "plans/draft.lode.yaml"];
			const { status, stdout } = run(asked, { input: taking, cwd: folder });
			expect(status).toBe(1);
			expect(stdout).toMatch(/^plans\/draft\.lode\.yaml:\d+:\d+ {2}error .*\[method\/guide-star-not-there\]/m);
			expect(stdout).not.toContain("reuse/");
			expect(run(["check", "-"], { input: text }).status).toBe(0);
		},
	);

	test("options that exclude each other are refused", () => {
		for (const args of [
			["-", chapel],
			["-", "--fix"],
			[chapel, "--stdin-path", "a.lode.yaml"],
		])
			expect(run(["check", ...args]).status, args.join(" ")).toBe(2);
	});
});

test("--fix writes what cannot change the meaning, and tells of the rest", () => {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
	const path = join(folder, "a.lode.yaml");
	writeFileSync(path, wrong.replace('arrive: "17:00"', "arrive: 17:00").replace('leave: "02:00"', "leave: 02:00"));
	const { status, stdout, stderr } = runIn(folder, "check", "a.lode.yaml", "--fix");
	expect(readFileSync(path, "utf8")).toBe(wrong);
	expect(stderr).toContain("a.lode.yaml: 2 fixes applied");
	expect(stdout).toContain("method/guide-star-not-there");
	expect(stdout).not.toContain("structure/unquoted-clock");
	expect(status).toBe(1);
});

test("colour: NO_COLOR first, then FORCE_COLOR, an empty one being none", () => {
	const coloured = (env: Record<string, string>): boolean =>
		run(["check", chapel], { env }).stdout.includes("\u001b[") ||
		run(["show", chapel], { env }).stdout.includes("\u001b[");
	expect(coloured({})).toBe(false);
	expect(coloured({ FORCE_COLOR: "1" })).toBe(true);
	expect(coloured({ FORCE_COLOR: "0" })).toBe(false);
	expect(coloured({ FORCE_COLOR: "1", NO_COLOR: "1" })).toBe(false);
});

test("a calendar is the same bytes for the same moment of a build, ends its last line, and what is later has a higher number", () => {
	const made = (epoch: string) => run(["show", chapel, "--calendar"], { env: { SOURCE_DATE_EPOCH: epoch } }).stdout;
	const [one, two] = [made("1800000000"), made("1800086400")];
	expect(made("1800000000")).toBe(one);
	expect(one).toContain("DTSTAMP:20270115T080000Z");
	expect(one).toMatch(/END:VCALENDAR\r\n$/);
	const sequence = (text: string) => Number(/^SEQUENCE:(\d+)/m.exec(text)?.[1]);
	expect(sequence(two) - sequence(one)).toBe(1440);
});

describe("SARIF", () => {
	interface Result {
		readonly ruleId: string;
		readonly partialFingerprints: Record<string, string>;
		readonly locations: { readonly physicalLocation: { readonly artifactLocation: { readonly uri: string } } }[];
	}
	const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
	mkdirSync(join(folder, "plans"));
	spawnSync("git", ["init", "-q"], { cwd: folder });
	const results = (content: string): readonly Result[] => {
		writeFileSync(join(folder, "plans/a.lode.yaml"), content);
		return JSON.parse(runIn(join(folder, "plans"), "check", "a.lode.yaml", "--sarif").stdout).runs[0].results;
	};

	test("paths are from the repository's root, and rules explain themselves", () => {
		expect(results(wrong)[0]?.locations[0]?.physicalLocation.artifactLocation.uri).toBe("plans/a.lode.yaml");
		const [{ tool }] = JSON.parse(runIn(join(folder, "plans"), "check", "a.lode.yaml", "--sarif").stdout).runs;
		for (const { help, fullDescription } of tool.driver.rules) {
			expect(help.markdown).toMatch(/^# .*\n[\s\S]*```yaml/);
			expect(help.text).toContain(fullDescription.text);
		}
	});

	test("a finding is the same when lines above it come, and another one is not", () => {
		const known = (found: readonly Result[]) =>
			found.map(({ ruleId, partialFingerprints }) => `${ruleId} ${partialFingerprints["lodebook/v1"]}`);
		const before = known(results(wrong));
		expect(known(results(`# a comment\n\n${wrong}`))).toEqual(before);
		expect(new Set(before).size).toBe(before.length);
		expect(known(results(wrong.replace("20:20", "20:30")))).not.toEqual(before);
	});
});

test("a plan of a newer format says so, whatever else it holds", () => {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
	writeFileSync(join(folder, "a.lode.yaml"), text.replace("format: 1", "format: 2"));
	const { status, stdout } = runIn(folder, "check", "a.lode.yaml");
	expect(status).toBe(1);
	expect(stdout).toContain("This plan is written for a newer Lodebook: it says `format: 2`");
});

test("completions know what an option may be, and the codes", () => {
	if (process.platform === "win32") return;
	const asked = (...typed: string[]): string => {
		const script = `${lodebook("completions", "bash").stdout}\nCOMP_WORDS=(lodebook ${typed.join(" ")}); COMP_CWORD=${typed.length}; _lodebook; echo "\${COMPREPLY[@]}"\n`;
		return spawnSync("bash", ["-c", script], { encoding: "utf8" }).stdout.trim();
	};
	expect(asked("check", "--fail-on", "w")).toBe("warning");
	expect(asked("show", "a", "--svg", "tim")).toBe("timeline");
	expect(asked("explain", "structure/newer")).toBe("structure/newer-format");
	expect(asked("completions", "z")).toBe("zsh");
	expect(asked("nights", "a", "--weekday", "s")).toBe("sat sun");
	expect(asked("help", "rep")).toBe("report");
	expect(asked("he")).toBe("help");
	const fish = lodebook("completions", "fish").stdout;
	expect(fish).toMatch(/seen_subcommand_from help' -f -a '.*report/);
	expect(fish).toMatch(/-l fail-on .* -x -a 'error warning note info'/);
	expect(fish).toMatch(/seen_subcommand_from explain' -f -a '.*structure\/newer-format/);
});
