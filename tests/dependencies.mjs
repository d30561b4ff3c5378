// Part of npm run check: what is shipped has licences that may be shipped, runs nothing when it is installed, is pinned by
// its checksum, and, where the registry can be asked, has no known weakness.
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";

const LICENCES = ["0BSD", "Apache-2.0", "BlueOak-1.0.0", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "ISC", "MIT"];

const root = new URL("../", import.meta.url);
const { packages } = JSON.parse(readFileSync(new URL("package-lock.json", root), "utf8"));
const wrong = [];
let shipped = 0;
for (const [path, { license, integrity, resolved, dev, link, hasInstallScript }] of Object.entries(packages)) {
	if (path === "" || link) continue;
	if (!integrity?.startsWith("sha512-")) wrong.push(`${path} is not pinned by a checksum`);
	if (resolved !== undefined && !resolved.startsWith("https://registry.npmjs.org/"))
		wrong.push(`${path} comes from ${resolved}`);
	if (dev) continue;
	shipped++;
	if (!LICENCES.includes(license)) wrong.push(`${path} has the licence ${license ?? "(none)"}`);
	if (hasInstallScript) wrong.push(`${path} runs a script when it is installed`);
}

const { stdout } = spawnSync("npm", ["audit", "--omit=dev", "--json"], {
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
	for (const { name, severity, range } of Object.values(audit.vulnerabilities))
		if (severity === "high" || severity === "critical") wrong.push(`${name} ${range}: a known weakness, ${severity}`);
} else console.log("The registry could not be asked for known weaknesses (npm audit): that part is skipped.");

if (wrong.length > 0) {
	console.error(wrong.join("\n"));
	process.exit(1);
}
console.log(`${shipped} shipped packages: licences, checksums and scripts are as they should be.`);
