/** Nothing outside `shared/methods/` knows a method by its name. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { ALL_METHODS } from "../../shared/methods/methods.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

const sources = ["shared", "server", "client"].flatMap((folder) =>
	readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
		.filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
		.map((entry) => join(entry.parentPath, entry.name).slice(root.length).replaceAll("\\", "/"))
		.filter((path) => !path.startsWith("shared/methods/")),
);

/** A kind as a text of its own, or in a message's backticks; the text of an example plan (`kind: compass`) is no code. */
const named = (kind: string): RegExp => new RegExp(`["'\`]${kind}["'\`]|\\\\\`${kind}\\\\\``);

/** Kinds that other things share: one may be called so (an error source, a key of the log, a value). */
const WORDS = new Set(["compass", "drift", "phone", "landmark-bearing"]);

/** Where the code decides something by a kind that is a plain word. */
const decided = (kind: string): RegExp => new RegExp(`kind\\s*[!=]==?\\s*"${kind}"|kind: "${kind}"|case "${kind}"`);

describe("methods", () => {
	test("no file outside their room names a kind", () => {
		const wrong = sources.flatMap((path) => {
			const code = readFileSync(join(root, path), "utf8").replace(/\/\*[\s\S]*?\*\//g, "");
			return ALL_METHODS.flatMap(({ kind }) =>
				(WORDS.has(kind) ? decided(kind) : named(kind)).test(code) ? [`${path}: ${kind}`] : [],
			);
		});
		expect(wrong).toEqual([]);
	});

	test("a method imports no other method", () => {
		const folder = join(root, "shared/methods");
		const kinds: readonly string[] = ALL_METHODS.map(({ kind }) => kind);
		const wrong = kinds.flatMap((kind) =>
			readdirSync(join(folder, kind)).flatMap((file) => {
				const imports = [...readFileSync(join(folder, kind, file), "utf8").matchAll(/"\.\.\/([\w-]+)\//g)];
				return imports.flatMap(([, other = ""]) => (kinds.includes(other) ? [`${kind}/${file} → ${other}`] : []));
			}),
		);
		expect(wrong).toEqual([]);
	});
});
