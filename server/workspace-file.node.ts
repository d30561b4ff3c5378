/** A file of the workspace, for clients that do not read for the server. */
import { constants } from "node:fs";
import { open, realpath, stat } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { type FileAnswer, LARGEST_PLAN } from "../shared/protocol/files.ts";
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
