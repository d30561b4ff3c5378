/** Plans of the workspace for the server: nothing outside of its folders, and nothing that a link leads out of them to. */
import { FileType, RelativePattern, Uri, workspace } from "vscode";
import { type FileAnswer, LARGEST_PLAN } from "../shared/protocol/files.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { readableText } from "./utf8.ts";

/** The path of a file on this machine's disk with all its links followed. */
export type RealPath = (uri: Uri) => Promise<Uri>;

const NOT_FOUND: FileAnswer = { missing: "not-found" };

/** Where real paths cannot be had, as in a browser, no link is followed. */
export async function readWorkspaceFile(text: string, realPath?: RealPath): Promise<FileAnswer> {
	const uri = Uri.parse(text, true);
	const root = workspace.getWorkspaceFolder(uri)?.uri;
	if (!root || !uri.path.endsWith(PLAN_ENDING)) return NOT_FOUND;
	try {
		const onDisk = realPath && uri.scheme === "file";
		const place = onDisk ? await realPath(uri) : uri;
		const stays = onDisk ? isInside(await realPath(root), place) : await hasNoLink(root, uri);
		if (!stays) return { missing: "outside" };
		const { type, size } = await workspace.fs.stat(place);
		if ((type & FileType.File) === 0 || size > LARGEST_PLAN) return NOT_FOUND;
		return { text: readableText(await workspace.fs.readFile(place)) };
	} catch {
		return NOT_FOUND;
	}
}

/** The plans of a folder of the workspace, by their URIs; what the editor's own search leaves out is left out. */
export async function listPlans(root: string, most: number): Promise<readonly string[]> {
	const folder = workspace.getWorkspaceFolder(Uri.parse(root, true));
	if (!folder) return [];
	const found = await workspace.findFiles(
		new RelativePattern(folder, `**/*${PLAN_ENDING}`),
		"**/node_modules/**",
		most,
	);
	return found.map((uri) => uri.toString());
}

function isInside(root: Uri, { path }: Uri): boolean {
	return path.startsWith(root.path.endsWith("/") ? root.path : `${root.path}/`);
}

/** Whether neither the file nor a folder between it and the root is a link. */
async function hasNoLink(root: Uri, uri: Uri): Promise<boolean> {
	const base = root.path.replace(/\/+$/, "");
	const parts = uri.path.slice(base.length + 1).split("/");
	for (let i = 1; i <= parts.length; i++) {
		const { type } = await workspace.fs.stat(uri.with({ path: `${base}/${parts.slice(0, i).join("/")}` }));
		if ((type & FileType.SymbolicLink) !== 0) return false;
	}
	return true;
}
