/** Files on disk, read whole: at most as many bytes as a plan may have, and never waiting for a pipe or a device. */
import { isUtf8 } from "node:buffer";
import { type BigIntStats, closeSync, constants, fstatSync, openSync, readSync, statSync } from "node:fs";
import { LARGEST_PLAN } from "../shared/protocol/files.ts";
import { sentences, told } from "../shared/text/sentence.ts";

const words = sentences("command.files", {
	unreadable: "{path} cannot be read: {why}",
	pipe: "it is a pipe, and a plan is a file",
	device: "it is a device, and a plan is a file",
	socket: "it is a socket, not a file",
	folder: "it is a folder",
	large: "it is larger than {limit} MB, the most that is read; split it into several plans",
	notUtf8Name: "its name is not in UTF-8; rename it",
	missing: "there is no such file",
	forbidden: "permission denied",
	notFolder: "a part of its path is not a folder",
	circle: "its links lead in a circle",
	full: "there is no space left on the disk",
	quota: "your disk quota is used up",
	readOnly: "the disk is read-only",
	broken: "the disk reports an error",
	busy: "another program is using it",
	longName: "its name is too long",
});

/** What could not be read or written, in words for standard error. The command then ends with status 2. */
export class CannotRun extends Error {}

/** A file as it was read. What is to be written back needs all of it. */
export interface ReadPlanFile {
	readonly path: string;
	/** Bytes that are not UTF-8 are U+FFFD in it, which the reader tells as a finding. */
	readonly text: string;
	/** Whether every byte is UTF-8: only then do the bytes follow from the text. */
	readonly valid: boolean;
	readonly bytes: Buffer;
	readonly stat: BigIntStats;
}

export function readPlanFile(path: string): ReadPlanFile {
	const { bytes, stat } = reading(path, () => readBytes(path));
	const text = new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes);
	return { path, text, valid: isUtf8(bytes), bytes, stat };
}

/** What is read of a path; where it cannot be, that is said with the reason. */
export function reading<T>(path: string, read: () => T): T {
	try {
		return read();
	} catch (error) {
		throw new CannotRun(told(words.unreadable({ path, why: reason(error, path) })));
	}
}

/** The text of a file. */
export const readText = (path: string): string => readPlanFile(path).text;

/** What is not there is none. */
export function isFolder(path: string): boolean {
	try {
		return statSync(path).isDirectory();
	} catch {
		return false;
	}
}

/** A path to what a shell has opened for the command: `/dev/stdin`, `<(…)`. It is read or written as it comes. */
export const isDescriptor = (path: string): boolean =>
	/^\/dev\/(?:std(?:in|out|err)|fd\/\d+)$|^\/proc\/(?:self|\d+)\/fd\/\d+$/.test(path);

/** The bytes of a file, and the file's state from before they were read. */
export function readBytes(path: string): { readonly bytes: Buffer; readonly stat: BigIntStats } {
	const descriptor = isDescriptor(path);
	// Opening a device may do something to it: it is looked at first.
	if (!descriptor) mustBeFile(statSync(path, { bigint: true }));
	// What has become a pipe since must not keep the command waiting. Windows has no such flag.
	const flags = descriptor ? constants.O_RDONLY : constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);
	const file = openSync(path, flags);
	try {
		const stat = fstatSync(file, { bigint: true });
		if (!descriptor) mustBeFile(stat);
		if (stat.isFile() && stat.size > BigInt(LARGEST_PLAN)) throw tooLarge();
		return { bytes: readAll(file), stat };
	} finally {
		closeSync(file);
	}
}

/** The text on standard input, read as it comes, at most as much as a plan may have. */
export const readStandardInput = (): string =>
	reading("-", () => new TextDecoder("utf-8", { ignoreBOM: true }).decode(readAll(0)));

/** As `readSync`; waits for what is still being written into a pipe that does not wait itself. */
function readSome(file: number, part: Buffer): number {
	for (;;) {
		try {
			return readSync(file, part, 0, part.length, null);
		} catch (error) {
			const { code } = error as NodeJS.ErrnoException;
			// The end of a pipe, on Windows.
			if (code === "EOF") return 0;
			if (code !== "EAGAIN") throw error;
			Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 10);
		}
	}
}

function readAll(file: number): Buffer {
	const parts: Buffer[] = [];
	let length = 0;
	for (;;) {
		const count = readSome(file, piece);
		if (count === 0) return Buffer.concat(parts, length);
		length += count;
		if (length > LARGEST_PLAN) throw tooLarge();
		parts.push(Buffer.from(piece.subarray(0, count)));
	}
}

/** One for all files: what lies outside the heap hurries those who look through it. */
const piece = Buffer.allocUnsafeSlow(65_536);

const tooLarge = (): CannotRun => new CannotRun(told(words.large({ limit: LARGEST_PLAN / 1_000_000 })));

function mustBeFile(stat: BigIntStats): void {
	const what = kindOf(stat);
	if (what !== undefined) throw new CannotRun(told(words[what]()));
}

/** What is not a plain file, by its name among the words. */
function kindOf(stat: BigIntStats): "folder" | "pipe" | "socket" | "device" | undefined {
	if (stat.isFile()) return undefined;
	if (stat.isDirectory()) return "folder";
	return stat.isFIFO() ? "pipe" : stat.isSocket() ? "socket" : "device";
}

const REASONS: Readonly<Record<string, () => ReturnType<typeof words.missing>>> = {
	ENOENT: words.missing,
	EACCES: words.forbidden,
	EPERM: words.forbidden,
	EISDIR: words.folder,
	ENOTDIR: words.notFolder,
	ELOOP: words.circle,
	ENOSPC: words.full,
	EDQUOT: words.quota,
	EROFS: words.readOnly,
	EIO: words.broken,
	EBUSY: words.busy,
	ETXTBSY: words.busy,
	ENAMETOOLONG: words.longName,
};

/** Why the system refused. */
export function reason(error: unknown, path = ""): string {
	const { code = "" } = error as { code?: string };
	// An argument's bytes that are not UTF-8 have come as U+FFFD, by which nothing is found.
	if (code === "ENOENT" && path.includes("\uFFFD")) return told(words.notUtf8Name());
	const say = REASONS[code];
	if (say) return told(say());
	const message = error instanceof Error ? error.message : String(error);
	// The system's own words, without the path: that is named already, and may hold anything.
	return code === "" ? message : (message.split(",")[0] ?? code);
}
