import { defineConfig } from "vitest/config";

export default defineConfig({
	test: {
		include: ["tests/**/*.test.ts"],
		testTimeout: 60_000,
		hookTimeout: 120_000,
		coverage: {
			include: ["shared/**/*.{ts,tsx}"],
			exclude: ["shared/sky/catalogue/*-table.ts", "shared/tsconfig.json"],
			reporter: ["text-summary"],
			thresholds: { lines: 95 },
		},
	},
	esbuild: { jsx: "automatic", jsxImportSource: "preact" },
	define: { LODEBOOK_VERSION: JSON.stringify("test") },
});
