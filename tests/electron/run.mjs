// Opens the extension in a desktop VS Code, where this machine has one: npm run test:electron.
// VSCODE_TEST_EXECUTABLE names it; VSCODE_TEST_DOWNLOAD=1 allows @vscode/test-electron to fetch one.
import { existsSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { downloadAndUnzipVSCode, runTests } from "@vscode/test-electron";

const root = fileURLToPath(new URL("../../", import.meta.url));
const named = process.env.VSCODE_TEST_EXECUTABLE;
if (named && !existsSync(named)) {
	console.error(`VSCODE_TEST_EXECUTABLE names ${named}, and there is no such file.`);
	process.exit(2);
}
const usual = [
	"/usr/share/code/code",
	"/usr/bin/code",
	"/Applications/Visual Studio Code.app/Contents/MacOS/Electron",
].find((path) => existsSync(path));
const executable =
	named ?? usual ?? (process.env.VSCODE_TEST_DOWNLOAD === "1" ? await downloadAndUnzipVSCode() : undefined);
if (!executable) {
	console.log(
		"SKIP desktop VS Code tests: none found. Name one with VSCODE_TEST_EXECUTABLE, or set VSCODE_TEST_DOWNLOAD=1.",
	);
	process.exit(0);
}
await runTests({
	vscodeExecutablePath: executable,
	extensionDevelopmentPath: root,
	extensionTestsPath: fileURLToPath(new URL("in-host.cjs", import.meta.url)),
	launchArgs: [
		join(root, "samples"),
		"--disable-extensions",
		"--user-data-dir",
		mkdtempSync(join(tmpdir(), "vscode-")),
	],
});
