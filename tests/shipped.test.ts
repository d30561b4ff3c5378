import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { beforeAll, describe, expect, test } from "vitest";

const dist = fileURLToPath(new URL("../dist/", import.meta.url));

/** What the built files may not hold: code from text, a network, other programs. */
const FORBIDDEN: Readonly<Record<string, RegExp>> = {
	"code from text":
		/(?<![.\w$])eval\s*\(|new Function\s*\(|(?<![.\w$"'`])Function\s*\(\s*["'`]|import\s*\(\s*[a-z$_]+\s*\)/,
	// `async fetch(` declares a method of that name: geotiff has one that reads a slice of what it was given.
	"a request": /(?<![.\w$]|async )fetch\s*\(|XMLHttpRequest|new WebSocket|new EventSource|sendBeacon/,
	"a network module": /["'`](?:node:)?(?:https?|http2|dns|tls|dgram)["'`]/,
	"another program": /["'`](?:node:)?(?:child_process|cluster|worker_threads)["'`]/,
	"a script from elsewhere": /importScripts/,
	"a script that is read": /compileFunction|runIn(?:This|New)?Context|vm\.Script/,
};

/** Files in which that stands all the same, by what else stands in them; each with its reason. */
const REASONED: readonly { readonly what: string; readonly mark: RegExp; readonly reason: string }[] = [
	{
		what: "a script that is read",
		mark: /^server\.node\.(?:cjs|first\.js)$/,
		reason: "the server in Node reads its own two parts, in small pieces (server/run-script.node.ts)",
	},
	{
		what: "another program",
		mark: /"cat-file"/,
		reason: "`compare` reads a revision with `git cat-file blob`, without a shell (DEVELOPERS.md, who could do harm)",
	},
	{
		what: "another program",
		mark: /executableDir/,
		reason: "commander could start commands that are files of their own; none of ours is",
	},
	{
		what: "another program",
		mark: /"\.\/lodebook-worker\.mjs"|^lodebook-worker\.mjs$/,
		reason: "many plans are worked on by several threads of the same program, which run this module of it and no other",
	},
	{
		what: "another program",
		mark: /^(?:extension\.node\.cjs|server\.node\.first\.js)$/,
		reason:
			"the protocol's libraries can start servers as programs; the extension starts its own module, the server nothing",
	},
];

/**
 * The one script that a shipped script loads: the web worker's second part. Its address comes from the extension and is
 * looked at before (tests/server/parts.test.ts). This call, once, in this file, and nothing else is left out of the search.
 */
const SECOND_PART_CALL = /\bself\.importScripts\(([\w$]+)\(([\w$]+)\)\)/g;

function withoutSecondPart(name: string, text: string): string {
	if (name !== "server.worker.js") return text;
	const calls = [...text.matchAll(SECOND_PART_CALL)];
	expect(calls).toHaveLength(1);
	const looksAt = calls[0]?.[1] ?? "";
	// What makes the address is what looks at it.
	expect(text).toMatch(
		new RegExp(`function ${looksAt.replaceAll("$", "\\$&")}\\((\\w+)\\)\\{[^}]*The editor did not say`, "i"),
	);
	return text.replace(SECOND_PART_CALL, "");
}

/** Bytes of the worker's first part as they come over the wire. */
const MOST_COMPRESSED = 420_000;

describe("the files that are shipped", () => {
	let files: readonly string[] = [];
	beforeAll(() => {
		files = readdirSync(dist).filter((name) => /\.(?:m|c)?js$/.test(name));
	});

	test("are those that are expected", () => {
		for (const name of [
			"extension.browser.js",
			"extension.node.cjs",
			"server.node.cjs",
			"server.node.first.js",
			"server.node.later.js",
			"server.worker.js",
			"server.later.js",
			"page.js",
			"cells.js",
			"lodebook.mjs",
			"lodebook-worker.mjs",
		])
			expect(files).toContain(name);
	});

	test("hold no code made from text, no request, no network, and no other program but where it is said why", () => {
		const found = files.flatMap((name) => {
			const text = withoutSecondPart(name, readFileSync(dist + name, "utf8"));
			return Object.entries(FORBIDDEN).flatMap(([what, pattern]) => {
				const match = pattern.exec(text);
				if (!match || REASONED.some((one) => one.what === what && (one.mark.test(name) || one.mark.test(text))))
					return [];
				return [`${name}: ${what}: ${text.slice(Math.max(0, match.index - 60), match.index + 60)}`];
			});
		});
		expect(found).toEqual([]);
	});

	test("have no source maps, and none is named in them", () => {
		for (const name of files) expect(readFileSync(dist + name, "utf8")).not.toMatch(/^\/\/# sourceMappingURL=/m);
		expect(readdirSync(dist).filter((name) => name.endsWith(".map"))).toEqual([]);
	});

	test("the web's files know nothing of Node", () => {
		for (const name of ["extension.browser.js", "server.worker.js", "page.js", "cells.js"]) {
			expect(readFileSync(dist + name, "utf8")).not.toMatch(/require\(\s*["'`](?!vscode["'`])/);
		}
	});

	test("the second part takes its modules from the first or itself", () => {
		for (const names of [
			["server.worker.js", "server.later.js"],
			["server.node.first.js", "server.node.later.js"],
		]) {
			const [before, later] = names.map((name) => readFileSync(dist + name, "utf8"));
			const held = new Set([...`${before}\n${later}`.matchAll(/"(\.\/[\w-]+\.js)":\(?\w+/g)].map(([, name]) => name));
			const taken = [
				...(later ?? "").matchAll(/\brequire\(([^)]*)\)/g),
				...(before ?? "").matchAll(/lodebookParts\.load\(([^)]*)\)/g),
			];
			expect(taken.length).toBeGreaterThan(1);
			for (const [call, name = ""] of taken) expect(held, call).toContain(name.replace(/^["'`]|["'`]$/g, ""));
		}
	});

	test("what the web's editor waits for first is small", () => {
		const compressed = (name: string): number => gzipSync(readFileSync(dist + name), { level: 9 }).length;
		expect(compressed("server.worker.js")).toBeLessThan(MOST_COMPRESSED);
		// And not because there is nothing to load later.
		expect(compressed("server.later.js")).toBeGreaterThan(50_000);
	});

	test("every package of which a part is shipped is named with its licence", () => {
		const licences = readFileSync(`${dist}LICENSES.txt`, "utf8");
		for (const name of ["yaml", "astronomy-engine", "vscode-languageserver", "preact", "morphdom", "temporal-polyfill"])
			expect(licences).toMatch(new RegExp(`^${name} \\d`, "m"));
		// The tables of stars and of the Milky Way are made from its data: its notice goes with them (BSD-3, second clause).
		expect(licences).toMatch(
			/^d3-celestial [\d.]+ \(BSD-3-Clause\)\n-+\n[\s\S]*Redistributions in binary form must reproduce/m,
		);
	});
});

describe("the links of README.md", () => {
	const root = new URL("../", import.meta.url);
	const links = [...readFileSync(new URL("README.md", root), "utf8").matchAll(/\]\(([^)#]+)[^)]*\)/g)].map(
		([, link = ""]) => link,
	);
	/** Whether the lists of what is left out say that a file comes along. */
	const comesAlong = (list: string, path: string): boolean =>
		readFileSync(new URL(list, root), "utf8")
			.split("\n")
			.some((line) => line.startsWith("!") && matches(line.slice(1), path));
	const matches = (pattern: string, path: string): boolean =>
		new RegExp(
			`^${pattern
				.replace(/\./g, "\\.")
				.replace(/\*\*/g, ".+")
				.replace(/(?<!\.)\*/g, "[^/]+")}$`,
		).test(path);

	test("lead to files that come with the extension and the package", () => {
		expect(links.length).toBeGreaterThan(5);
		for (const link of links) {
			expect(readFileSync(new URL(link, root), "utf8"), link).not.toBe("");
			expect(comesAlong(".vscodeignore", link), link).toBe(true);
			expect(comesAlong(".npmignore", link), link).toBe(true);
		}
	});
});
