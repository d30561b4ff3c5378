import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";

const root = fileURLToPath(new URL("../", import.meta.url));

function sources(folder: string): string[] {
	return readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
		.filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
		.map((entry) => relative(root, join(entry.parentPath ?? entry.path, entry.name)));
}

const importsOf = (path: string): string[] =>
	[
		...readFileSync(join(root, path), "utf8").matchAll(
			/^(?:import|export)\s[^;]*?from\s+"([^"]+)"|^import\s+"([^"]+)"|import\("([^"]+)"\)/gms,
		),
	].map((match) => (match[1] ?? match[2] ?? match[3]) as string);

/** The room of a file: `shared/sky`, `server`, `client`, … */
function roomOf(path: string): string {
	const [first = "", second = ""] = path.split("/");
	return first === "shared" ? `shared/${second}` : first;
}

/** What each room of `shared/` may use: arrows run one way (DEVELOPERS.md, "The house"). */
const ROOMS: Readonly<Record<string, readonly string[]>> = {
	text: [],
	memory: [],
	earth: ["memory"],
	sky: ["memory", "earth"],
	optics: ["sky"],
	alignment: ["memory", "earth", "sky", "optics"],
	notation: ["text", "earth", "sky"],
	methods: ["text", "earth", "sky", "optics", "alignment", "notation"],
	cells: ["text", "memory", "earth", "sky", "optics", "alignment", "notation", "methods"],
	plan: ["text", "memory", "sky", "notation", "cells", "methods"],
	evaluate: ["text", "memory", "earth", "sky", "optics", "alignment", "notation", "methods", "cells", "plan"],
	findings: [
		"text",
		"memory",
		"earth",
		"sky",
		"optics",
		"alignment",
		"notation",
		"methods",
		"cells",
		"plan",
		"evaluate",
	],
	outputs: [
		"text",
		"memory",
		"earth",
		"sky",
		"optics",
		"alignment",
		"notation",
		"methods",
		"cells",
		"plan",
		"evaluate",
		"findings",
	],
	words: ["text", "findings", "outputs"],
};

describe("the house", () => {
	test("arrows run one way: client → server → shared, and inside shared", () => {
		const wrong: string[] = [];
		for (const path of [...sources("shared"), ...sources("server"), ...sources("client")]) {
			const room = roomOf(path);
			for (const target of importsOf(path)) {
				if (!target.startsWith(".")) continue;
				const used = roomOf(relative(root, join(root, dirname(path), target)));
				if (used === room) continue;
				const allowed =
					room === "server"
						? used.startsWith("shared")
						: room === "client"
							? used === "server" || used.startsWith("shared")
							: (ROOMS[room.replace("shared/", "")] ?? []).includes(used.replace("shared/", ""));
				if (!allowed) wrong.push(`${path} → ${target}`);
			}
		}
		expect(wrong).toEqual([]);
	});

	test("the core knows no editor, no file, no clock and no network", () => {
		const wrong: string[] = [];
		for (const path of sources("shared")) {
			for (const target of importsOf(path))
				if (/^(node:|vscode|fs|path|http)/.test(target)) wrong.push(`${path} → ${target}`);
			const code = readFileSync(join(root, path), "utf8").replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, "");
			for (const pattern of [
				/\bDate\.now\(/,
				/\bnew Date\(\)/,
				/\bfetch\(/,
				/\bprocess\./,
				/\beval\(/,
				/\bnew Function\b/,
				/\bXMLHttpRequest\b/,
				/\bMath\.random\(/,
			]) {
				if (pattern.test(code)) wrong.push(`${path}: ${pattern.source}`);
			}
		}
		expect(wrong).toEqual([]);
	});

	test("`vscode` is imported in client/ only, Node's own modules in *.node.ts and the command line only", () => {
		const wrong: string[] = [];
		for (const path of sources("server")) {
			const targets = importsOf(path);
			if (targets.some((target) => target === "vscode")) wrong.push(path);
			if (
				targets.some((target) => target.startsWith("node:")) &&
				!/\.node\.ts$|^server\/(?:commands\/|cli\.ts)/.test(path)
			)
				wrong.push(path);
		}
		expect(wrong).toEqual([]);
	});

	test("every source file says at its head what it is", () => {
		const silent = [...sources("shared"), ...sources("server"), ...sources("client")].filter((path) => {
			if (/^shared\/findings\/[a-z]+\/[a-z-]+\.ts$/.test(path) || path.startsWith("server/commands/")) return false;
			return !/^\/[/*]/.test(readFileSync(join(root, path), "utf8").replace(/^(?:import[^;]*;\s*)*/s, ""));
		});
		expect(silent).toEqual([]);
	});

	test("every exported function, class and table of the core has its doc comment, or is what its file's head tells of", () => {
		const silent = sources("shared").flatMap((path) => {
			// A rule says itself what it is.
			if (/^shared\/findings\/[a-z]+\/[a-z-]+\.ts$/.test(path) || path.endsWith("-table.ts")) return [];
			const lines = readFileSync(join(root, path), "utf8").split("\n");
			const exported = lines.flatMap((line, i) =>
				/^export (?:async )?(?:function|class|abstract class|const) /.test(line) ? [i] : [],
			);
			return exported.slice(1).flatMap((i) => (lines[i - 1]?.trimEnd().endsWith("*/") ? [] : [`${path}:${i + 1}`]));
		});
		expect(silent).toEqual([]);
	});

	test("no word of a real product, of the workplace or of a file that is not ours stands in the tree", () => {
		const words = /\bTODO\b|\bFIXME\b|\bXXX\b/;
		const wrong = [...sources("shared"), ...sources("server"), ...sources("client")].filter((path) =>
			words.test(readFileSync(join(root, path), "utf8")),
		);
		expect(wrong).toEqual([]);
	});
});
