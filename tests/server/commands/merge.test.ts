/** The command, and git that uses it for its merges and diffs. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { expect, test } from "vitest";
import { CLI } from "../client.ts";
import { chapel, runIn } from "./run.ts";

const text = readFileSync(chapel, "utf8");

test("writes over our side; conflicts are status 1, what cannot be read 2", () => {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-merge-"));
	const write = (name: string, content: string | Buffer) => writeFileSync(join(folder, name), content);
	write("base", text);
	write("ours", text.replace("frames: 12", "frames: 20"));
	write("theirs", text.replace("exposure: 90 s", "exposure: 60 s"));
	expect(runIn(folder, "merge", "base", "ours", "theirs")).toMatchObject({ status: 0, stdout: "", stderr: "" });
	const merged = text.replace("frames: 12", "frames: 20").replace("exposure: 90 s", "exposure: 60 s");
	expect(readFileSync(join(folder, "ours"), "utf8")).toBe(merged);
	write("theirs", text.replace("frames: 12", "frames: 30"));
	const clash = runIn(folder, "merge", "base", "ours", "theirs", "--path", "plans/a.lode.yaml");
	expect(clash).toMatchObject({ status: 1, stderr: expect.stringContaining("plans/a.lode.yaml: 1 conflict;") });
	expect(readFileSync(join(folder, "ours"), "utf8")).toContain(
		"<<<<<<< ours\n    frames: 20\n=======\n    frames: 30\n",
	);
	write("broken", Buffer.from([0xff, 0xfe, 0x41]));
	expect(runIn(folder, "merge", "base", "broken", "theirs").status).toBe(2);
	expect(readFileSync(join(folder, "broken"))).toEqual(Buffer.from([0xff, 0xfe, 0x41]));
	expect(runIn(folder, "merge", "base", "none", "theirs").status).toBe(2);
	expect(runIn(folder, "merge", "base", "ours", "theirs", "--marker-size", "3").status).toBe(2);
});

test.skipIf(process.platform === "win32")("as the help says, git merges and shows plans with it", () => {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-driver-"));
	const bin = mkdtempSync(join(tmpdir(), "lodebook-bin-"));
	writeFileSync(join(bin, "lodebook"), `#!/bin/sh\nexec "${process.execPath}" "${CLI}" "$@"\n`, { mode: 0o755 });
	const run = (command: string, ...args: string[]) => {
		const { status, stdout, stderr } = spawnSync(command, args, {
			cwd: folder,
			encoding: "utf8",
			env: { ...process.env, PATH: `${bin}${delimiter}${process.env.PATH}`, NO_COLOR: "1" },
		});
		return { status, stdout, stderr };
	};
	const git = (...args: string[]) => {
		const answer = run("git", "-c", "user.name=t", "-c", "user.email=t@example.org", ...args);
		expect(answer.status, answer.stderr).toBe(0);
		return answer.stdout;
	};
	const write = (content: string) => writeFileSync(join(folder, "plan.lode.yaml"), content);
	git("init", "-q");
	// The lines that the help gives.
	const help = runIn(undefined, "merge", "--help").stdout;
	const lines = help.split("\n").filter((line) => /^ {2}(git config|echo)/.test(line));
	expect(lines).toHaveLength(3);
	for (const line of lines) expect(run("sh", "-c", line).status).toBe(0);
	write(text);
	git("add", ".");
	git("commit", "-qm", "plan");
	git("checkout", "-qb", "other");
	write(text.replace("frames: 12", "frames: 20"));
	git("commit", "-qam", "frames");
	git("checkout", "-q", "-");
	// The line beside it: git alone would call this a conflict.
	write(text.replace("exposure: 90 s", "exposure: 60 s"));
	expect(git("diff")).toMatch(/^\+.*60 s/m);
	git("commit", "-qam", "exposure");
	git("merge", "-q", "--no-edit", "other");
	expect(readFileSync(join(folder, "plan.lode.yaml"), "utf8")).toBe(
		text.replace("frames: 12", "frames: 20").replace("exposure: 90 s", "exposure: 60 s"),
	);
});
