import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const root = fileURLToPath(new URL("../", import.meta.url));
const npm = (cwd: string, ...args: string[]) =>
	spawnSync("npm", args, { cwd, encoding: "utf8", shell: process.platform === "win32" });

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
		"dist/lodebook-….mjs",
		"dist/lodebook.mjs",
		"dist/server.node.cjs",
		"package.json",
		...readdirSync(join(root, "samples"), { recursive: true, encoding: "utf8" })
			.filter((name) => /\.\w+$/.test(name))
			.map((name) => `samples/${name}`)
			.sort(),
		...readdirSync(join(root, "schemas")).map((name) => `schemas/${name}`),
		...readdirSync(join(root, "shared/outputs/reference"))
			.filter((name) => name.endsWith(".md"))
			.map((name) => `shared/outputs/reference/${name}`),
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
	const checked = npm(
		folder,
		...["exec", "--offline", "--", "lodebook", "check", join(root, "samples/roofless-chapel.lode.yaml")],
	);
	expect(checked.stdout).toBe("1 plan checked: no problems found.\n");
}, 120_000);
