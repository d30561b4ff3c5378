import { defineConfig } from "vitest/config";

export default defineConfig({
	test: {
		include: ["tests/**/*.test.ts"],
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
	},
	oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
	define: { LODEBOOK_VERSION: JSON.stringify("test") },
});
