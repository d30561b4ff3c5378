// A module of the project as a syntax tree, its types taken off.
import { readFileSync } from "node:fs";
import { parse } from "acorn";
import { transformSync } from "esbuild";

export function parsedModule(path) {
	const { code } = transformSync(readFileSync(new URL(`../${path}`, import.meta.url), "utf8"), {
		loader: path.endsWith("x") ? "tsx" : "ts",
		jsx: "automatic",
		jsxImportSource: "preact",
		target: "es2022",
	});
	return parse(code, { ecmaVersion: 2022, sourceType: "module" });
}
