// Bundles TypeScript of the project for a script that runs it in Node.
import { fileURLToPath, pathToFileURL } from "node:url";
import esbuild from "esbuild";

const root = fileURLToPath(new URL("../", import.meta.url));

/** Where a part reads a file beside itself, `beside` is what it is to think it is. */
export const bundle = (path, outfile, beside = path) =>
	esbuild.build({
		entryPoints: [root + path],
		bundle: true,
		platform: "node",
		format: "cjs",
		mainFields: ["module", "main"],
		loader: { ".wasm": "binary" },
		define: { "import.meta.url": JSON.stringify(pathToFileURL(root + beside).href) },
		outfile,
		logLevel: "error",
	});
