// The catalogue of all sentences, the server's and the command line's too: every module that declares some is loaded.
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import esbuild from "esbuild";
import { build } from "../esbuild.config.mjs";

const root = fileURLToPath(new URL("../", import.meta.url));

const declaring = ["shared", "server"].flatMap((folder) =>
	readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
		.filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
		.map((entry) => join(entry.parentPath, entry.name))
		.filter((path) => /\b(?:sentences|texts|mapping|valuesFor)\b/.test(readFileSync(path, "utf8"))),
);

/** Sentences by key. */
export async function allWords() {
	const outfile = `${root}node_modules/.cache/lodebook/all-words-${process.pid}.cjs`;
	const imports = declaring.map((path) => `import ${JSON.stringify(`./${relative(root, path)}`)};`);
	await esbuild.build({
		stdin: {
			contents: `${imports.join("\n")}\nexport { catalogue } from "./shared/words/catalogue.ts";`,
			resolveDir: root,
		},
		bundle: true,
		loader: { ".wasm": "binary" },
		platform: "node",
		format: "cjs",
		mainFields: ["module", "main"],
		jsx: "automatic",
		jsxImportSource: "preact",
		define: { LODEBOOK_VERSION: '"0"' },
		outfile,
		logLevel: "error",
	});
	return createRequire(import.meta.url)(outfile).catalogue();
}

/** Builds what is shipped with other sentences into another folder. */
export const buildWith = (words, into) => build({ words, into });
