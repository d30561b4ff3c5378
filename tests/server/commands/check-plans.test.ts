import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { CLI } from "../client.ts";
import { chapel } from "./run.ts";

// What is called bash on Windows may be another system.
test.skipIf(process.platform === "win32")(
	"the action's script on a branch: annotates changed plans only, compares the old and shows the new, and no name of a file runs",
	() => {
		const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
		const run = (command: string, args: readonly string[], env: Record<string, string> = {}) =>
			spawnSync(command, args, { cwd: folder, encoding: "utf8", env: { ...process.env, ...env, NO_COLOR: "1" } });
		const git = (...args: string[]) =>
			run("git", ["-c", "user.name=t", "-c", "user.email=t@example.org", ...args]).stdout.trim();
		const text = readFileSync(chapel, "utf8");
		git("init", "-q");
		writeFileSync(join(folder, "kept.lode.yaml"), text);
		writeFileSync(join(folder, "changed.lode.yaml"), text);
		git("add", ".");
		git("commit", "-qm", "plans");
		const base = git("rev-parse", "HEAD");
		writeFileSync(join(folder, "changed.lode.yaml"), text.replace('at: "20:01"', 'at: "20:20"'));
		writeFileSync(join(folder, "-$(touch ran)`touch ran`.lode.yaml"), text);
		git("add", ".");
		git("commit", "-qm", "change");
		const { status, stdout } = run(
			"bash",
			[fileURLToPath(new URL("../../../.github/actions/check-plans/check.sh", import.meta.url))],
			{
				BASE: base,
				CLI,
				RUNNER_TEMP: folder,
				GITHUB_OUTPUT: join(folder, "output"),
				GITHUB_STEP_SUMMARY: join(folder, "step"),
			},
		);
		expect(status).toBe(1);
		expect(stdout).toMatch(/^::error file=changed\.lode\.yaml,line=39,.*title=method\/guide-star-not-there::/m);
		expect(stdout).not.toContain("kept");
		const summary = readFileSync(join(folder, "lodebook-summary.md"), "utf8");
		expect(summary).toContain("| method 1 | at | 20:01 | 20:20 |");
		expect(summary).toContain("## Core over the roofless chapel");
		expect(readFileSync(join(folder, "output"), "utf8")).toBe(`summary=${join(folder, "lodebook-summary.md")}\n`);
		expect(existsSync(join(folder, "ran"))).toBe(false);
	},
);
