/** Sentences stand with their owners: no code that decides holds one (DEVELOPERS.md, rule 7). */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { AnyNode } from "acorn";
import { ancestor } from "acorn-walk";
import { describe, expect, test } from "vitest";
import { catalogue } from "../shared/words/catalogue.ts";
import { clientModules, clientTexts, isTranslated } from "./client-texts.mjs";
import { parsedModule } from "./parsed.mjs";

const root = fileURLToPath(new URL("../", import.meta.url));

/** Rooms whose code decides. Files whose whole content is words, documentation, data or a drawing's style are words themselves. */
const ROOMS = ["methods", "cells", "notation", "plan", "evaluate", "findings", "outputs"];
const WORDS =
	/(?:^|\/)(?:words|[\w-]+-docs|keys|kinds|style)\.ts$|outputs\/(?:reference|draft)\/|findings\/example-plan\.ts$/;

const files = ROOMS.flatMap((room) =>
	readdirSync(join(root, "shared", room), { withFileTypes: true, recursive: true })
		.filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
		.map((entry) => join(entry.parentPath, entry.name).slice(root.length).replaceAll("\\", "/")),
).filter((path) => !WORDS.test(path));

/** Calls whose arguments are declarations of words, and keys whose values are documentation or text of a plan. */
const DECLARES = new Set(["sentences", "valuesFor", "mapping"]);
const DOCUMENTS = new Set([
	"wrong",
	"instead",
	"right",
	"near",
	"doc",
	"example",
	"otherwise",
	"label",
	"how",
	"lines",
]);

function isDeclared(ancestors: readonly AnyNode[]): boolean {
	return ancestors.some((node) => {
		if (node.type === "Property" && node.key.type === "Identifier") return DOCUMENTS.has(node.key.name);
		if (node.type === "ThrowStatement") return true;
		if (node.type !== "CallExpression") return false;
		let { callee } = node;
		while (callee.type === "CallExpression") callee = callee.callee;
		return callee.type === "Identifier" && DECLARES.has(callee.name);
	});
}

/** What other programs read in JSON answers. */
const CONTRACT = new Set(["dark and moonless"]);

/** Three words or more with blanks between them; what is drawn or marked up, and the text of a plan, reads otherwise. */
const isSentence = (text: string): boolean =>
	!CONTRACT.has(text) &&
	/(?:^|\s)[A-Za-zµ]{2,}[,.:;]? [A-Za-z]{2,}[,.:;]? [A-Za-z]{2,}/.test(text) &&
	!/^[^a-z]*[MLdh]?[\d-]|[<>{}=]|: [\w"-]+;|\n {2}|^[\w-]+: |^N NbE /.test(text);

function sentencesIn(path: string, isOwned: (ancestors: readonly AnyNode[]) => boolean): readonly string[] {
	const found: string[] = [];
	const look = (text: string, ancestors: readonly AnyNode[]): void => {
		if (isSentence(text) && !isOwned(ancestors)) found.push(`${path}: ${text.slice(0, 80)}`);
	};
	ancestor(parsedModule(path), {
		Literal(node, _state, ancestors) {
			if (typeof node.value === "string") look(node.value, ancestors as AnyNode[]);
		},
		TemplateLiteral(node, _state, ancestors) {
			look(node.quasis.map(({ value }) => value.cooked ?? "").join(" X "), ancestors as AnyNode[]);
		},
	});
	return found;
}

/** Names of elements that a page may not hold. */
const HARMLESS = "client/page/harmless.ts";

describe("sentences", () => {
	test("stand with their owners, not in the code that decides", () => {
		expect(files.flatMap((path) => sentencesIn(path, isDeclared))).toEqual([]);
	});

	test("of the extension are given to the editor to translate, and all of them are in its file", () => {
		const isOurs = (ancestors: readonly AnyNode[]): boolean => ancestors.some(isTranslated) || isDeclared(ancestors);
		const outside = clientModules()
			.filter((path) => path !== HARMLESS)
			.flatMap((path) => sentencesIn(path, isOurs));
		expect(outside).toEqual([]);
		const kept = JSON.parse(readFileSync(join(root, "client/l10n/bundle.l10n.json"), "utf8"));
		expect(kept).toEqual(clientTexts());
		expect(Object.keys(kept).length).toBeGreaterThan(60);
	});

	test("make one catalogue: every key once, every name in braces closed", () => {
		const sentences = Object.entries(catalogue());
		expect(sentences.length).toBeGreaterThan(500);
		for (const [key, text] of sentences) {
			expect(key).toMatch(/^[a-z][\w./-]+\.[\w-]+$/i);
			expect(text.replace(/\{[A-Za-z][A-Za-z0-9]*\}/g, ""), key).not.toMatch(/\{[A-Za-z]+\}|undefined/);
		}
	});
});
