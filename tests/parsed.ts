/** A module of the project as a syntax tree, its types taken off. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { type Program, parse } from "acorn";
import { transformSync } from "esbuild";

/** `path`: from the project's root. */
export function parsedModule(path: string): Program {
	const { code } = transformSync(readFileSync(fileURLToPath(new URL(`../${path}`, import.meta.url)), "utf8"), {
		loader: path.endsWith("x") ? "tsx" : "ts",
		jsx: "automatic",
		jsxImportSource: "preact",
		target: "es2022",
	});
	return parse(code, { ecmaVersion: 2022, sourceType: "module" });
}
