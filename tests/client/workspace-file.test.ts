/** What the extension reads for the server, on a disk with links: by real paths, and without them as in a browser. */
import {
	lstatSync,
	mkdirSync,
	mkdtempSync,
	readFileSync,
	realpathSync,
	statSync,
	symlinkSync,
	writeFileSync,
} from "node:fs";
import { realpath } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test, vi } from "vitest";
import type { Uri } from "vscode";

/** A URI as the editor has it, as far as it is used here. */
class FileUri {
	readonly scheme = "file";
	readonly path: string;
	constructor(path: string) {
		this.path = path;
	}
	get fsPath(): string {
		return this.path;
	}
	with({ path }: { path: string }): FileUri {
		return new FileUri(path);
	}
	static parse(text: string): FileUri {
		return new FileUri(decodeURIComponent(new URL(text).pathname));
	}
}

const root = realpathSync(mkdtempSync(join(tmpdir(), "lodebook-workspace-")));
const outside = realpathSync(mkdtempSync(join(tmpdir(), "lodebook-outside-")));
const FileType = { Unknown: 0, File: 1, Directory: 2, SymbolicLink: 64 };
const read: string[] = [];

vi.mock("vscode", () => ({
	FileType,
	Uri: FileUri,
	workspace: {
		getWorkspaceFolder: ({ path }: FileUri) => (path.startsWith(`${root}/`) ? { uri: new FileUri(root) } : undefined),
		fs: {
			stat: async ({ path }: FileUri) => {
				const stat = statSync(path);
				const type = stat.isFile() ? FileType.File : stat.isDirectory() ? FileType.Directory : FileType.Unknown;
				return { type: type | (lstatSync(path).isSymbolicLink() ? FileType.SymbolicLink : 0), size: stat.size };
			},
			readFile: async ({ path }: FileUri) => {
				read.push(path);
				return readFileSync(path);
			},
		},
	},
}));
const { readWorkspaceFile } = await import("../../client/workspace-file.ts");

const realPath = async ({ path }: Uri): Promise<Uri> => new FileUri(await realpath(path)) as unknown as Uri;

// Links cannot be made by everybody there.
describe.skipIf(process.platform === "win32")("reading for the server", () => {
	mkdirSync(join(root, "stands"));
	writeFileSync(join(root, "stands/a.lode.yaml"), "inside");
	writeFileSync(join(outside, "a.lode.yaml"), "secret");
	writeFileSync(join(outside, "a.txt"), "secret");
	symlinkSync("stands", join(root, "inner"));
	symlinkSync(outside, join(root, "outer"));
	symlinkSync(join(outside, "a.txt"), join(root, "link.lode.yaml"));
	symlinkSync("stands/a.lode.yaml", join(root, "stays.lode.yaml"));
	writeFileSync(join(root, "large.lode.yaml"), "#".repeat(5_000_001));
	mkdirSync(join(root, "folder.lode.yaml"));
	const uriOf = (path: string): string => `file://${path}`;

	test.each([
		["stands/a.lode.yaml", { text: "inside" }, { text: "inside" }],
		["inner/a.lode.yaml", { text: "inside" }, { missing: "outside" }],
		["stays.lode.yaml", { text: "inside" }, { missing: "outside" }],
		["outer/a.lode.yaml", { missing: "outside" }, { missing: "outside" }],
		["link.lode.yaml", { missing: "outside" }, { missing: "outside" }],
		["large.lode.yaml", { missing: "not-found" }, { missing: "not-found" }],
		["folder.lode.yaml", { missing: "not-found" }, { missing: "not-found" }],
		["none.lode.yaml", { missing: "not-found" }, { missing: "not-found" }],
	])("%s, on a disk %o, in a browser %o", async (path, onDisk, inBrowser) => {
		expect(await readWorkspaceFile(uriOf(join(root, path)), realPath)).toEqual(onDisk);
		expect(await readWorkspaceFile(uriOf(join(root, path)))).toEqual(inBrowser);
		expect(read.filter((one) => one.startsWith(outside))).toEqual([]);
	});

	test("what is in no folder of the workspace, and what is no plan", async () => {
		for (const path of [join(outside, "a.lode.yaml"), join(root, "stands")])
			expect(await readWorkspaceFile(uriOf(path), realPath)).toEqual({ missing: "not-found" });
	});
});
