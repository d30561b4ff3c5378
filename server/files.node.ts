/** Plan files on disk. */
import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { PLAN_ENDING } from "../shared/protocol/language.ts";

/** What could not be read, in words for standard error. The command then ends with status 2. */
export class CannotRun extends Error {}

/** The text of a file. Bytes that are no UTF-8 come as U+FFFD, which the reader tells as a finding. */
export function readText(path: string): string {
	try {
		const bytes = readFileSync(path);
		return new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes);
	} catch (error) {
		throw new CannotRun(`${path} cannot be read: ${reason(error)}`);
	}
}

/** Writes a file; `flag` "wx" does not write over one that is there. */
export function writeText(path: string, text: string, flag: "w" | "wx" = "w"): void {
	try {
		writeFileSync(path, text, { flag });
	} catch (error) {
		throw new CannotRun(`${path} cannot be written: ${reason(error)}`);
	}
}

/** The plan files among paths: files as they are, folders searched. Hidden folders and node_modules are passed over. */
export function planFiles(paths: readonly string[]): readonly string[] {
	return paths.flatMap((path) => {
		let stat: ReturnType<typeof statSync>;
		try {
			stat = statSync(path);
		} catch (error) {
			throw new CannotRun(`${path} cannot be read: ${reason(error)}`);
		}
		return stat.isDirectory() ? plansBelow(path) : [path];
	});
}

function plansBelow(folder: string): string[] {
	const found: string[] = [];
	for (const entry of readdirSync(folder, { withFileTypes: true }).sort((a, b) => (a.name < b.name ? -1 : 1))) {
		const path = join(folder, entry.name);
		if (entry.isDirectory()) {
			if (!entry.name.startsWith(".") && entry.name !== "node_modules") found.push(...plansBelow(path));
		} else if (entry.isFile() && entry.name.endsWith(PLAN_ENDING)) found.push(path);
	}
	return found;
}

export function reason(error: unknown): string {
	const code = (error as { code?: string }).code;
	return code === "ENOENT"
		? "there is no such file"
		: code === "EACCES"
			? "permission denied"
			: code === "EISDIR"
				? "it is a folder"
				: error instanceof Error
					? error.message
					: String(error);
}
