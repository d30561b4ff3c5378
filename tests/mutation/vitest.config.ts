import { defineConfig } from "vitest/config";

/** The tests that call the sciences in process; the simulation draws less often. */
export default defineConfig({
	test: {
		include: ["tests/reference/*.test.ts", "tests/findings/*.test.ts", "tests/reckon/nights.test.ts", "tests/page/view.test.ts"],
		testTimeout: 60_000,
		env: { LODEBOOK_DRAWS: "1000" },
	},
	esbuild: { jsx: "automatic", jsxImportSource: "preact" },
});
