import { spawnSync } from "node:child_process";
import { expect, test } from "vitest";
import { lodebook } from "./run.ts";

// What is called bash on Windows may be another system.
test.skipIf(process.platform === "win32")("bash completes commands and options", () => {
	const script = `${lodebook("completions", "bash").stdout}\nCOMP_WORDS=(lodebook ni); COMP_CWORD=1; _lodebook; echo "\${COMPREPLY[@]}"\nCOMP_WORDS=(lodebook show --ge); COMP_CWORD=2; _lodebook; echo "\${COMPREPLY[@]}"\n`;
	expect(spawnSync("bash", ["-c", script], { encoding: "utf8" }).stdout).toBe("nights\n--geojson\n");
});

test.skipIf(spawnSync("fish", ["--version"]).status !== 0)(
	"fish completes commands, options, what they may be, and codes",
	() => {
		const script = lodebook("completions", "fish").stdout;
		const asked = (typed: string): readonly string[] =>
			spawnSync("fish", ["--no-config", "-c", `${script}\ncomplete -C '${typed}'`], { encoding: "utf8" })
				.stdout.split("\n")
				.flatMap((line) => line.split("\t")[0] || []);
		expect(asked("lodebook rep")).toEqual(["report"]);
		expect(asked("lodebook show --ge")).toEqual(["--geojson"]);
		expect(asked("lodebook check --fail-on w")).toEqual(["warning"]);
		expect(asked("lodebook show --svg tim")).toEqual(["timeline"]);
		expect(asked("lodebook explain structure/newer")).toEqual(["structure/newer-format"]);
	},
);
