/**
 * Messages from standard input. A header that is none, or a length that is not that of its message, is reported and
 * passed over: reading goes on with the next header, wherever it is. Nothing waits for bytes that never come.
 */
import type { Readable } from "node:stream";
import {
	AbstractMessageReader,
	type DataCallback,
	type Disposable,
	type Message,
	type MessageReader,
} from "vscode-languageserver/node";

/** More than any message: a plan of five million characters is read, and may be sent escaped. */
const LONGEST_MESSAGE = 64_000_000;
const LONGEST_HEADER = 4096;
const HEADER_END = "\r\n\r\n";
const LENGTH = "content-length:";
/** A whole header: in JSON it can be nowhere, since a text there has no line breaks. */
const HEADER = /content-length:[ \t]*\d+\r\n(?:[a-z-]+:[^\r\n]*\r\n)*\r\n/i;

export class StdioReader extends AbstractMessageReader implements MessageReader {
	readonly #input: Readable;
	readonly #report: (problem: string) => void;
	#chunks: Buffer[] = [];
	#length = 0;
	/** Bytes that must be there before it is worth looking again. */
	#wanted = 0;

	constructor(input: Readable, report: (problem: string) => void) {
		super();
		this.#input = input;
		this.#report = report;
	}

	listen(take: DataCallback): Disposable {
		const onData = (chunk: Buffer): void => this.#add(chunk, take);
		const onError = (error: unknown): void => this.fireError(error);
		const onEnd = (): void => this.fireClose();
		this.#input.on("data", onData).on("error", onError).on("end", onEnd);
		return {
			dispose: () => void this.#input.off("data", onData).off("error", onError).off("end", onEnd),
		};
	}

	#add(chunk: Buffer, take: DataCallback): void {
		this.#chunks.push(chunk);
		this.#length += chunk.length;
		// A message is waited for, and a new one may have begun: a client sends none before the last is whole.
		if (this.#length < this.#wanted && !chunk.includes(HEADER_END)) return;
		let bytes: Buffer | undefined = Buffer.concat(this.#chunks, this.#length);
		while (bytes && bytes.length > 0) {
			const rest: Buffer | undefined = this.#next(bytes, take);
			if (!rest) break;
			this.#wanted = 0;
			bytes = rest;
		}
		this.#chunks = bytes && bytes.length > 0 ? [bytes] : [];
		this.#length = bytes?.length ?? 0;
	}

	/** Takes what comes first, a message or what is none, and gives what follows; undefined while more must come. */
	#next(bytes: Buffer, take: DataCallback): Buffer | undefined {
		const end = bytes.indexOf(HEADER_END);
		if (end < 0) {
			if (bytes.length <= LONGEST_HEADER) return undefined;
			this.#report(`${bytes.length} bytes came without a header.`);
			return fromNextHeader(bytes, bytes.length);
		}
		const start = end + HEADER_END.length;
		const length = lengthIn(bytes.toString("latin1", 0, Math.min(end, LONGEST_HEADER)));
		if (length === undefined) {
			this.#report("A message came with a header that has no valid Content-Length.");
			return fromNextHeader(bytes, start);
		}
		const until = start + length;
		const body = bytes.subarray(start, until);
		if (bytes.length < until) {
			const other = headerIn(body);
			if (other === undefined) {
				this.#wanted = until;
				return undefined;
			}
			this.#report(`Content-Length says ${length}, and the next header came after ${other} bytes.`);
			this.#give(body.subarray(0, other), take);
			return bytes.subarray(start + other);
		}
		if (this.#give(body, take)) return bytes.subarray(until);
		this.#report(`The ${length} bytes that Content-Length says are not JSON.`);
		// Too many, they reach into the next header.
		const other = headerIn(bytes.subarray(start)) ?? length;
		const whole = Math.min(other, length - headerBegunIn(body));
		if (whole < length) this.#give(body.subarray(0, whole), take);
		return bytes.subarray(start + whole);
	}

	/** Whether a body is JSON; then it is taken. */
	#give(body: Buffer, take: DataCallback): boolean {
		let message: Message;
		try {
			message = JSON.parse(body.toString("utf8")) as Message;
		} catch {
			return false;
		}
		take(message);
		return true;
	}
}

/** The length that a header gives; undefined when it gives none, or one that no message has. */
function lengthIn(header: string): number | undefined {
	const lines = header.split("\r\n");
	if (!lines.every((line) => /^[A-Za-z-]+:/.test(line))) return undefined;
	const given = lines
		.find((line) => line.toLowerCase().startsWith(LENGTH))
		?.slice(LENGTH.length)
		.trim();
	const length = given !== undefined && /^\d+$/.test(given) ? Number(given) : Number.POSITIVE_INFINITY;
	return length <= LONGEST_MESSAGE ? length : undefined;
}

/** Where a header begins in the place of a message. */
function headerIn(body: Buffer): number | undefined {
	return HEADER.exec(body.toString("latin1"))?.index;
}

/** How many bytes at the end of a body are the beginning of a header. */
function headerBegunIn(body: Buffer): number {
	const end = body.toString("latin1", Math.max(0, body.length - LENGTH.length)).toLowerCase();
	for (let count = end.length; count > 0; count--) if (end.endsWith(LENGTH.slice(0, count))) return count;
	return 0;
}

/** From the next header on, else from an offset on. */
function fromNextHeader(bytes: Buffer, otherwise: number): Buffer {
	const next = bytes.toString("latin1").toLowerCase().indexOf(LENGTH, 1);
	return bytes.subarray(next < 0 ? otherwise : next);
}
