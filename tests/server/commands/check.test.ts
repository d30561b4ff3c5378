import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { chapel, lodebook, samples } from "./run.ts";

test("a clean plan: status 0, and JSON in the contract's shape", () => {
	const { status, stdout } = lodebook("check", chapel, "--json");
	expect(status).toBe(0);
	expect(JSON.parse(stdout)).toEqual({
		version: 1,
		files: [{ path: chapel, findings: [] }],
		summary: { errors: 0, warnings: 0, infos: 0 },
	});
});

test("a folder: every plan below it, status 1, places from 1", () => {
	const { status, stdout } = lodebook("check", samples, "--json");
	expect(status).toBe(1);
	const { files, summary } = JSON.parse(stdout);
	expect(files.map(({ path }: { path: string }) => path.replace(samples, ""))).toEqual(
		expect.arrayContaining([
			"dry-gorge.lode.yaml",
			"gannet-cave.lode.yaml",
			"larch-clearing.lode.yaml",
			"midsummer-skerry.lode.yaml",
			"mistakes.lode.yaml",
			"roofless-chapel.lode.yaml",
			"terrace-near-the-line.lode.yaml",
		]),
	);
	const all = files.flatMap(({ findings }: { findings: Record<string, unknown>[] }) => findings);
	expect(summary).toEqual({
		errors: all.filter((f: { severity: string }) => f.severity === "error").length,
		warnings: all.filter((f: { severity: string }) => f.severity === "warning").length,
		infos: all.filter((f: { severity: string }) => f.severity === "info").length,
	});
	for (const finding of all) {
		expect(Object.keys(finding)).toEqual([
			"code",
			"severity",
			"cell",
			"line",
			"column",
			"endLine",
			"endColumn",
			"message",
			"fixes",
			"edits",
			"help",
		]);
		expect(finding.line).toBeGreaterThan(0);
		expect(finding.endLine).toBe(finding.line);
		expect(finding.endColumn as number).toBeGreaterThan(finding.column as number);
	}
});

test("what each sample has, by code", () => {
	const { stdout } = lodebook("check", samples, "--json");
	const codes = Object.fromEntries(
		JSON.parse(stdout).files.map(({ path, findings }: { path: string; findings: { code: string }[] }) => [
			path.replace(samples, ""),
			findings.map(({ code }) => code),
		]),
	);
	expect(codes["roofless-chapel.lode.yaml"]).toEqual([]);
	expect(codes["gannet-cave.lode.yaml"]).toEqual([]);
	expect(codes["dry-gorge.lode.yaml"]).toEqual([]);
	expect(codes["larch-clearing.lode.yaml"]).toEqual([]);
	const workshop = Object.keys(codes).filter((path) => path.startsWith("workshop/"));
	expect(workshop).toHaveLength(5);
	for (const path of workshop) expect(codes[path], path).toEqual([]);
	expect(codes["terrace-near-the-line.lode.yaml"]).toEqual(["method/low-latitude", "method/fall-back-better"]);
	expect(codes["midsummer-skerry.lode.yaml"]).toEqual(["night/no-darkness", "method/sun-by-shadow"]);
	expect(codes["mistakes.lode.yaml"].length).toBeGreaterThan(25);
});

test("--fail-on, --annotations, and what cannot be run", () => {
	const skerry = join(samples, "midsummer-skerry.lode.yaml");
	expect(lodebook("check", skerry).status).toBe(0);
	expect(lodebook("check", skerry, "--fail-on", "warning").status).toBe(1);
	// A plan whose only finding is a note; `note` is its shown name, `info` that in JSON.
	const noted = join(mkdtempSync(join(tmpdir(), "noted-")), "noted.lode.yaml");
	writeFileSync(noted, readFileSync(chapel, "utf8").replace(/^ {2}place: .*\n/m, ""));
	const failing = ["warning", "note", "info"].map((on) => lodebook("check", noted, "--fail-on", on).status);
	expect(failing).toEqual([0, 1, 1]);
	expect(lodebook("check", skerry, "--annotations").stdout).toMatch(
		/^::warning file=.*,line=16,endLine=16,col=9,endColumn=19,title=night\/no-darkness::The Sun/,
	);
	for (const args of [
		["check"],
		["check", "/no/such.lode.yaml"],
		["nonsense"],
		["check", chapel, "--fail-on", "never"],
		["check", mkdtempSync(join(tmpdir(), "empty-"))],
	]) {
		const { status, stdout, stderr } = lodebook(...args);
		expect(status, args.join(" ")).toBe(2);
		expect(stdout).toBe("");
		expect(stderr).not.toBe("");
	}
});

test("a workflow command cannot be broken out of by a plan's text", () => {
	const folder = mkdtempSync(join(tmpdir(), "plan-"));
	const path = join(folder, "a,b::c.lode.yaml");
	writeFileSync(path, 'plan:\n  title: a\n  "x\\n::error::owned": 1\n');
	for (const line of lodebook("check", path, "--annotations").stdout.trim().split("\n"))
		expect(line).toMatch(/^::(error|warning|notice) file=[^:]*%2Cb%3A%3Ac\.lode\.yaml,line=\d+/);
});

test("bytes that are no UTF-8, a picture, an empty file", () => {
	const folder = mkdtempSync(join(tmpdir(), "plan-"));
	const codes = (name: string, bytes: Uint8Array) => {
		writeFileSync(join(folder, name), bytes);
		return JSON.parse(lodebook("check", join(folder, name), "--json").stdout).files[0].findings.map(
			({ code }: { code: string }) => code,
		);
	};
	expect(codes("latin.lode.yaml", Uint8Array.from([...Buffer.from("plan:\n  title: Caf"), 0xe9, 0x0a]))).toContain(
		"structure/not-text",
	);
	expect(codes("utf16.lode.yaml", Buffer.from("\ufeffplan:\n", "utf16le"))).toEqual(["structure/not-text"]);
	expect(
		codes(
			"picture.lode.yaml",
			Uint8Array.from({ length: 5000 }, (_, i) => (i * 7919) % 256),
		),
	).toEqual(["structure/not-text"]);
	for (const nothing of ["", "\n\n", "# a plan to be\n---\n"])
		expect(codes("empty.lode.yaml", Buffer.from(nothing))).toEqual(["structure/missing-cell"]);
});

test("SARIF: every finding once, with its rule, its level and its place", () => {
	const { version, runs } = JSON.parse(lodebook("check", join(samples, "mistakes.lode.yaml"), "--sarif").stdout);
	const { files } = JSON.parse(lodebook("check", join(samples, "mistakes.lode.yaml"), "--json").stdout);
	expect(version).toBe("2.1.0");
	const [{ results, tool }] = runs;
	expect(
		results.map(({ ruleId, locations }: { ruleId: string; locations: { physicalLocation: { region: object } }[] }) => [
			ruleId,
			locations[0]?.physicalLocation.region,
		]),
	).toEqual(
		files[0].findings.map(({ code, line, column, endLine, endColumn }: Record<string, number>) => [
			code,
			{ startLine: line, startColumn: column, endLine, endColumn },
		]),
	);
	for (const { ruleId, ruleIndex, level } of results) {
		expect(tool.driver.rules[ruleIndex].id).toBe(ruleId);
		expect(["error", "warning", "note"]).toContain(level);
	}
});

test("the problem matcher reads what check prints", () => {
	const matcher = JSON.parse(readFileSync(new URL("../../../.github/problem-matcher.json", import.meta.url), "utf8"));
	const [{ regexp }] = matcher.problemMatcher[0].pattern;
	const printed = lodebook("check", join(samples, "mistakes.lode.yaml")).stdout.split("\n");
	const { files } = JSON.parse(lodebook("check", join(samples, "mistakes.lode.yaml"), "--json").stdout);
	expect(printed.filter((line) => new RegExp(regexp).test(line))).toHaveLength(files[0].findings.length);
});
