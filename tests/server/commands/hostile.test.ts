/**
 * A stranger's plan speaks through no output: no control character, escape sequence, workflow command or direction
 * mark of its text, or of its file's name, leaves the built command as anything but text.
 */
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { chapel, lodebook } from "./run.ts";

const EVIL = "x\u001b[31m\n::error::y\u0007\u009b2J\u202e\u2028z";
const folder = mkdtempSync(join(tmpdir(), "lodebook-hostile-"));
// Windows has no such names.
const fileName = process.platform === "win32" ? "a.lode.yaml" : "a\u001b[2J\n::warning::b\u202e.lode.yaml";
const path = join(folder, fileName);
const quoted = JSON.stringify(EVIL);
writeFileSync(
	path,
	readFileSync(chapel, "utf8")
		.replace(/^ {2}title: .*/m, `  title: ${quoted}`)
		.replace(/^( {2}guide-star: ).*/m, `$1${quoted}`)
		.replace(/^( +- name: ).*/gm, `$1${quoted}`)
		.concat(`---\nnote: ${quoted}\n---\n${quoted}: 1\n`),
);

const UNSAFE = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/u;

test.each([
	["check", path],
	["check", path, "--json"],
	["check", path, "--sarif"],
	["check", path, "--annotations"],
	["show", path],
	["show", path, "--json"],
	["show", path, "--markdown"],
	["show", path, "--geojson"],
	["show", path, "--svg", "panorama"],
	["show", path, "--svg", "timeline"],
	["show", path, "--html"],
	["compare", chapel, path],
	["compare", chapel, path, "--markdown"],
	["compare", chapel, path, "--json"],
	["check", `${path}.missing`],
	["show", `${path}.missing`],
	["stars", path],
	["log", path],
	["log", path, "--json"],
	["format", "--check", path],
])("%s %s %s %s", (...args) => {
	const { stdout, stderr } = lodebook(...args);
	const said = args.includes("--html") ? stdout.replace(/<script>[\s\S]*<\/script>/, "") : stdout;
	expect(said + stderr).toMatch(/\S/);
	expect(said.replaceAll("\t", " ")).not.toMatch(UNSAFE);
	expect(stderr).not.toMatch(UNSAFE);
	if (!args.includes("--annotations")) expect(said + stderr).not.toMatch(/^::/m);
	else expect(said.split("\n").filter((line) => !/^::(?:error|warning|notice) file=/.test(line))).toEqual([""]);
});

test("a calendar of it has the lines that are meant", () => {
	const { stdout } = lodebook("show", path, "--calendar");
	expect(stdout.replaceAll("\r\n", "\n")).not.toMatch(UNSAFE);
	expect(stdout).not.toMatch(/^::/m);
});
