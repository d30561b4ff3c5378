import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { EXPLANATION_SCHEME } from "../shared/protocol/explanation.ts";
import { LANGUAGE, NOTEBOOK_TYPE, PLAN_ENDING } from "../shared/protocol/language.ts";
import { CELL_DATA, CELL_RENDERER } from "../shared/protocol/notebook.ts";

const root = fileURLToPath(new URL("../", import.meta.url));

/** A path from the root on, with `/` between its parts. */
const inRepository = (path: string): string => relative(root, path).split(sep).join("/");

function sources(folder: string): string[] {
	return readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
		.filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
		.map((entry) => inRepository(join(entry.parentPath ?? entry.path, entry.name)));
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
	protocol: [],
	text: [],
	memory: [],
	earth: ["memory"],
	sky: ["memory", "earth"],
	terrain: ["earth", "sky"],
	optics: ["sky"],
	photo: ["sky", "optics"],
	alignment: ["memory", "earth", "sky", "optics"],
	frames: ["memory", "earth", "sky", "terrain", "optics", "alignment"],
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
		"measure",
	],
	measure: ["text", "earth", "sky", "optics", "alignment", "frames", "notation", "cells", "plan", "evaluate"],
	words: ["text", "findings", "outputs", "measure"],
};

/** The protocol's own types have no code: they are there for whoever names an edit or a range that goes over the wire. */
const isProtocolType = (path: string, target: string): boolean =>
	path.startsWith("shared/protocol/") &&
	target === "vscode-languageserver-types" &&
	!/^import (?!type )[^;]*vscode-languageserver-types/m.test(readFileSync(join(root, path), "utf8"));

describe("the house", () => {
	test("arrows run one way: client and server → shared, and inside shared", () => {
		const wrong: string[] = [];
		for (const path of [...sources("shared"), ...sources("server"), ...sources("client")]) {
			const room = roomOf(path);
			for (const target of importsOf(path)) {
				if (!target.startsWith(".")) continue;
				const used = roomOf(inRepository(join(root, dirname(path), target)));
				if (used === room) continue;
				const allowed =
					room === "server" || room === "client"
						? used.startsWith("shared")
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
				if (/^(node:|vscode|fs|path|http)/.test(target) && !isProtocolType(path, target))
					wrong.push(`${path} → ${target}`);
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

	test("requests, commands and what plans are called have their names in shared/protocol/ only", () => {
		const names = ["lodebook/", ...Object.values(COMMANDS), NOTEBOOK_TYPE, EXPLANATION_SCHEME, PLAN_ENDING];
		const wrong = [...sources("server"), ...sources("client")].flatMap((path) => {
			const text = readFileSync(join(root, path), "utf8");
			return names
				.filter((name) => ['"', "'", "`"].some((quote) => text.includes(quote + name)))
				.map((name) => [path, name]);
		});
		expect(wrong).toEqual([]);
	});

	test("package.json contributes the commands, the language and the notebook that the protocol names, and no others", () => {
		const { contributes } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
		const all = (key: string, of: string): string[] =>
			contributes[key].map((one: Record<string, string>) => one[of]).sort();
		expect(all("commands", "command")).toEqual(Object.values(COMMANDS).sort());
		expect(all("languages", "id")).toEqual([LANGUAGE]);
		expect(all("notebooks", "type")).toEqual([NOTEBOOK_TYPE]);
		expect(contributes.languages[0].extensions).toEqual([PLAN_ENDING]);
		expect(all("notebookRenderer", "id")).toEqual([CELL_RENDERER]);
		expect(contributes.notebookRenderer[0].mimeTypes).toEqual([CELL_DATA]);
		// Before HTML, which the editor would choose otherwise.
		expect(contributes.configurationDefaults["notebook.displayOrder"]).toEqual([CELL_DATA]);
		expect(contributes.notebooks[0].selector).toEqual([{ filenamePattern: `*${PLAN_ENDING}` }]);
	});

	test("each command of the extension is registered in client/", () => {
		const registered = sources("client").flatMap((path) =>
			[...readFileSync(join(root, path), "utf8").matchAll(/\bregister(?:Command)?\(COMMANDS\.(\w+),/g)].map(
				(match) => match[1] as string,
			),
		);
		expect(registered.sort()).toEqual(Object.keys(COMMANDS).sort());
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

	test("no unfinished work is marked in the sources", () => {
		const words = /\bTODO\b|\bFIXME\b|\bXXX\b/;
		const wrong = [...sources("shared"), ...sources("server"), ...sources("client")].filter((path) =>
			words.test(readFileSync(join(root, path), "utf8")),
		);
		expect(wrong).toEqual([]);
	});
});
