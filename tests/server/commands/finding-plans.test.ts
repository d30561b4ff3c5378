/** What `check` and `format` do with what is no plan file that can be read, and every command with an answer it cannot write. */
import { spawn, spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, mkdtempSync, realpathSync, symlinkSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { CLI } from "../client.ts";
import { chapel, lodebook, runIn, samples } from "./run.ts";

const newFolder = (): string => realpathSync(mkdtempSync(join(tmpdir(), "lodebook-finding-")));
const wrong = "plan:\n  format: 1\n  nonsense: 1\n";

/** Fails when it waits. */
function hurried(cwd: string, ...args: string[]) {
	return spawnSync(process.execPath, [CLI, ...args], {
		cwd,
		encoding: "utf8",
		timeout: 20_000,
		env: { ...process.env, NO_COLOR: "1" },
	});
}

test("a file that is too large, and one that is not there: named, the findings of the others come out, status 2", () => {
	const folder = newFolder();
	writeFileSync(join(folder, "b.lode.yaml"), wrong);
	writeFileSync(join(folder, "a.lode.yaml"), "plan:\n");
	truncateSync(join(folder, "a.lode.yaml"), 5_000_001);
	const { status, stdout, stderr } = runIn(folder, "check", ".", "nowhere", "--json");
	expect(status).toBe(2);
	const { files } = JSON.parse(stdout);
	expect(files.map(({ path }: { path: string }) => path)).toEqual(["b.lode.yaml"]);
	expect(files[0].findings.length).toBeGreaterThan(0);
	expect(stderr.split("\n").sort()).toEqual([
		"",
		"lodebook: a.lode.yaml cannot be read: it is larger than 5 MB, the most that is read; split it into several plans",
		"lodebook: nowhere cannot be read: there is no such file",
	]);
	truncateSync(join(folder, "a.lode.yaml"), 5_000_000);
	expect(runIn(folder, "check", "a.lode.yaml").stderr).toBe("");
});

describe.skipIf(process.platform === "win32")("in a folder", () => {
	test("links are mentioned and not followed, by a name that stays on its line", () => {
		const [folder, outside] = [newFolder(), newFolder()];
		writeFileSync(join(folder, "b.lode.yaml"), wrong);
		writeFileSync(join(outside, "secret.lode.yaml"), wrong);
		symlinkSync(join(outside, "secret.lode.yaml"), join(folder, "link.lode.yaml"));
		symlinkSync(outside, join(folder, "round"));
		symlinkSync("nowhere", join(folder, "x\n::warning::y\u001b[31m.lode.yaml"));
		symlinkSync("nowhere", join(folder, "not a plan"));
		for (const command of ["check", "format"]) {
			const { status, stdout, stderr } = runIn(folder, command, ".");
			expect(status).toBe(command === "check" ? 1 : 0);
			expect(stdout).not.toContain("secret");
			const said = stderr.split("\n").filter((line) => line.includes("is a link and is left out"));
			expect(said.map((line) => line.split(" is a link")[0])).toEqual([
				"lodebook: link.lode.yaml",
				"lodebook: round",
				"lodebook: x␊::warning::y␛[31m.lode.yaml",
			]);
		}
	});

	test("a pipe is not waited for: in a folder it is mentioned, by name it cannot be read, and so for a plan that takes from it", () => {
		const folder = newFolder();
		spawnSync("mkfifo", [join(folder, "pipe.lode.yaml")]);
		writeFileSync(join(folder, "b.lode.yaml"), wrong);
		writeFileSync(join(folder, "c.lode.yaml"), "site: { from: pipe.lode.yaml }\n");
		const all = hurried(folder, "check", ".");
		expect(all.status).toBe(1);
		expect(all.stdout).toContain("There is no plan at");
		expect(all.stderr).toBe("lodebook: pipe.lode.yaml is not a file and is left out\n");
		for (const args of [
			["check", "pipe.lode.yaml"],
			["show", "pipe.lode.yaml"],
			["format", "pipe.lode.yaml"],
			["nights", "pipe.lode.yaml"],
			["stars", "pipe.lode.yaml"],
			["compare", "pipe.lode.yaml", "b.lode.yaml"],
			["log", "pipe.lode.yaml"],
			["skyline", "pipe.lode.yaml"],
			["new", "--from", "pipe.lode.yaml", "--date", "2027-06-05"],
		]) {
			const { status, stderr } = hurried(folder, ...args);
			expect(status, args.join(" ")).toBe(2);
			expect(stderr).toBe("lodebook: pipe.lode.yaml cannot be read: it is a pipe, and a plan is a file\n");
		}
		for (const device of ["/dev/zero", "/dev/tty"])
			expect(hurried(folder, "check", device)).toMatchObject({
				status: 2,
				stderr: `lodebook: ${device} cannot be read: it is a device, and a plan is a file\n`,
			});
	});

	test("what a shell opens for the command is read", () => {
		const { status, stdout } = spawnSync("bash", ["-c", `"$0" "$1" check <(cat "$2")`, process.execPath, CLI, chapel], {
			encoding: "utf8",
		});
		expect([status, stdout]).toEqual([0, lodebook("check", chapel).stdout]);
	});

	test.skipIf(process.getuid?.() === 0)(
		"a file and a folder that may not be read: named, the others are checked, status 2",
		() => {
			const folder = newFolder();
			mkdirSync(join(folder, "closed"));
			writeFileSync(join(folder, "a.lode.yaml"), wrong);
			writeFileSync(join(folder, "b.lode.yaml"), wrong);
			chmodSync(join(folder, "a.lode.yaml"), 0);
			chmodSync(join(folder, "closed"), 0);
			const { status, stdout, stderr } = runIn(folder, "check", ".");
			expect(status).toBe(2);
			expect(stdout).toContain("b.lode.yaml:3:3");
			expect(stderr.split("\n").sort()).toEqual([
				"",
				"lodebook: a.lode.yaml cannot be read: permission denied",
				"lodebook: closed cannot be read: permission denied",
			]);
		},
	);

	// Root may read everything: the same by a system that refuses.
	test.each(["EACCES", "EIO"])(
		"%s for a file and for a folder: the findings of the others come out, status 2",
		(code) => {
			const folder = newFolder();
			mkdirSync(join(folder, "closed"));
			writeFileSync(join(folder, "closed/a.lode.yaml"), wrong);
			writeFileSync(join(folder, "b.lode.yaml"), wrong);
			for (const path of [join(folder, "closed"), join(folder, "closed/a.lode.yaml")]) {
				const { status, stdout, stderr } = spawnSync(
					process.execPath,
					["--import", new URL("faults.mjs", import.meta.url).href, CLI, "check", "."],
					{
						cwd: folder,
						encoding: "utf8",
						env: {
							...process.env,
							NO_COLOR: "1",
							// The first call that has to do with it is the one that fails.
							LODEBOOK_FAULT: JSON.stringify({ folder: path.slice(folder.length + 1), at: 1, fault: code }),
						},
					},
				);
				expect(status).toBe(2);
				expect(stdout).toContain("b.lode.yaml:3:3");
				expect(stderr).toMatch(/^lodebook: closed[^\n]* cannot be read: [^\n]+\n$/);
			}
		},
	);
});

// Other systems have no names that are not text.
test.skipIf(process.platform !== "linux")("a name that is not in UTF-8 is named, status 2", () => {
	const folder = newFolder();
	writeFileSync(
		Buffer.concat([Buffer.from(join(folder, "caf")), Buffer.from([0xe9]), Buffer.from(".lode.yaml")]),
		wrong,
	);
	writeFileSync(Buffer.concat([Buffer.from(join(folder, "not-a-plan")), Buffer.from([0xe9])]), wrong);
	writeFileSync(join(folder, "b.lode.yaml"), wrong);
	const { status, stdout, stderr } = runIn(folder, "check", ".");
	expect(status).toBe(2);
	expect(stdout).toContain("b.lode.yaml:3:3");
	expect(stderr).toBe("lodebook: caf\\xe9.lode.yaml is left out: its name is not in UTF-8; rename it\n");
	const byName = spawnSync(
		"bash",
		["-c", `"$0" "$1" check "$2"/caf$'\\xe9'.lode.yaml`, process.execPath, CLI, folder],
		{
			encoding: "utf8",
		},
	);
	expect(byName.status).toBe(2);
	expect(byName.stderr).toMatch(/^lodebook: [^\n]+ cannot be read: its name is not in UTF-8; rename it\n$/);
});

/** A line for each command: what it is called with to print an answer. */
const ANSWERS: Readonly<Record<string, readonly string[]>> = {
	check: ["check", samples],
	"check --json": ["check", samples, "--json"],
	"check --sarif": ["check", samples, "--sarif"],
	"check --annotations": ["check", samples, "--annotations"],
	show: ["show", chapel],
	"show --html": ["show", chapel, "--html"],
	"show -o": ["show", chapel, "-o", "/dev/full"],
	stars: ["stars", chapel],
	nights: ["nights", chapel, "--from", "2027-06-01", "--until", "2027-06-07"],
	compare: ["compare", chapel, join(samples, "mistakes.lode.yaml")],
	log: ["log", samples],
	new: ["new", "--site", "a", "--latitude", "1 N", "--longitude", "1 E", "--date", "2027-06-05"],
	"new --from": ["new", "--from", chapel, "--date", "2027-06-06"],
	locate: ["locate", "Spica", "--latitude", "1", "--longitude", "1", "--at", "2027-06-05T20:01:00Z"],
	explain: ["explain"],
	completions: ["completions", "bash"],
	"--help": ["--help"],
	"--version": ["--version"],
};

describe.skipIf(process.platform !== "linux")("an answer that cannot be written", () => {
	test.each(Object.entries(ANSWERS))("%s on a full disk: status 2 and one line", (_, args) => {
		const { status, stderr } = spawnSync("bash", ["-c", `"$0" "$@" >/dev/full`, process.execPath, CLI, ...args], {
			encoding: "utf8",
		});
		expect(stderr).toMatch(/^lodebook: [^\n]* cannot be written: there is no space left on the disk[^\n]*\n$/);
		expect(status).toBe(2);
	});

	test.each(Object.entries(ANSWERS).filter(([, args]) => !args.includes("/dev/full")))(
		"%s for a reader that has gone: quiet, and the status of the answer",
		async (_, args) => {
			const child = spawn(process.execPath, [CLI, ...args], { stdio: ["ignore", "pipe", "pipe"] });
			child.stdout.destroy();
			let said = "";
			child.stderr.on("data", (part) => {
				said += part;
			});
			const status = await new Promise((done) => child.on("close", done));
			expect(said).toBe("");
			expect(status).toBe(args[0] === "check" ? 1 : 0);
		},
	);
});
