/** Files of the workspace, for clients that do not read for the server. */
import { constants } from "node:fs";
import { open, readdir, realpath, stat } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { type FileAnswer, LARGEST_PLAN } from "../shared/protocol/files.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { isInside } from "./inside.node.ts";

const NOT_FOUND: FileAnswer = { missing: "not-found" };

export async function readWorkspaceFile(uri: string, root: string): Promise<FileAnswer> {
	if (!uri.startsWith("file:")) return NOT_FOUND;
	const real = await realpath(fileURLToPath(uri));
	// A link inside the workspace may point out of it.
	if (!isInside(await realpath(fileURLToPath(root)), real)) return { missing: "outside" };
	if (!(await stat(real)).isFile()) return NOT_FOUND;
	// What has become a pipe or a link since is not waited for, and not followed. Windows has neither flag.
	const file = await open(real, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0) | (constants.O_NOFOLLOW ?? 0));
	try {
		const now = await file.stat();
		if (!now.isFile() || now.size > LARGEST_PLAN) return NOT_FOUND;
		return { text: new TextDecoder().decode(await file.readFile()) };
	} finally {
		await file.close();
	}
}

/** More folders than these are not searched. */
const MOST_FOLDERS = 2000;

/** The plans below a root, by folder; links are not followed, hidden folders and node_modules passed over. */
export async function listWorkspaceFiles(root: string, most: number): Promise<readonly string[]> {
	if (!root.startsWith("file:")) return [];
	const found: string[] = [];
	const folders = [fileURLToPath(root)];
	for (let place = 0; place < folders.length && place < MOST_FOLDERS && found.length < most; place++) {
		const folder = folders[place] as string;
		const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
		for (const entry of entries) {
			const { name } = entry;
			if (entry.isDirectory() && !name.startsWith(".") && name !== "node_modules") folders.push(join(folder, name));
			else if (entry.isFile() && name.endsWith(PLAN_ENDING)) found.push(pathToFileURL(join(folder, name)).href);
		}
	}
	return found.slice(0, most);
}
