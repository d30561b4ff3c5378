// A file system for VS Code for the web that reads and writes a folder of the disk, through the server of workbench.mjs.
const vscode = require("vscode");

exports.activate = (context) => {
	const base = `${context.extensionUri.scheme}://${context.extensionUri.authority}/disk`;
	const changed = new vscode.EventEmitter();
	const call = async (uri, op, init = {}) => {
		const response = await fetch(`${base}${uri.path.split("/").map(encodeURIComponent).join("/")}?op=${op}`, {
			...init,
			method: "POST",
		});
		if (response.status === 404) throw vscode.FileSystemError.FileNotFound(uri);
		if (!response.ok) throw vscode.FileSystemError.Unavailable(`${op} ${uri}: ${response.status}`);
		return response;
	};
	const provider = {
		onDidChangeFile: changed.event,
		watch: () => ({ dispose() {} }),
		stat: async (uri) => (await call(uri, "stat")).json(),
		readDirectory: async (uri) => (await call(uri, "readdir")).json(),
		readFile: async (uri) => new Uint8Array(await (await call(uri, "read")).arrayBuffer()),
		writeFile: async (uri, body) => {
			await call(uri, "write", { body });
			changed.fire([{ type: vscode.FileChangeType.Changed, uri }]);
		},
		createDirectory: async (uri) => {
			await call(uri, "mkdir");
		},
		delete: async (uri) => {
			await call(uri, "delete");
			changed.fire([{ type: vscode.FileChangeType.Deleted, uri }]);
		},
		rename: async (from, to) => {
			await call(from, "rename", { body: to.path });
		},
	};
	context.subscriptions.push(
		vscode.workspace.registerFileSearchProvider("disk", {
			provideFileSearchResults: async (_query, options) =>
				(await (await call(options.folder, "walk")).json()).map((name) => vscode.Uri.joinPath(options.folder, name)),
		}),
		vscode.workspace.registerFileSystemProvider("disk", provider, { isCaseSensitive: true }),
	);
};
