import { readFileSync } from "node:fs";
import { defineConfig } from "vitest/config";

/** What drives a browser or an editor, which take whatever cores there are: one at a time. */
const WITH_EDITORS = [
	"tests/{desktop,editor,electron,other-editors}/**/*.test.ts",
	"tests/outputs/{browser,card,slider,year-of-nights}.test.ts",
	"tests/installed.test.ts",
];

/** What starts other processes of its own: servers, the built command. */
const WITH_PROCESSES = ["tests/{client,server}/**/*.test.ts", "tests/{manifest,shipped}.test.ts"];

/** Long random searches: they prove what they prove without the lines they reach being counted. */
const LONG = [
	"tests/**/{monte-carlo,fuzz,hostile-names,offered-fixes,extremes,edges,write-night,write-evening,minutes}.test.ts",
];

/** WebAssembly as bytes in a script, as the build has it. */
const wasm = {
	name: "wasm",
	enforce: "pre" as const,
	load: (id: string) =>
		id.endsWith(".wasm")
			? `export default Uint8Array.from(atob("${readFileSync(id, "base64")}"), (one) => one.charCodeAt(0));`
			: undefined,
};

export default defineConfig(({ mode }) => ({
	test: {
		globalSetup: ["tests/built.mjs"],
		server: { deps: { inline: [/@jsquash/] } },
		// No test fails on a clock: this only ends one that hangs.
		testTimeout: 300_000,
		hookTimeout: 300_000,
		// What is waited for comes as soon as it can; these are only how long a busy machine may take.
		expect: { poll: { timeout: 60_000, interval: 50 } },
		coverage: {
			include: ["shared/**/*.{ts,tsx}"],
			exclude: ["shared/sky/catalogue/*-table.ts", "shared/outputs/jsx.d.ts"],
			reporter: ["text-summary"],
			thresholds: { lines: 95 },
		},
		projects: [
			{
				extends: true,
				test: {
					name: "in-process",
					include: ["tests/**/*.test.ts"],
					// An exclusion on the command line does not reach a project: `npm run coverage` says it by its mode.
					exclude: [...WITH_PROCESSES, ...WITH_EDITORS, ...(mode === "coverage" ? LONG : [])],
					maxWorkers: "100%",
					sequence: { groupOrder: 0 },
				},
			},
			{
				extends: true,
				test: {
					name: "with-processes",
					include: WITH_PROCESSES,
					maxWorkers: "100%",
					sequence: { groupOrder: 1 },
				},
			},
			{
				extends: true,
				test: {
					name: "with-editors",
					include: WITH_EDITORS,
					maxWorkers: 1,
					// Keys and clicks go past the editor now and then on a busy machine. What needed its second try is marked in the output.
					retry: 1,
					sequence: { groupOrder: 2 },
				},
			},
		],
	},
	plugins: [wasm],
	oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
	define: { LODEBOOK_VERSION: JSON.stringify("test") },
}));
