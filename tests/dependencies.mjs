// Part of npm run check: what is shipped has licences that may be shipped, is pinned by its checksum, and, where the
// registry can be asked, has no known weakness. All of it is in the bundles: an install fetches nothing and runs nothing.
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { record } from "../esbuild.config.mjs";
import { ensureBuilt } from "./built.mjs";

const LICENCES = [
	"0BSD",
	"Apache-2.0",
	"BlueOak-1.0.0",
	"BSD-2-Clause",
	"BSD-3-Clause",
	"CC0-1.0",
	"ISC",
	"MIT",
	"(MIT AND Zlib)",
];

const root = new URL("../", import.meta.url);
const read = (name) => JSON.parse(readFileSync(new URL(name, root), "utf8"));
const wrong = [];

const manifest = read("package.json");
for (const key of ["dependencies", "optionalDependencies", "peerDependencies"])
	for (const name of Object.keys(manifest[key] ?? {}))
		wrong.push(`${name} is in ${key}: what is bundled belongs in devDependencies, so that an install fetches nothing`);
for (const name of ["preinstall", "install", "postinstall"])
	if (manifest.scripts[name]) wrong.push(`the script ${name} would run wherever the package is installed`);

const { packages } = read("package-lock.json");
for (const [path, { integrity, resolved, link }] of Object.entries(packages)) {
	if (path === "" || link) continue;
	if (!integrity?.startsWith("sha512-")) wrong.push(`${path} is not pinned by a checksum`);
	if (resolved !== undefined && !resolved.startsWith("https://registry.npmjs.org/"))
		wrong.push(`${path} comes from ${resolved}`);
}

await ensureBuilt();
const shipped = record().packages;
for (const path of shipped) {
	const { license, hasInstallScript } = packages[path] ?? {};
	if (!LICENCES.includes(license)) wrong.push(`${path} has the licence ${license ?? "(none)"}`);
	if (hasInstallScript) wrong.push(`${path} runs a script when it is installed`);
}

const { stdout } = spawnSync("npm", ["audit", "--json"], {
	cwd: root,
	encoding: "utf8",
	timeout: 60_000,
	shell: process.platform === "win32",
});
let audit;
try {
	audit = JSON.parse(stdout);
} catch {
	audit = undefined;
}
if (audit?.metadata?.vulnerabilities) {
	for (const { name, severity, range, nodes } of Object.values(audit.vulnerabilities))
		if ((severity === "high" || severity === "critical") && nodes.some((path) => shipped.includes(path)))
			wrong.push(`${name} ${range}: a known weakness, ${severity}`);
} else console.log("The registry could not be asked for known weaknesses (npm audit): that part is skipped.");

if (wrong.length > 0) {
	console.error(wrong.join("\n"));
	process.exit(1);
}
console.log(`${shipped.length} shipped packages: licences, checksums and scripts are as they should be.`);
