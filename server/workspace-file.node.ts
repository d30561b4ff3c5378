/** A file of the workspace, for clients that do not read for the server. */
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";

const LARGEST = 5_000_000;

export async function readWorkspaceFile(uri: string): Promise<string | undefined> {
	if (!uri.startsWith("file:")) return undefined;
	const bytes = await readFile(fileURLToPath(uri));
	return bytes.length > LARGEST ? undefined : new TextDecoder().decode(bytes);
}
