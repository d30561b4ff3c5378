/**
 * Runs a script of the server that lies beside this one, read in small pieces. `require` reads into a buffer that doubles
 * as it fills; once one of megabytes is given back, glibc's malloc keeps twice as much at the end of every heap for good
 * (mallopt(3), "dynamic mmap threshold"), and each thread that compiles has a heap: 16 MB for a server of 2 MB.
 */
import { closeSync, openSync, readSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { compileFunction } from "node:vm";

/** Below what glibc maps by itself to begin with. */
const PIECE_BYTES = 65_536;

/** `name`: of a file in the folder `beside`, in ASCII as the build writes it. */
export function runScript(beside: string, name: string): void {
	const path = join(beside, name);
	compileFunction(textOf(path), ["require", "__filename", "__dirname"], { filename: path })(
		createRequire(path),
		path,
		dirname(path),
	);
}

function textOf(path: string): string {
	const piece = Buffer.allocUnsafeSlow(PIECE_BYTES);
	const file = openSync(path, "r");
	try {
		let text = "";
		for (;;) {
			const read = readSync(file, piece);
			if (read === 0) return text;
			text += piece.toString("latin1", 0, read);
		}
	} finally {
		closeSync(file);
	}
}
