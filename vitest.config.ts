import { defineConfig } from "vitest/config";

/** What starts a process of its own (a server, an editor, a browser, the built command), and so needs a core beside its test's. */
const WITH_PROCESSES = [
	"tests/{client,desktop,editor,electron,other-editors,server}/**/*.test.ts",
	"tests/outputs/{browser,card}.test.ts",
	"tests/{installed,manifest,shipped}.test.ts",
];

export default defineConfig({
	test: {
		globalSetup: ["tests/built.mjs"],
		testTimeout: 60_000,
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
					exclude: WITH_PROCESSES,
					maxWorkers: "100%",
					sequence: { groupOrder: 0 },
				},
			},
			{
				extends: true,
				test: { name: "with-processes", include: WITH_PROCESSES, sequence: { groupOrder: 1 } },
			},
		],
	},
	oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
	define: { LODEBOOK_VERSION: JSON.stringify("test") },
});
