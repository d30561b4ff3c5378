/** Files that commands write: old or new, never else, whatever fails; and what is not written at all. */
import { type SpawnSyncReturns, spawn, spawnSync } from "node:child_process";
import {
	chmodSync,
	linkSync,
	mkdirSync,
	mkdtempSync,
	readdirSync,
	readFileSync,
	realpathSync,
	rmSync,
	statSync,
	symlinkSync,
	writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { CLI } from "../client.ts";
import { chapel, lodebook, runIn } from "./run.ts";

const PRELOAD = new URL("faults.mjs", import.meta.url).href;
const formatted = readFileSync(chapel, "utf8");
/** One that `format` changes. */
const loose = formatted.replace('at: "20:01"', "at: 20:01   ");

const newFolder = (): string => realpathSync(mkdtempSync(join(tmpdir(), "lodebook-writing-")));
const straysIn = (folder: string): readonly string[] => readdirSync(folder).filter((name) => name.endsWith(".tmp"));
const oneLine = /^lodebook: [^\n]+\n$/;

interface Fault {
	readonly folder: string;
	readonly log?: string;
	readonly at?: number;
	readonly fault?: string;
	readonly file?: string;
	readonly slow?: number;
}

const environment = (fault: Fault) => ({ ...process.env, NO_COLOR: "1", LODEBOOK_FAULT: JSON.stringify(fault) });

function runWith(fault: Fault, ...args: string[]): SpawnSyncReturns<string> {
	return spawnSync(process.execPath, ["--import", PRELOAD, CLI, ...args], {
		encoding: "utf8",
		env: environment(fault),
	});
}

const place = ["--site", "Knoll", "--latitude", "51.2 N", "--longitude", "3.4 W", "--date", "2027-10-02"];

/** Each way in which a command writes: what is there before (if anything), and the command. */
const WAYS: Readonly<
	Record<string, { readonly before?: string; readonly file: string; readonly args: (path: string) => string[] }>
> = {
	format: { before: loose, file: "plan.lode.yaml", args: (path) => ["format", path] },
	"nights --write": {
		before: formatted,
		file: "plan.lode.yaml",
		args: (path) => ["nights", path, "--write", "2027-07-04"],
	},
	"new -o": { file: "new.lode.yaml", args: (path) => ["new", ...place, "-o", path] },
	"show -o, over an older output": {
		before: "older\n",
		file: "chapel.md",
		args: (path) => ["show", chapel, "--markdown", "-o", path],
	},
	"show -o, a new output": { file: "chapel.md", args: (path) => ["show", chapel, "--markdown", "-o", path] },
};

/** A folder with the file as it is before. */
function prepared({ before, file }: { readonly before?: string; readonly file: string }) {
	const folder = newFolder();
	const path = join(folder, file);
	if (before !== undefined) writeFileSync(path, before, { mode: 0o640 });
	return { folder, path };
}

const contentOf = (path: string): string | undefined => {
	try {
		return readFileSync(path, "utf8");
	} catch {
		return undefined;
	}
};

describe.each(Object.entries(WAYS))("%s", (name, way) => {
	const trial = prepared(way);
	const log = join(newFolder(), "calls");
	const { status } = runWith({ folder: trial.folder, log }, ...way.args(trial.path));
	const calls = readFileSync(log, "utf8").split("\n");
	const after = contentOf(trial.path);

	test("goes by way of a flushed temporary file, and leaves none", () => {
		expect(status).toBe(0);
		expect(after).not.toBe(way.before);
		const flushed = calls.indexOf("fsyncSync");
		const placed = calls.findIndex((call) => call === "renameSync" || call === "linkSync");
		expect(calls.indexOf("writeSync")).toBeGreaterThan(0);
		expect(flushed).toBeGreaterThan(calls.lastIndexOf("writeSync"));
		expect(placed).toBeGreaterThan(flushed);
		if (process.platform !== "win32") expect(calls.lastIndexOf("fsyncSync")).toBeGreaterThan(placed);
		expect(straysIn(trial.folder)).toEqual([]);
	});

	const codes = name === "format" ? ["EIO", "ENOSPC", "EACCES", "EPERM", "SHORT"] : ["EIO", "SHORT"];
	test.each(codes)(
		"%s at each of its calls: the old or the new content, one line, status 2 unless it is new",
		(code) => {
			let refused = 0;
			for (let at = 1; at <= calls.length; at++) {
				const { folder, path } = prepared(way);
				const run = runWith({ folder, at, fault: code }, ...way.args(path));
				const about = `${code} at ${at}, ${calls[at - 1]}: ${run.stderr}`;
				const content = contentOf(path);
				expect([way.before, after], about).toContain(content);
				if (run.status === 0) expect(content, about).toBe(after);
				else {
					refused++;
					expect(run.status, about).toBe(2);
					// `format` goes on with other files, and says at the end how it went.
					expect(run.stderr, about).toMatch(oneLine);
				}
				if (calls[at - 1] !== "unlinkSync") expect(straysIn(folder), about).toEqual([]);
				rmSync(folder, { recursive: true });
			}
			expect(refused).toBeGreaterThan(5);
		},
	);

	test.skipIf(process.platform === "win32")(
		"killed before each of its calls: the old or the new content, and at most one hidden file, which the next run removes",
		() => {
			let strays = 0;
			for (let at = 1; at <= calls.length; at++) {
				const { folder, path } = prepared(way);
				expect(runWith({ folder, at, fault: "KILL" }, ...way.args(path)).signal).toBe("SIGKILL");
				expect([way.before, after], `killed at ${at}, ${calls[at - 1]}`).toContain(contentOf(path));
				expect(straysIn(folder).length).toBeLessThanOrEqual(1);
				strays += straysIn(folder).length;
				if (at % 4 === 0) {
					if (name === "new -o") rmSync(path, { force: true });
					if (way.before !== undefined) writeFileSync(path, way.before);
					expect(lodebook(...way.args(path)).status).toBe(0);
					expect(contentOf(path)).toBe(after);
					expect(straysIn(folder)).toEqual([]);
				}
				rmSync(folder, { recursive: true });
			}
			expect(strays).toBeGreaterThan(0);
		},
	);
});

/** The same numbers for the same seed (mulberry32). */
function random(seed: number): () => number {
	let state = seed;
	return () => {
		state = (state + 0x6d2b79f5) | 0;
		let t = Math.imul(state ^ (state >>> 15), 1 | state);
		t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
		return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
	};
}

const SEED = Number(process.env.LODEBOOK_SEED ?? 13);
const KILLS = 200;

test.skipIf(process.platform === "win32")(
	`killed ${KILLS} times at random moments (seed ${SEED}): the old or the new content`,
	async () => {
		const padding = "# what is to be kept\n".repeat(4000);
		const [before, after] = [loose + padding, formatted + padding];
		const next = random(SEED);
		const delays = Array.from({ length: KILLS }, next);
		const counts = { killed: 0, old: 0, new: 0, stray: 0, ended: 0 };
		await Promise.all([lane(), lane()]);
		console.log(`seed ${SEED}: ${JSON.stringify(counts)}`);
		expect(counts.killed).toBe(KILLS);
		// Moments within the writing were met; those after it are few, and belong to the kills before each call.
		expect(counts.stray).toBeGreaterThan(0);

		async function lane(): Promise<void> {
			const folder = newFolder();
			const path = join(folder, "plan.lode.yaml");
			// Every call is slowed, so that the writing takes a good part of the time.
			const started = (): ReturnType<typeof spawn> =>
				spawn(process.execPath, ["--import", PRELOAD, CLI, "format", path], {
					stdio: "ignore",
					env: environment({ folder, slow: 10 }),
				});
			const ended = (child: ReturnType<typeof spawn>): Promise<NodeJS.Signals | null> =>
				new Promise((done) => child.on("exit", (_, signal) => done(signal)));
			writeFileSync(path, before);
			const start = performance.now();
			await ended(started());
			const whole = performance.now() - start;
			for (let delay = delays.pop(); delay !== undefined; delay = delays.pop()) {
				writeFileSync(path, before);
				const child = started();
				const timer = setTimeout(() => child.kill("SIGKILL"), delay * whole * 1.1);
				const signal = await ended(child);
				clearTimeout(timer);
				if (signal !== null) counts.killed++;
				else {
					// It was faster than the clock: once more, and earlier.
					counts.ended++;
					delays.push(delay * 0.8);
					expect(readFileSync(path, "utf8")).toBe(after);
					continue;
				}
				const content = readFileSync(path, "utf8");
				expect([before, after].includes(content), `${content.length} characters`).toBe(true);
				counts[content === before ? "old" : "new"]++;
				expect(straysIn(folder).length).toBeLessThanOrEqual(1);
				counts.stray += straysIn(folder).length;
			}
			writeFileSync(path, before);
			expect(lodebook("format", path).status).toBe(0);
			expect(readFileSync(path, "utf8")).toBe(after);
			expect(readdirSync(folder)).toEqual(["plan.lode.yaml"]);
		}
	},
	300_000,
);

/** Mounting takes root; the machines of CI let their user be that. */
const asRoot = process.getuid?.() === 0 ? [] : process.env.CI ? ["sudo", "-n"] : undefined;
function runAsRoot(...command: string[]): boolean {
	const [program = "", ...args] = [...(asRoot ?? []), ...command];
	return asRoot !== undefined && spawnSync(program, args).status === 0;
}

/** A disk of 96 kB, where one can be mounted. */
function smallDisk(): string | undefined {
	if (process.platform !== "linux") return undefined;
	const folder = newFolder();
	return runAsRoot("mount", "-t", "tmpfs", "-o", `size=96k,uid=${process.getuid?.()}`, "tmpfs", folder)
		? folder
		: undefined;
}

test("a disk that is full: the old content, no other file, status 2", ({ skip }) => {
	const folder = smallDisk();
	if (folder === undefined) return skip("it takes Linux, and root to mount a small disk");
	try {
		const padding = "# what is to be kept\n".repeat(2700);
		const path = join(folder, "plan.lode.yaml");
		const page = join(folder, "page.html");
		writeFileSync(path, loose + padding);
		writeFileSync(page, "older\n");
		for (const args of [
			["format", path],
			["nights", path, "--write", "2027-07-04"],
			["show", path, "--html", "-o", page],
			["new", "--from", path, "--date", "2027-07-04", "-o", join(folder, "new.lode.yaml")],
		]) {
			const { status, stderr } = lodebook(...args);
			expect(status, stderr).toBe(2);
			expect(stderr).toMatch(/^lodebook: [^\n]+there is no space left on the disk[^\n]+free some space[^\n]+\n$/);
			expect(readFileSync(path, "utf8")).toBe(loose + padding);
			expect(readFileSync(page, "utf8")).toBe("older\n");
			expect(readdirSync(folder).sort()).toEqual(["page.html", "plan.lode.yaml"]);
		}
	} finally {
		runAsRoot("umount", folder);
	}
});

describe("what is not written", () => {
	test("bytes that are not UTF-8: no command writes them anew, and each says so", () => {
		const folder = newFolder();
		const path = join(folder, "latin.lode.yaml");
		const at = formatted.indexOf("title: ") + 7;
		const bytes = Buffer.concat([
			Buffer.from(loose.slice(0, at)),
			Buffer.from([0x63, 0xe9]),
			Buffer.from(loose.slice(at)),
		]);
		writeFileSync(path, bytes);
		for (const args of [
			["format", path],
			["format", "--check", path],
			["nights", path, "--write", "2027-07-04"],
			["new", "--from", path, "--date", "2027-07-04"],
			["new", "--from", path, "--date", "2027-07-04", "-o", join(folder, "new.lode.yaml")],
		]) {
			const { status, stdout, stderr } = lodebook(...args);
			expect(status, args.join(" ")).toBe(2);
			expect(stdout).toBe("");
			expect(stderr).toMatch(
				/^lodebook: [^\n]*latin\.lode\.yaml[^\n]*(?:not all of it is|part of it is not) UTF-8[^\n]*\n$/,
			);
		}
		expect(readFileSync(path).equals(bytes)).toBe(true);
		expect(readdirSync(folder)).toEqual(["latin.lode.yaml"]);
	});

	test.each(["format", "nights"])("%s: a plan that was changed after it was read", (command) => {
		const { folder, path } = prepared({ before: loose, file: "plan.lode.yaml" });
		const args = command === "format" ? ["format", path] : ["nights", path, "--write", "2027-07-04"];
		const log = join(newFolder(), "calls");
		runWith({ folder, log }, ...args);
		const calls = readFileSync(log, "utf8").split("\n");
		// From the reading on, at each call up to the temporary file's flushing.
		for (let at = calls.indexOf("closeSync") + 2; at <= calls.indexOf("fsyncSync") + 1; at++) {
			writeFileSync(path, loose);
			const { status, stderr } = runWith({ folder, at, fault: "EDIT", file: path }, ...args);
			expect(status, `${at}, ${calls[at - 1]}`).toBe(2);
			expect(stderr).toMatch(/changed by something else after it was read\. Run this again/);
			expect(readFileSync(path, "utf8")).toBe(`${loose}# added meanwhile\n`);
			expect(straysIn(folder)).toEqual([]);
		}
	});

	test("the plan that an output is made from, by whatever name, and any other plan", () => {
		const { folder, path } = prepared({ before: formatted, file: "plan.lode.yaml" });
		mkdirSync(join(folder, "sub"));
		symlinkSync("plan.lode.yaml", join(folder, "link.md"));
		linkSync(path, join(folder, "hard.md"));
		symlinkSync(".", join(folder, "round"));
		writeFileSync(join(folder, "other.lode.yaml"), formatted);
		symlinkSync("other.lode.yaml", join(folder, "other.md"));
		for (const out of [
			"plan.lode.yaml",
			"./sub/../plan.lode.yaml",
			path,
			"link.md",
			"hard.md",
			"round/plan.lode.yaml",
			"other.lode.yaml",
			"other.md",
		]) {
			const { status, stderr } = runIn(folder, "show", "plan.lode.yaml", "--markdown", "-o", out);
			expect(status, out).toBe(2);
			expect(stderr).toMatch(/^lodebook: [^\n]+ is not written: it is [^\n]+Name another file after -o\n$/);
			expect(runIn(folder, "new", "--from", path, "--date", "2027-07-04", "-o", out).status, out).toBe(2);
		}
		expect(runIn(folder, "show", "link.md", "--markdown", "-o", "plan.lode.yaml").status).toBe(2);
		expect(readFileSync(path, "utf8")).toBe(formatted);
		expect(readFileSync(join(folder, "other.lode.yaml"), "utf8")).toBe(formatted);
	});

	test("new: over a file, or through a link that leads nowhere", () => {
		const folder = newFolder();
		symlinkSync("nowhere.lode.yaml", join(folder, "link.lode.yaml"));
		writeFileSync(join(folder, "there.lode.yaml"), "mine\n");
		for (const out of ["link.lode.yaml", "there.lode.yaml"])
			expect(runIn(folder, "new", ...place, "-o", out)).toMatchObject({
				status: 2,
				stderr: `lodebook: ${out} exists already and is not overwritten. Name another file after -o\n`,
			});
		expect(readdirSync(folder).sort()).toEqual(["link.lode.yaml", "there.lode.yaml"]);
		expect(readFileSync(join(folder, "there.lode.yaml"), "utf8")).toBe("mine\n");
	});
});

describe.skipIf(process.platform === "win32")("what stays as it was", () => {
	test("a link inside the folder is written through; one that leads out of it is not", () => {
		const [folder, outside] = [newFolder(), newFolder()];
		mkdirSync(join(folder, ".git"));
		mkdirSync(join(folder, "plans"));
		writeFileSync(join(folder, "plans/plan.lode.yaml"), loose);
		writeFileSync(join(outside, "plan.lode.yaml"), loose);
		symlinkSync("plans/plan.lode.yaml", join(folder, "in.lode.yaml"));
		symlinkSync(join(outside, "plan.lode.yaml"), join(folder, "out.lode.yaml"));
		symlinkSync(outside, join(folder, "outside"));
		expect(lodebook("format", join(folder, "in.lode.yaml")).status).toBe(0);
		expect(readFileSync(join(folder, "plans/plan.lode.yaml"), "utf8")).toBe(formatted);
		expect(
			readdirSync(folder, { withFileTypes: true })
				.find(({ name }) => name === "in.lode.yaml")
				?.isSymbolicLink(),
		).toBe(true);
		for (const name of ["out.lode.yaml", "outside/plan.lode.yaml"])
			for (const args of [["format"], ["nights", "--write", "2027-07-04"]]) {
				const { status, stderr } = lodebook(...args, join(folder, name));
				expect(status).toBe(2);
				expect(stderr).toContain(`a link that leads out of ${folder}`);
				expect(stderr).toContain(join(outside, "plan.lode.yaml"));
			}
		expect(lodebook("show", chapel, "--markdown", "-o", join(folder, "outside/new.md")).status).toBe(2);
		expect(lodebook("new", ...place, "-o", join(folder, "outside/new.lode.yaml")).status).toBe(2);
		expect(readdirSync(outside)).toEqual(["plan.lode.yaml"]);
		expect(readFileSync(join(outside, "plan.lode.yaml"), "utf8")).toBe(loose);
		// Named itself, it is written.
		expect(lodebook("format", join(outside, "plan.lode.yaml")).status).toBe(0);
	});

	test("the file's mode, and for root its owner", () => {
		const { path } = prepared({ before: loose, file: "plan.lode.yaml" });
		chmodSync(path, 0o604);
		const root = process.getuid?.() === 0;
		if (root) spawnSync("chown", ["12345:23456", path]);
		expect(lodebook("format", path).status).toBe(0);
		const { mode, uid, gid } = statSync(path);
		expect(mode & 0o7777).toBe(0o604);
		if (root) expect([uid, gid]).toEqual([12345, 23456]);
	});

	test.skipIf(process.getuid?.() === 0)("a file that may only be read", () => {
		const { path } = prepared({ before: loose, file: "plan.lode.yaml" });
		chmodSync(path, 0o444);
		const { status, stderr } = lodebook("format", path);
		expect(status).toBe(2);
		expect(stderr).toMatch(/permission denied.*make it and its folder writable/);
		expect(readFileSync(path, "utf8")).toBe(loose);
	});

	test("a pipe and /dev/stdout are written into", () => {
		const { stdout } = spawnSync(
			"bash",
			["-c", `"$0" "$1" show "$2" --markdown -o /dev/stdout | cat`, process.execPath, CLI, chapel],
			{
				encoding: "utf8",
			},
		);
		expect(stdout).toContain("## Core over the roofless chapel");
	});
});
