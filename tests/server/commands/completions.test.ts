import { spawnSync } from "node:child_process";
import { expect, test } from "vitest";
import { lodebook } from "./run.ts";

// What is called bash on Windows may be another system.
test.skipIf(process.platform === "win32")("bash completes commands and options", () => {
	const script = `${lodebook("completions", "bash").stdout}\nCOMP_WORDS=(lodebook ni); COMP_CWORD=1; _lodebook; echo "\${COMPREPLY[@]}"\nCOMP_WORDS=(lodebook show --ge); COMP_CWORD=2; _lodebook; echo "\${COMPREPLY[@]}"\n`;
	expect(spawnSync("bash", ["-c", script], { encoding: "utf8" }).stdout).toBe("nights\n--geojson\n");
});
