// Bundles TypeScript of the project for a script that runs it in Node.
import { fileURLToPath } from "node:url";
import esbuild from "esbuild";

const root = fileURLToPath(new URL("../", import.meta.url));

export const bundle = (path, outfile) =>
	esbuild.build({
		entryPoints: [root + path],
		bundle: true,
		platform: "node",
		format: "cjs",
		mainFields: ["module", "main"],
		outfile,
		logLevel: "error",
	});
