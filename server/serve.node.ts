/** Starts the language server in this process: the extension's own file, which loads quicker than many small ones. */
import { createRequire } from "node:module";

export function serve(): void {
	if (!process.argv.includes("--stdio")) process.argv.push("--stdio");
	createRequire(import.meta.url)("./server.node.cjs");
}
