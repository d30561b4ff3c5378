/** Runs the built command line. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { CLI } from "../client.ts";

export const samples = fileURLToPath(new URL("../../../samples/", import.meta.url));
export const chapel = join(samples, "roofless-chapel.lode.yaml");

/** In a folder of its own, where one is given. */
export function runIn(
	cwd: string | undefined,
	...args: string[]
): { readonly status: number | null; readonly stdout: string; readonly stderr: string } {
	const { status, stdout, stderr } = spawnSync(process.execPath, [CLI, ...args], {
		...(cwd === undefined ? {} : { cwd }),
		encoding: "utf8",
		env: { ...process.env, NO_COLOR: "1" },
	});
	return { status, stdout, stderr };
}

export const lodebook = (...args: string[]) => runIn(undefined, ...args);
