/**
 * The one way in which a command writes a file. What is written goes into a temporary file in the same folder, onto the
 * disk, and then takes the file's place in one step: whatever fails or is interrupted, the file holds all of its old or
 * all of its new text. A plan that changed since it was read, or that was not UTF-8, is not written over, and neither is
 * a plan by what was made from it.
 */
import { createHash, randomBytes } from "node:crypto";
import {
	accessSync,
	type BigIntStats,
	closeSync,
	constants,
	fchmodSync,
	fchownSync,
	fstatSync,
	fsyncSync,
	linkSync,
	lstatSync,
	openSync,
	readdirSync,
	realpathSync,
	renameSync,
	statSync,
	unlinkSync,
	writeSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { type Phrase, sentences, told } from "../shared/text/sentence.ts";
import { CannotRun, isDescriptor, type ReadPlanFile, readBytes, reason } from "./files.node.ts";
import { isInside } from "./inside.node.ts";
import { rootOf } from "./library.node.ts";

const words = sentences("command.write-file", {
	full: "{path} cannot be written: {why}. Nothing was changed; free some space, then run this again",
	forbidden: `{path} cannot be written: {why}. Nothing was changed; make it and its folder writable, then run this
		again`,
	gone: "{path} cannot be written: it, or the folder it belongs in, is not there. Nothing was changed",
	unwritten: "{path} cannot be written: {why}. Nothing was changed; correct that, then run this again",
	unconfirmed: "{path} is written, but the disk does not confirm it: {why}",
	notUtf8: `{path} is not written: part of it is not UTF-8 and would be lost. Save it as UTF-8, then run this again`,
	changed: `{path} is not written: it was changed by something else after it was read. Run this again to work on what it
		is now`,
	outside: `{path} is not written: it is, or is reached through, a link that leads out of {root}. To write the file it
		leads to, name that: {target}`,
	nowhere: "{path} is not written: it is a link that leads nowhere. Name another file, or remove the link",
	ownPlan: "{path} is not written: it is the plan that this output is made from. Name another file after -o",
	otherPlan: "{path} is not written: it is a plan, and the output is not. Name another file after -o",
	exists: "{path} exists already and is not overwritten. Name another file after -o",
	notAFile: "{path} is not written: it is not a file",
});

const refused = (phrase: Phrase): CannotRun => new CannotRun(told(phrase));

/** Writes new text into a plan that was read, unless something else has changed it meanwhile. */
export function replaceFile(read: ReadPlanFile, text: string): void {
	const { path } = read;
	if (!read.valid) throw refused(words.notUtf8({ path }));
	if (!read.stat.isFile()) throw refused(words.notAFile({ path }));
	attempt(path, () => {
		const real = placeOf(path);
		accessSync(real, constants.W_OK);
		const temporary = writeBeside(real, text, read.stat);
		finishing(temporary, () => {
			// Its time alone does not tell: two writes may have the same. The state is looked at last, after the bytes.
			const same = readBytes(real).bytes.equals(read.bytes) && sameState(statSync(real, { bigint: true }), read.stat);
			if (!same) throw refused(words.changed({ path }));
			renameSync(temporary, real);
		});
		confirm(path, real);
	});
}

/** Writes a file that was not there. */
export function createFile(path: string, text: string): void {
	attempt(path, () => {
		const real = newPlaceOf(path);
		const temporary = writeBeside(real, text, undefined);
		finishing(temporary, () => {
			try {
				placeNew(temporary, real);
			} catch (error) {
				throw codeOf(error) === "EEXIST" ? refused(words.exists({ path })) : error;
			}
		});
		confirm(path, real);
	});
}

/** Writes what was made from a plan, over an older output if there is one. */
export function writeOutput(path: string, text: string, plan: string): void {
	attempt(path, () => {
		const there = statOf(path);
		const source = statOf(plan);
		if (there?.isFile() && source && there.dev === source.dev && there.ino === source.ino)
			throw refused(words.ownPlan({ path }));
		if (isDescriptor(path) || (there && !there.isFile() && !there.isDirectory())) {
			writeInto(path, text);
			return;
		}
		if (!there && isLink(path)) throw refused(words.nowhere({ path }));
		const real = there ? placeOf(path) : newPlaceOf(path);
		if (there?.isFile() && real.toLowerCase().endsWith(PLAN_ENDING)) throw refused(words.otherPlan({ path }));
		if (there) accessSync(real, constants.W_OK);
		const temporary = writeBeside(real, text, there);
		finishing(temporary, () => renameSync(temporary, real));
		confirm(path, real);
	});
}

const FULL: ReadonlySet<string> = new Set(["ENOSPC", "EDQUOT"]);
const FORBIDDEN: ReadonlySet<string> = new Set(["EACCES", "EPERM", "EROFS"]);

/** Says what failed, and that nothing was lost by it. */
function attempt(path: string, write: () => void): void {
	try {
		write();
	} catch (error) {
		if (error instanceof CannotRun) throw error;
		const code = codeOf(error);
		if (code === "ENOENT") throw refused(words.gone({ path }));
		const say = FULL.has(code) ? words.full : FORBIDDEN.has(code) ? words.forbidden : words.unwritten;
		throw refused(say({ path, why: reason(error, path) }));
	}
}

/** Where a path really is. A link is written through when it stays in the folder that the command works in. */
const placeOf = (path: string): string => insideOf(path, realpathSync.native(path));

const newPlaceOf = (path: string): string => insideOf(path, join(realpathSync.native(dirname(path)), basename(path)));

function insideOf(path: string, real: string): string {
	const root = realpathSync.native(rootOf(path));
	if (isInside(root, real)) return real;
	throw refused(words.outside({ path, root: root, target: real }));
}

function statOf(path: string): BigIntStats | undefined {
	return statSync(path, { bigint: true, throwIfNoEntry: false });
}

const isLink = (path: string): boolean => lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink() === true;

/** Nothing has touched the file between the two looks at it. Reading it changes neither. */
const sameState = (a: BigIntStats, b: BigIntStats): boolean =>
	a.dev === b.dev &&
	a.ino === b.ino &&
	a.size === b.size &&
	a.mtimeNs === b.mtimeNs &&
	a.mode === b.mode &&
	a.uid === b.uid &&
	a.gid === b.gid;

/** A new file beside another, flushed to the disk, with the mode and the owner of `like`. Gives its path. */
function writeBeside(real: string, text: string, like: BigIntStats | undefined): string {
	const prefix = temporaryPrefix(real);
	removeStrays(dirname(real), prefix);
	const temporary = join(dirname(real), `${prefix}${process.pid}-${randomBytes(8).toString("hex")}.tmp`);
	// Not over anything and not through a link. Nobody else reads it before it has the mode it is to have.
	const file = openSync(temporary, "wx", like ? 0o600 : 0o666);
	finishing(temporary, () => {
		try {
			if (like) takeAfter(file, like);
			writeAll(file, text);
			fsyncSync(file);
		} finally {
			closeSync(file);
		}
	});
	return temporary;
}

/** Runs what is to be done with a temporary file, and removes it when that fails. */
function finishing(temporary: string, run: () => void): void {
	try {
		run();
	} catch (error) {
		discard(temporary);
		throw error;
	}
}

function discard(temporary: string): void {
	try {
		unlinkSync(temporary);
	} catch {
		// It is hidden, no plan, and the next run removes it.
	}
}

function takeAfter(file: number, { uid, gid, mode }: BigIntStats): void {
	const own = fstatSync(file, { bigint: true });
	if (own.uid !== uid || own.gid !== gid) {
		// Only root gives files away; a group that the user is in may be kept.
		for (const owner of [uid, own.uid]) {
			try {
				fchownSync(file, Number(owner), Number(gid));
				break;
			} catch (error) {
				if (codeOf(error) !== "EPERM") throw error;
			}
		}
	}
	fchmodSync(file, Number(mode & 0o7777n));
}

function writeAll(file: number, text: string): void {
	const bytes = Buffer.from(text);
	for (let done = 0; done < bytes.length; ) done += writeSync(file, bytes, done, bytes.length - done);
}

/** Gives a file its name, which nothing may have yet. */
function placeNew(temporary: string, real: string): void {
	try {
		linkSync(temporary, real);
	} catch (error) {
		if (!["EPERM", "ENOTSUP", "EOPNOTSUPP", "ENOSYS"].includes(codeOf(error))) throw error;
		// A disk without links: the name is taken first, by an empty file.
		closeSync(openSync(real, "wx"));
		finishing(real, () => renameSync(temporary, real));
		return;
	}
	discard(temporary);
}

/** What is no file on a disk: a pipe, a terminal, what the shell has opened. */
function writeInto(path: string, text: string): void {
	const file = openSync(path, "w");
	try {
		writeAll(file, text);
	} finally {
		closeSync(file);
	}
}

/** The file's new name is on the disk, too. Not every system can be asked. */
function confirm(path: string, real: string): void {
	if (process.platform === "win32") return;
	try {
		const folder = openSync(dirname(real), constants.O_RDONLY);
		try {
			fsyncSync(folder);
		} finally {
			closeSync(folder);
		}
	} catch (error) {
		if (["EACCES", "EPERM", "EISDIR", "EINVAL", "ENOTSUP", "EBADF"].includes(codeOf(error))) return;
		throw refused(words.unconfirmed({ path, why: reason(error) }));
	}
}

/** Short whatever the file's name, and the same for the same file. */
const temporaryPrefix = (real: string): string =>
	`.lodebook-${createHash("sha256").update(basename(real)).digest("hex").slice(0, 12)}-`;

/** What a run that was killed has left beside the file. A run that still works keeps its own. */
function removeStrays(folder: string, prefix: string): void {
	let names: readonly string[];
	try {
		names = readdirSync(folder);
	} catch {
		// A folder in which one may write and not look.
		return;
	}
	for (const name of names) {
		const pid = name.startsWith(prefix) && /^(\d+)-[0-9a-f]{16}\.tmp$/.exec(name.slice(prefix.length))?.[1];
		if (pid && !isRunning(Number(pid))) discard(join(folder, name));
	}
}

function isRunning(pid: number): boolean {
	try {
		process.kill(pid, 0);
		return true;
	} catch (error) {
		return codeOf(error) !== "ESRCH";
	}
}

const codeOf = (error: unknown): string => (error as { code?: string }).code ?? "";
