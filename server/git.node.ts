/**
 * Plans as git has them: at a revision, or in the index. Only what git has stored is read: no filter, hook or other
 * program of a repository's settings runs, no link is followed and nothing is fetched.
 */
import { execFileSync } from "node:child_process";
import { existsSync, realpathSync, statSync } from "node:fs";
import { dirname, relative, resolve, sep } from "node:path";
import { LARGEST_PLAN } from "../shared/protocol/files.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { sentences, told } from "../shared/text/sentence.ts";
import { CannotRun } from "./files.node.ts";

const words = sentences("command.git", {
	unread: "{source} could not be read from git: {why}",
	noRevision: "there is no such revision in this repository",
	noFile: "there is no such plan in that revision",
	link: "it is a link there, and links are not followed",
	large: "it is larger than {limit} MB there, the most that is read",
	notHere: "git gives no answer; is git installed, and is this a repository?",
});

/** A plan or a folder at a revision, `HEAD:plans/chapel.lode.yaml`; without a revision it is the index. */
export interface Revision {
	readonly source: string;
	readonly revision: string;
	readonly path: string;
}

/** What names a revision; undefined for a path. What starts with a dash would be an option of git. */
export function revisionOf(source: string): Revision | undefined {
	const [, revision = "", path = ""] = /^([^:-][^:]*|):(.*)$/s.exec(source) ?? [];
	return !source.includes(":") || source.startsWith("-") || existsSync(source) ? undefined : { source, revision, path };
}

const refused = (source: string, why: Parameters<typeof told>[0] | string): CannotRun =>
	new CannotRun(told(words.unread({ source, why: typeof why === "string" ? why : told(why) })));

/** Runs git in a folder; throws what it says. */
function git(folder: string, args: readonly string[], input?: string): Buffer {
	return execFileSync("git", ["-c", "core.fsmonitor=false", "-c", "core.quotePath=false", ...args], {
		cwd: folder,
		stdio: ["pipe", "pipe", "pipe"],
		input: input ?? "",
		maxBuffer: 1024 * 1024 * 1024,
		env: { ...process.env, GIT_NO_LAZY_FETCH: "1", GIT_OPTIONAL_LOCKS: "0", LC_ALL: "C" },
	});
}

function lineOf(folder: string, args: readonly string[]): string | undefined {
	try {
		return git(folder, args).toString().replace(/\n$/, "");
	} catch {
		return undefined;
	}
}

interface Entry {
	readonly mode: string;
	readonly id: string;
	readonly size: number | undefined;
}

/** All plans of a repository at a revision; of a module that it holds too, where that is checked out. */
export class StoredPlans {
	/** Folder in which git runs. */
	readonly #folder: string;
	readonly #entries = new Map<string, Entry>();
	readonly #modules = new Map<string, StoredPlans | undefined>();
	readonly #texts = new Map<string, string>();

	private constructor(folder: string, revision: string) {
		this.#folder = folder;
		const listed =
			revision === ""
				? git(folder, ["ls-files", "-s", "-z", "--full-name"])
				: git(folder, ["ls-tree", "-r", "-z", "-l", "--full-tree", "--end-of-options", revision]);
		// Names that are not UTF-8 cannot be named by a plan or on the command line.
		for (const line of listed.toString("utf8").split("\0")) {
			const [about = "", path = ""] = splitOnce(line, "\t");
			const [mode = "", ...rest] = about.split(/ +/);
			const [id = "", size] = revision === "" ? [rest[0]] : [rest[1], rest[2]];
			if (revision === "" && rest[1] !== "0") continue;
			if (path.endsWith(PLAN_ENDING) || mode === "160000")
				this.#entries.set(path, { mode, id, size: size === undefined || size === "-" ? undefined : Number(size) });
		}
	}

	/** Of the repository that holds a folder. */
	static in(folder: string, { source, revision }: Revision): StoredPlans {
		const root = lineOf(folder, ["rev-parse", "--show-toplevel"]) ?? folder;
		if (lineOf(folder, ["rev-parse", "--git-dir"]) === undefined) throw refused(source, words.notHere());
		if (revision === "") return new StoredPlans(root, "");
		const id = lineOf(root, ["rev-parse", "--verify", "--quiet", "--end-of-options", `${revision}^{tree}`]);
		if (id === undefined) throw refused(source, words.noRevision());
		return new StoredPlans(root, id);
	}

	/** Paths from the repository's root, in the order of git. */
	get paths(): readonly string[] {
		return [...this.#entries].flatMap(([path, { mode }]) => (mode.startsWith("100") ? [path] : []));
	}

	/** What git knows a text by. */
	idOf(path: string): string | undefined {
		return this.#entries.get(path)?.id;
	}

	has(path: string): boolean {
		return this.#entries.has(path) || this.#moduleOf(path) !== undefined;
	}

	/** Reads several at once. */
	prepare(paths: readonly string[]): void {
		const wanted = paths.filter((path) => !this.#texts.has(path) && isReadable(this.#entries.get(path)));
		if (wanted.length === 0) return;
		const ids = wanted.map((path) => this.#entries.get(path)?.id ?? "");
		const all = git(this.#folder, ["cat-file", "--batch"], `${ids.join("\n")}\n`);
		let at = 0;
		for (const path of wanted) {
			const end = all.indexOf("\n", at);
			const [, , length = "0"] = all.toString("latin1", at, end).split(" ");
			const size = Number(length);
			if (end < 0 || !Number.isFinite(size)) return;
			this.#texts.set(path, textOf(all.subarray(end + 1, end + 1 + size)));
			at = end + 1 + size + 1;
		}
	}

	/** The text of a plan; throws what the reader is told where it cannot be read. */
	text(path: string, source: string): string {
		const inModule = this.#moduleOf(path);
		if (inModule) return inModule.plans.text(inModule.path, source);
		const entry = this.#entries.get(path);
		if (!entry || entry.mode === "160000") throw refused(source, words.noFile());
		if (entry.mode === "120000") throw refused(source, words.link());
		if ((entry.size ?? 0) > LARGEST_PLAN) throw refused(source, words.large({ limit: LARGEST_PLAN / 1_000_000 }));
		this.prepare([path]);
		const text = this.#texts.get(path);
		if (text === undefined) throw refused(source, words.noFile());
		return text;
	}

	/** The module that a path leads into. */
	#moduleOf(path: string): { readonly plans: StoredPlans; readonly path: string } | undefined {
		for (let at = path.indexOf("/"); at > 0; at = path.indexOf("/", at + 1)) {
			const folder = path.slice(0, at);
			const entry = this.#entries.get(folder);
			if (entry?.mode !== "160000") continue;
			if (!this.#modules.has(folder)) this.#modules.set(folder, this.#module(folder, entry.id));
			const plans = this.#modules.get(folder);
			return plans && { plans, path: path.slice(at + 1) };
		}
		return undefined;
	}

	#module(folder: string, id: string): StoredPlans | undefined {
		const full = resolve(this.#folder, folder);
		if (!existsSync(resolve(full, ".git"))) return undefined;
		try {
			return new StoredPlans(full, id);
		} catch {
			// Its commit is not here: for a plan that takes from it, it is not there.
			return undefined;
		}
	}

	/** What a plan was called at the revision, by the name that it has in the index now; undefined where it has no other. */
	nameBefore(path: string, { revision }: Revision): string | undefined {
		if (revision === "") return undefined;
		const args = ["diff-index", "--cached", "-M", "-z", "--name-status", "--no-ext-diff", "--no-textconv"];
		const listed = lineOf(this.#folder, [...args, "--diff-filter=R", "--end-of-options", revision]);
		const parts = (listed ?? "").split("\0");
		for (let at = 0; at + 2 < parts.length; at += 3) if (parts[at + 2] === path) return parts[at + 1];
		return undefined;
	}
}

const isReadable = (entry: Entry | undefined): boolean =>
	entry?.mode.startsWith("100") === true && (entry.size ?? 0) <= LARGEST_PLAN;

const textOf = (bytes: Buffer): string => new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes);

function splitOnce(line: string, by: string): readonly [string, string] {
	const at = line.indexOf(by);
	return at < 0 ? [line, ""] : [line.slice(0, at), line.slice(at + 1)];
}

/** Where a revision's path is: the plans of its repository, and the path in them. */
export interface Stored {
	readonly plans: StoredPlans;
	/** From the repository's root, `/` between its parts; empty for all of it. */
	readonly path: string;
	/** The root of its repository on disk. */
	readonly root: string;
}

/**
 * Finds a path as git counts it, from the repository's root; else from the folder in which the command runs, which may be
 * below that; else in the module that holds it.
 */
export function storedAt(asked: Revision): Stored {
	const here = process.cwd();
	const root = lineOf(here, ["rev-parse", "--show-toplevel"]) ?? here;
	const plans = StoredPlans.in(here, asked);
	const inRoot = normal(asked.path);
	const below = relative(realpathSync(root), realpathSync(here)).split(sep).join("/");
	const fromHere = normal(below === "" ? asked.path : `${below}/${asked.path}`);
	const isBelow = asked.path === "." || asked.path.startsWith("./") || asked.path.startsWith("../");
	const candidates = isBelow ? [fromHere] : [inRoot, fromHere];
	const found = candidates.find((path) => path !== undefined && (path === "" || isThere(plans, path)));
	if (found !== undefined) return { plans, path: found, root };
	const module = [resolve(root, asked.path), resolve(here, asked.path)].flatMap((full) => inModule(full, root))[0];
	if (module) {
		const own = StoredPlans.in(module.root, asked);
		if (isThere(own, module.path)) return { plans: own, ...module };
	}
	for (const path of candidates) {
		const before = path === undefined ? undefined : plans.nameBefore(path, asked);
		if (before !== undefined) return { plans, path: before, root };
	}
	throw refused(asked.source, words.noFile());
}

const isThere = (plans: StoredPlans, path: string): boolean =>
	plans.has(path) || plans.paths.some((one) => one.startsWith(`${path}/`));

/** A file's own repository, where that is another than the one around it. */
function inModule(full: string, root: string): readonly { readonly root: string; readonly path: string }[] {
	const folder = dirname(full);
	if (!existsSync(folder) || !statSync(folder).isDirectory()) return [];
	const own = lineOf(folder, ["rev-parse", "--show-toplevel"]);
	if (own === undefined || own === root) return [];
	return [{ root: own, path: relative(own, full).split(sep).join("/") }];
}

/** A path without dots; undefined when it leaves the root. */
function normal(path: string): string | undefined {
	const parts: string[] = [];
	for (const part of path.split("/")) {
		if (part === "" || part === ".") continue;
		if (part !== "..") parts.push(part);
		else if (parts.pop() === undefined) return undefined;
	}
	return parts.join("/");
}
