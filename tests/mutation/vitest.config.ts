import { defineConfig } from "vitest/config";

/**
 * The tests that call the sciences directly; the simulation draws less often. Those of whole plans (findings, pages)
 * would find some mutants more, at many times the time: `LODEBOOK_ALL=1` takes them too.
 */
export default defineConfig({
	test: {
		include: [
			"tests/reference/*.test.ts",
			"tests/{sky,methods}/*.test.ts",
			...(process.env.LODEBOOK_ALL === undefined
				? []
				: ["tests/findings/*.test.ts", "tests/evaluate/nights.test.ts", "tests/outputs/view.test.ts"]),
		],
		testTimeout: 60_000,
		env: { LODEBOOK_DRAWS: "400" },
	},
	esbuild: { jsx: "automatic", jsxImportSource: "preact" },
});
