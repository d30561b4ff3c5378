// npm run nightly: the long runs. Random edits, requests and texts with seeds of the day, each printed so that it can be
// repeated (LODEBOOK_SEED), then mutation tests of the sciences. A short run of the first is part of npm test.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../", import.meta.url));
const seed = Number(process.env.LODEBOOK_SEED ?? Date.now() % 1_000_000_000);
const runs = process.env.LODEBOOK_FUZZ ?? "3000";
console.log(`LODEBOOK_SEED=${seed} LODEBOOK_FUZZ=${runs}`);
const run = (command, args, env = {}) => {
	const { status } = spawnSync(command, args, {
		cwd: root,
		stdio: "inherit",
		env: { ...process.env, ...env },
		shell: process.platform === "win32",
	});
	if (status !== 0) process.exitCode = 1;
};
const fuzz = [
	"tests/plan/fuzz.test.ts",
	"tests/plan/notebook.test.ts",
	"tests/server/fuzz.test.ts",
	"tests/server/notebooks.test.ts",
];
run("npx", ["vitest", "run", "--testTimeout=7200000", ...fuzz], { LODEBOOK_SEED: String(seed), LODEBOOK_FUZZ: runs });
if (!process.argv.includes("--no-mutation")) run("npm", ["run", "mutation"]);
