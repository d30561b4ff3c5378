import { defineConfig } from "vitest/config";

export default defineConfig({
	test: {
		include: ["tests/**/*.test.ts"],
		testTimeout: 60_000,
		hookTimeout: 120_000,
		coverage: { include: ["shared/**/*.ts"], exclude: ["shared/sky/catalogue/star-table.ts"] },
	},
	esbuild: { jsx: "automatic", jsxImportSource: "preact" },
	define: { LODEBOOK_VERSION: JSON.stringify("test") },
});
