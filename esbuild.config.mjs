// Builds what is shipped: the extension for desktop and browser, its servers, and the command line.
//   node esbuild.config.mjs           once
//   node esbuild.config.mjs --watch   on every change
import { readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import esbuild from "esbuild";

const { version } = JSON.parse(readFileSync(new URL("package.json", import.meta.url), "utf8"));

const common = {
	bundle: true,
	minify: true,
	sourcemap: false,
	target: "es2022",
	logLevel: "warning",
	legalComments: "none",
	define: { LODEBOOK_VERSION: JSON.stringify(version) },
	jsx: "automatic",
	jsxImportSource: "preact",
	absWorkingDir: new URL(".", import.meta.url).pathname,
};

/** The page's script, shipped beside the extension and inside the files that the command line writes. */
const pageScript = { ...common, entryPoints: ["client/page/script.browser.ts"], platform: "browser", format: "iife" };
const { outputFiles, metafile: pageMetafile } = await esbuild.build({ ...pageScript, write: false, metafile: true });
const pageScriptText = outputFiles[0].text;

/** CommonJS packages inside an ES module need `require`. */
const requireBanner = {
	js: "import { createRequire as lodebookRequire } from 'node:module';const require = lodebookRequire(import.meta.url);",
};

export const builds = [
	{ ...pageScript, outfile: "dist/page.js" },
	{
		...common,
		entryPoints: ["client/extension.node.ts"],
		outfile: "dist/extension.node.cjs",
		platform: "node",
		format: "cjs",
		external: ["vscode"],
		mainFields: ["module", "main"],
	},
	{
		...common,
		entryPoints: ["client/extension.browser.ts"],
		outfile: "dist/extension.browser.js",
		platform: "browser",
		format: "cjs",
		external: ["vscode"],
	},
	{
		...common,
		entryPoints: ["server/server.node.ts"],
		outfile: "dist/server.node.cjs",
		platform: "node",
		format: "cjs",
		mainFields: ["module", "main"],
	},
	{
		...common,
		entryPoints: ["server/server.worker.ts"],
		outfile: "dist/server.worker.js",
		platform: "browser",
		format: "iife",
	},
	{
		...common,
		define: { ...common.define, LODEBOOK_PAGE_SCRIPT: JSON.stringify(pageScriptText) },
		entryPoints: { lodebook: "server/cli.ts" },
		outdir: "dist",
		outExtension: { ".js": ".mjs" },
		chunkNames: "lodebook-[hash]",
		platform: "node",
		format: "esm",
		splitting: true,
		mainFields: ["module", "main"],
		banner: { js: `${"#!/usr/bin/env node\n"}${requireBanner.js}` },
	},
];

if (process.argv.includes("--watch")) {
	for (const build of builds) await (await esbuild.context(build)).watch();
} else {
	rmSync(new URL("dist", import.meta.url), { recursive: true, force: true });
	const built = await Promise.all(builds.map((build) => esbuild.build({ ...build, metafile: true })));
	writeFileSync(
		new URL("dist/LICENSES.txt", import.meta.url),
		licences(built.flatMap(({ metafile }) => Object.keys(metafile.inputs)).concat(Object.keys(pageMetafile.inputs))),
	);
}

/** Name, version, licence and licence text of every package of which a part is in a bundle. */
function licences(inputs) {
	const folders = new Set(
		inputs.flatMap((path) => path.match(/^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/)?.[0] ?? []),
	);
	return [...folders]
		.sort()
		.map((folder) => {
			const at = new URL(`${folder}/`, import.meta.url);
			const { name, version: number, license } = JSON.parse(readFileSync(new URL("package.json", at), "utf8"));
			const file = readdirSync(at).find((one) => /^(licen[cs]e|copying)/i.test(one));
			if (!license) throw new Error(`${name} names no licence`);
			return `${name} ${number} (${license})\n${"-".repeat(40)}\n${file ? readFileSync(new URL(file, at), "utf8").trim() : `Licence: ${license}, see the package.`}\n`;
		})
		.join("\n\n");
}
