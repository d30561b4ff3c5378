// dist/ as the tree is: tests, benchmarks and checks of what is shipped are about the sources as they stand, never an older
// build. Builds only where something has changed, and one process at a time.
import { mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build, fingerprint, record } from "../esbuild.config.mjs";

const CACHE = fileURLToPath(new URL("../node_modules/.cache/lodebook/", import.meta.url));
const LOCK = join(CACHE, "build.lock");
/** Longer than any build: a lock this old was left by a process that died before it wrote its number. */
const LEFT_MS = 60_000;

const fresh = () => record()?.sources === fingerprint();

/** Builds what is shipped, unless it is built. */
export async function ensureBuilt() {
	if (fresh()) return;
	await locked(async () => {
		// Another process may have built it meanwhile.
		if (!fresh()) await build();
	});
}

async function locked(run) {
	mkdirSync(CACHE, { recursive: true });
	for (;;) {
		try {
			mkdirSync(LOCK);
			break;
		} catch (error) {
			if (error.code !== "EEXIST") throw error;
			if (abandoned()) rmSync(LOCK, { recursive: true, force: true });
			else await new Promise((rested) => setTimeout(rested, 50));
		}
	}
	try {
		writeFileSync(join(LOCK, "pid"), String(process.pid));
		await run();
	} finally {
		rmSync(LOCK, { recursive: true, force: true });
	}
}

/** Whether the process that holds the lock is no more. */
function abandoned() {
	try {
		const pid = Number(readFileSync(join(LOCK, "pid"), "utf8"));
		if (pid > 0) {
			process.kill(pid, 0);
			return false;
		}
	} catch (error) {
		if (error.code === "ESRCH") return true;
		if (error.code === "EPERM") return false;
	}
	try {
		return Date.now() - statSync(LOCK).mtimeMs > LEFT_MS;
	} catch {
		return false;
	}
}

/** Once before a run of the tests (vitest.config.ts). */
export default ensureBuilt;
