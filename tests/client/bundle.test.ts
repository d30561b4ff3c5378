/** The extension is thin: what it asks the server for is not in it. */
import { fileURLToPath } from "node:url";
import esbuild from "esbuild";
import { expect, test } from "vitest";

const root = fileURLToPath(new URL("../../", import.meta.url));

test.each(["client/extension.browser.ts", "client/extension.node.ts"])(
	"%s holds neither sky nor model",
	async (entry) => {
		const { metafile } = await esbuild.build({
			absWorkingDir: root,
			entryPoints: [entry],
			bundle: true,
			write: false,
			metafile: true,
			platform: entry.includes("browser") ? "browser" : "node",
			format: "cjs",
			external: ["vscode"],
			logLevel: "silent",
			outdir: "out",
		});
		const inputs = Object.keys(metafile.inputs);
		expect(inputs).toContain("shared/plan/notebook.ts");
		for (const room of ["sky", "earth", "methods", "cells", "notation", "evaluate", "findings", "outputs"])
			expect(inputs.filter((path) => path.startsWith(`shared/${room}/`))).toEqual([]);
	},
);
