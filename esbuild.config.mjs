// Builds what is shipped: the extension for desktop and browser, its servers, and the command line.
//   node esbuild.config.mjs           once, as it is shipped
//   node esbuild.config.mjs --dev     once, with source maps, to be read and debugged
//   node esbuild.config.mjs --watch   the same on every change
//   node esbuild.config.mjs --words FILE   with the sentences of a file (npm run words) instead of its own
import { createHash } from "node:crypto";
import {
	existsSync,
	mkdirSync,
	readdirSync,
	readFileSync,
	realpathSync,
	renameSync,
	rmSync,
	writeFileSync,
} from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { parse } from "acorn";
import { simple } from "acorn-walk";
import esbuild from "esbuild";
import { minify } from "terser";

const root = fileURLToPath(new URL(".", import.meta.url));
const dist = join(root, "dist");
const { version } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));

/** Says of which sources a shipped build was made, and of which packages it holds a part. */
const RECORD = join(dist, "built.json");

/** CommonJS packages inside an ES module need `require`. */
const requireBanner =
	"import { createRequire as lodebookRequire } from 'node:module';const require = lodebookRequire(import.meta.url);";

const pageScript = { entryPoints: ["client/page/script.browser.ts"], platform: "browser", format: "iife" };

/** The entries, each with its runtime. */
const ENTRIES = [
	{ ...pageScript, outfile: "dist/page.js" },
	{
		entryPoints: ["client/page/tracing/tracing.browser.ts"],
		outfile: "dist/tracing.js",
		platform: "browser",
		format: "iife",
	},
	// The editor's page imports it as a module.
	{ entryPoints: ["client/page/cells.browser.ts"], outfile: "dist/cells.js", platform: "browser", format: "esm" },
	{
		entryPoints: ["client/extension.node.ts"],
		outfile: "dist/extension.node.cjs",
		platform: "node",
		format: "cjs",
		external: ["vscode"],
		mainFields: ["module", "main"],
	},
	{
		entryPoints: ["client/extension.browser.ts"],
		outfile: "dist/extension.browser.js",
		platform: "browser",
		format: "cjs",
		external: ["vscode"],
	},
	{
		entryPoints: ["server/server.node.ts"],
		outfile: "dist/server.node.cjs",
		platform: "node",
		format: "cjs",
	},
	{
		entryPoints: ["server/first.node.ts"],
		outfile: "dist/server.node.first.js",
		later: "dist/server.node.later.js",
		platform: "node",
		format: "cjs",
		mainFields: ["module", "main"],
	},
	{
		entryPoints: ["server/server.worker.ts"],
		outfile: "dist/server.worker.js",
		later: "dist/server.later.js",
		platform: "browser",
		format: "iife",
	},
	{
		entryPoints: { lodebook: "server/cli.ts", "lodebook-worker": "server/worker.node.ts" },
		outdir: "dist",
		outExtension: { ".js": ".mjs" },
		chunkNames: "lodebook-[hash]",
		platform: "node",
		format: "esm",
		splitting: true,
		mainFields: ["module", "main"],
		banner: { js: `#!/usr/bin/env node\n${requireBanner}` },
		inject: ["lodebook-page-script"],
	},
];

const common = ({ dev }) => ({
	bundle: true,
	minify: !dev,
	sourcemap: dev,
	target: "es2022",
	logLevel: "warning",
	legalComments: "none",
	loader: { ".wasm": "binary" },
	define: { LODEBOOK_VERSION: JSON.stringify(version) },
	// The tsconfigs are for the checks: what is built does not hang on them.
	tsconfigRaw: {
		compilerOptions: {
			target: "ES2023",
			strict: true,
			verbatimModuleSyntax: true,
			jsx: "react-jsx",
			jsxImportSource: "preact",
		},
	},
	absWorkingDir: root,
});

/** The page's script as text inside the command line, built anew whenever a part of it changes. */
const pageScriptText = (options) => ({
	name: "page-script-text",
	setup(build) {
		build.onResolve({ filter: /^lodebook-page-script$/ }, ({ path }) => ({ path, namespace: "page-script" }));
		build.onLoad({ filter: /.*/, namespace: "page-script" }, async () => {
			const { outputFiles, metafile } = await esbuild.build({
				...common(options),
				...pageScript,
				sourcemap: false,
				write: false,
				metafile: true,
			});
			return {
				contents: `export const LODEBOOK_PAGE_SCRIPT = ${JSON.stringify(outputFiles[0].text)};`,
				watchFiles: Object.keys(metafile.inputs).map((path) => join(root, path)),
			};
		});
	},
});

/**
 * Ways to pack a GeoTIFF that are not read: programs of their own in WebAssembly, and pictures, which are no heights; and
 * LZW, for which there is one of our own.
 */
const unread = {
	name: "unread-compressions",
	setup(build) {
		build.onResolve({ filter: /^\.\/(?:lerc|lzw|zstd|webimage|jpeg)\.js$/ }, ({ path, importer }) =>
			/geotiff[\\/]dist-module[\\/]compression/.test(importer) ? { path, namespace: "unread" } : undefined,
		);
		build.onLoad({ filter: /.*/, namespace: "unread" }, ({ path }) => ({
			contents: `throw new Error("it is packed as ${path.slice(2, -3)}, which is not read; unpack it first, for example with gdal_translate -co COMPRESS=DEFLATE");`,
		}));
	},
};

/** What libraries for photos hold beside what is used of them: workers of their own, and a way to fetch. */
const unused = {
	name: "unused",
	setup(build) {
		build.onResolve({ filter: /^fflate$/ }, () => ({ path: join(root, "node_modules/fflate/esm/browser.js") }));
		build.onLoad({ filter: /@jsquash[\\/]jpeg[\\/].*[\\/]mozjpeg_dec\.js$/ }, async ({ path }) => {
			const text = readFileSync(path, "utf8");
			const placed = 'if(import.meta.url===undefined){import.meta.url="https://localhost"}';
			if (!text.includes(placed)) throw new Error("@jsquash/jpeg is not as it was");
			// Its program is handed to it: it needs no place to fetch it from.
			const gone = ["fetch", "XMLHttpRequest", "importScripts", "window", "document", "import.meta.url"];
			const { code } = await esbuild.transform(text.replace(placed, ""), {
				define: Object.fromEntries(gone.map((name) => [name, "undefined"])),
			});
			return { contents: code };
		});
	},
};

/** What only its explanation shows of a rule: of its sentences, and of the rule itself. */
const TAUGHT = { sentences: new Set(["about"]), rule: new Set(["wrong", "instead", "right", "over"]) };

/**
 * What the rules teach, told once for the second part of a script in two: their files in the first part go without it.
 */
const taughtLater = (options) => {
	let pages;
	const explained = async () => {
		const { outputFiles } = await esbuild.build({
			...common(options),
			stdin: {
				contents: `export { explanationMarkdown, meaningOf } from "./shared/outputs/reference/explanation.ts";
					export { RULES } from "./shared/findings/rules.ts";`,
				resolveDir: root,
			},
			platform: "browser",
			format: "esm",
			sourcemap: false,
			write: false,
			plugins: options.words ? [translated(options.words)] : [],
		});
		const url = `data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString("base64")}`;
		const { RULES, explanationMarkdown, meaningOf } = await import(url);
		const table = RULES.map(({ code }) => [code, [explanationMarkdown(code), meaningOf(code)]]);
		return `const PAGES = new Map(${JSON.stringify(table)});
			const unknown = ${JSON.stringify(explanationMarkdown("{code}"))};
			export const explanationMarkdown = (code) => PAGES.get(code)?.[0] ?? unknown.replace("{code}", () => code.slice(0, 80));
			export const meaningOf = (code) => PAGES.get(code)?.[1] ?? "";`;
	};
	return {
		name: "taught-later",
		setup(build) {
			build.onLoad({ filter: /[\\/]outputs[\\/]reference[\\/]explanation\.ts$/ }, async () => {
				pages ??= explained();
				return { contents: await pages };
			});
			build.onLoad({ filter: /[\\/]shared[\\/]findings[\\/][\w-]+[\\/][\w-]+\.ts$/ }, async ({ path }) => {
				const { code } = await esbuild.transform(readFileSync(path, "utf8"), { loader: "ts", target: "es2022" });
				return { contents: withoutTeaching(code) };
			});
		},
	};
};

/** A rule's module without what only its explanation shows. */
function withoutTeaching(code) {
	const cuts = [];
	simple(parse(code, { ecmaVersion: 2022, sourceType: "module" }), {
		CallExpression({ callee, arguments: given }) {
			const name = callee.type === "Identifier" ? callee.name : "";
			const object = { sentences: given[1], rule: given[0] }[name];
			for (const [i, property] of (object?.properties ?? []).entries())
				if (property.type === "Property" && TAUGHT[name].has(property.key.name))
					cuts.push([property.start, object.properties[i + 1]?.start ?? property.end]);
		},
	});
	return cuts.sort((a, b) => b[0] - a[0]).reduce((left, [from, to]) => left.slice(0, from) + left.slice(to), code);
}

/** The YAML reader asks at every token whether it is to be logged, each time of the system: nothing of it is. */
const unlogged = {
	name: "unlogged",
	setup(build) {
		build.onResolve({ filter: /^process$/ }, ({ path, importer }) =>
			/[\\/]node_modules[\\/]yaml[\\/]/.test(importer) ? { path, namespace: "unlogged" } : undefined,
		);
		build.onLoad({ filter: /.*/, namespace: "unlogged" }, () => ({
			contents: "module.exports = { env: {}, emitWarning: (...told) => process.emitWarning(...told) };",
		}));
	},
};

/** Sentences of a translated catalogue in place of those of the house. */
const translated = (words) => ({
	name: "translated",
	setup(build) {
		build.onLoad({ filter: /[\\/]shared[\\/]text[\\/]translation\.ts$/ }, () => ({
			contents: `export const TRANSLATION = ${JSON.stringify(words)};`,
		}));
	},
});

/** `later`: the file of the second part, in builds that are in two. */
const builds = (options) =>
	ENTRIES.map(({ later, ...entry }) => ({
		...common(options),
		...entry,
		...(later && !options.dev && { later }),
		plugins: [
			unread,
			unused,
			unlogged,
			...(options.words ? [translated(options.words)] : []),
			...(later && !options.dev ? [taughtLater(options)] : []),
			...(entry.inject ? [pageScriptText(options)] : []),
		],
	}));

const buildOne = ({ later, ...one }) =>
	later ? inParts(one, later) : esbuild.build({ ...one, write: false, metafile: true });

/**
 * A script in two parts (server/parts.ts). A worker that an editor starts is no module, and esbuild splits only modules: it
 * does so in memory. Those that the entry needs are joined in one scope to the first part; each of the
 * others becomes a function in the second.
 */
async function inParts({ entryPoints: [entry], outfile, ...one }, later) {
	const split = await esbuild.build({
		...one,
		entryPoints: [entry],
		outdir: join(dist, "parts"),
		format: "esm",
		splitting: true,
		write: false,
		metafile: true,
	});
	const named = (path) => `./${path.replace(/^.*[\\/]/, "")}`;
	const chunks = new Map(split.outputFiles.map(({ path, text }) => [named(path), { text }]));
	let first;
	for (const [path, { imports, entryPoint }] of Object.entries(split.metafile.outputs)) {
		const name = named(path);
		const chunk = chunks.get(name);
		if (entryPoint === entry) first = name;
		chunk.needs = imports
			.filter(({ kind, external }) => kind === "import-statement" && !external)
			.map(({ path }) => named(path));
		for (const { kind, path: target, external } of imports) {
			if (kind !== "dynamic-import" || external) continue;
			const written = `import(${JSON.stringify(named(target))})`;
			if (!chunk.text.includes(written)) throw new Error(`${name}: no ${written} in it`);
			chunk.text = chunk.text.replaceAll(written, `lodebookParts.load(${JSON.stringify(named(target))})`);
		}
	}
	const needed = new Set([first]);
	for (const name of needed) for (const need of chunks.get(name).needs) needed.add(need);
	const rest = [...chunks.keys()].filter((name) => !needed.has(name));
	/** Modules of the first part that the second needs. */
	const shared = [...needed].filter((name) => rest.some((other) => chunks.get(other).needs.includes(name)));
	const joined = await esbuild.build({
		...one,
		outfile,
		stdin: {
			contents: [
				`import ${JSON.stringify(first)};`,
				...shared.map((name, i) => `import * as shared${i} from ${JSON.stringify(name)};`),
				`lodebookParts.hold({ ${shared.map((name, i) => `${JSON.stringify(name)}: (module) => { module.exports = shared${i}; }`).join(", ")} });`,
			].join("\n"),
		},
		plugins: [
			{
				name: "chunks",
				setup(build) {
					build.onResolve({ filter: /^\.\// }, ({ path }) =>
						chunks.has(path) ? { path, namespace: "chunk" } : undefined,
					);
					build.onLoad({ filter: /.*/, namespace: "chunk" }, ({ path }) => ({ contents: chunks.get(path).text }));
				},
			},
		],
		write: false,
	});
	const functions = rest.map(async (name) => {
		const { code } = await esbuild.transform(chunks.get(name).text, {
			format: "cjs",
			minify: one.minify,
			target: one.target,
			platform: one.platform,
			legalComments: "none",
		});
		for (const [, needs] of code.matchAll(/\brequire\("([^"]+)"\)/g))
			if (!chunks.has(needs)) throw new Error(`${name}: ${needs} is in neither part`);
		return `${JSON.stringify(name)}:(module,require)=>{${code.trim()}\n}`;
	});
	const text = `lodebookParts.hold({${(await Promise.all(functions)).join(",\n")}});\n`;
	const firstFiles =
		one.minify && one.platform === "browser" ? await Promise.all(joined.outputFiles.map(shorter)) : joined.outputFiles;
	return { metafile: split.metafile, outputFiles: [...firstFiles, { path: join(root, later), text }] };
}

/** What is fetched before the first answer in a browser: terser's names compress better than esbuild's, by a fortieth. */
async function shorter({ path, text }) {
	const { code } = await minify(text, { compress: false, mangle: true, ecma: 2020 });
	return { path, text: code };
}

/** Builds once. Files that are new come first, and what is not built any more goes last: a process that runs finds its own. */
export async function build({ dev = false, words, into = dist } = {}) {
	const sources = fingerprint();
	const built = await Promise.all(builds({ dev, words }).map(buildOne));
	const packages = packageFolders(built.flatMap(({ metafile }) => Object.keys(metafile.inputs)));
	if (into === dist) rmSync(RECORD, { force: true });
	const files = built.flatMap(({ outputFiles }) => outputFiles).reverse();
	for (const { path, text } of files) write(join(into, relative(dist, path)), inAscii(text));
	if (into !== dist) return;
	write(join(dist, "LICENSES.txt"), licences(packages));
	const kept = new Set([...files.map(({ path }) => relative(dist, path)), "LICENSES.txt"]);
	for (const name of readdirSync(dist)) if (!kept.has(name)) rmSync(join(dist, name), { recursive: true, force: true });
	if (!dev && !words) write(RECORD, JSON.stringify({ sources, packages }, null, "\t"));
}

/** What the shipped build in dist/ was made of; undefined where there is none. */
export function record() {
	try {
		return JSON.parse(readFileSync(RECORD, "utf8"));
	} catch {
		return undefined;
	}
}

/** One checksum of all that a build is made of. */
export function fingerprint() {
	const sum = createHash("sha256");
	const files = ["client", "server", "shared"].flatMap((folder) =>
		readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
			.filter((entry) => entry.isFile() && /\.(?:tsx?|json)$/.test(entry.name))
			.map((entry) => join(entry.parentPath ?? entry.path, entry.name)),
	);
	for (const path of [...files.sort(), ...["package.json", "package-lock.json", "esbuild.config.mjs"].map(inRoot)])
		sum.update(relative(root, path)).update("\0").update(readFileSync(path)).update("\0");
	return sum.digest("hex");
}

const inRoot = (name) => join(root, name);

/**
 * In ASCII, an engine holds a script in one byte a character instead of two. esbuild writes texts so, and leaves regular
 * expressions as they are, the one other place where such characters stand: an escape means the same there.
 */
const inAscii = (script) =>
	script.replace(/[^\0-\x7F]/g, (one) => `\\u${one.charCodeAt(0).toString(16).padStart(4, "0")}`);

/** In one step: nobody reads half a file. */
function write(path, contents) {
	mkdirSync(dirname(path), { recursive: true });
	writeFileSync(`${path}.new`, contents);
	renameSync(`${path}.new`, path);
}

async function watch() {
	// What is in dist/ from now on is not what is shipped.
	const unrecorded = {
		name: "unrecorded",
		setup: (build) => build.onEnd(() => rmSync(RECORD, { force: true })),
	};
	for (const one of builds({ dev: true })) {
		const context = await esbuild.context({ ...one, plugins: [...(one.plugins ?? []), unrecorded] });
		await context.watch();
	}
}

/** Folders of the packages of which a part is in a bundle. */
const packageFolders = (inputs) =>
	[
		...new Set(inputs.flatMap((path) => path.match(/^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/)?.[0] ?? dataOf(path))),
	].sort();

/** The package that a table was made from: a generated table names it in its first line. */
function dataOf(path) {
	const at = join(root, path);
	if (!path.startsWith("shared/") || !existsSync(at)) return [];
	const source = /^\/\/ Written by .*\bSources?: ((?:@[\w.-]+\/)?[\w.-]+) \d/.exec(readFileSync(at, "utf8"))?.[1];
	return source ? [`node_modules/${source}`] : [];
}

/** Name, version, licence and licence text of every package of which a part is in a bundle. */
function licences(folders) {
	return folders
		.map((folder) => {
			const at = join(root, folder);
			const { name, version: number, license } = JSON.parse(readFileSync(join(at, "package.json"), "utf8"));
			const file = readdirSync(at).find((one) => /^(licen[cs]e|copying)/i.test(one));
			if (!license) throw new Error(`${name} names no licence`);
			return `${name} ${number} (${license})\n${"-".repeat(40)}\n${file ? readFileSync(join(at, file), "utf8").trim() : `Licence: ${license}, see the package.`}\n`;
		})
		.join("\n\n");
}

if (process.argv[1] && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
	if (process.argv.includes("--watch")) await watch();
	else {
		const words = process.argv.indexOf("--words");
		await build({
			dev: process.argv.includes("--dev"),
			...(words > 0 && { words: JSON.parse(readFileSync(process.argv[words + 1], "utf8")) }),
		});
	}
}
