/**
 * Whatever the extension shows by itself is given to the editor to translate: of its code every text that is not an id,
 * and whatever reaches a title, a label, a message or a page; of its manifest every text that a person reads.
 */
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { type AnyNode, type Expression, type Program, parse } from "acorn";
import { ancestor, simple } from "acorn-walk";
import { describe, expect, test } from "vitest";
import { clientModules, isTranslated } from "../client-texts.mjs";
import { parsedModule } from "../parsed.mjs";

const root = fileURLToPath(new URL("../../", import.meta.url));

/** Properties of what the editor shows, set in an object or by themselves. */
const SHOWN_PROPERTIES = new Set([
	"title",
	"prompt",
	"placeHolder",
	"placeholder",
	"label",
	"detail",
	"description",
	"openLabel",
	"saveLabel",
	"tooltip",
	"text",
	"message",
	"says",
	"banner",
	"problem",
	"validationMessage",
	"textContent",
	"innerText",
	"ariaLabel",
	"alt",
	"body",
]);

/** Calls that show their arguments: of some only one of them is a text. */
const SHOWN_ARGUMENTS: Readonly<Record<string, readonly number[] | "all">> = {
	showInformationMessage: "all",
	showWarningMessage: "all",
	showErrorMessage: "all",
	setStatusBarMessage: [0],
	createWebviewPanel: [1],
	createNotebookController: [2],
	createTreeView: [0],
	createOutputChannel: [0],
	asHtml: [0],
	alert: [0],
	confirm: [0],
};

/** What is shown and is in no language: values as a plan has them, and names. */
const IN_NO_LANGUAGE = new Set([
	"Lodebook",
	"24 mm",
	"36 x 24 mm",
	"6000 x 4000",
	"2027-06-05",
	"47°06'28.1\"N 8°40'55.2\"E",
	// An attribute of an element.
	" hidden",
]);

/** Letters of a text that a person reads: markup and the editor's icons are none. */
const lettersOf = (text: string): boolean =>
	!IN_NO_LANGUAGE.has(text) && /\p{L}{2}/u.test(text.replace(/<[^>]*>?|^[^<>]*>|\$\([\w-]+\)|&\w+;/g, ""));

type Constants = ReadonlyMap<string, Expression>;

/** What is said in an expression whose value is shown, and not by a text to translate. */
function untranslated(
	node: AnyNode | null | undefined,
	constants: Constants,
	seen = new Set<AnyNode>(),
): readonly string[] {
	if (!node || seen.has(node) || isTranslated(node)) return [];
	seen.add(node);
	const within = (...parts: readonly (AnyNode | null | undefined)[]): readonly string[] =>
		parts.flatMap((part) => untranslated(part, constants, seen));
	switch (node.type) {
		case "Literal":
			return typeof node.value === "string" && lettersOf(node.value) ? [node.value] : [];
		case "TemplateLiteral":
			return [
				...[node.quasis.map(({ value }) => value.cooked ?? "").join("")].filter(lettersOf),
				...within(...node.expressions),
			];
		case "ConditionalExpression":
			return within(node.consequent, node.alternate);
		case "LogicalExpression":
		case "BinaryExpression":
			return /^(?:[=!]=|[<>]|in)/.test(node.operator) ? [] : within(node.left, node.right);
		case "ArrayExpression":
			return within(...node.elements);
		case "SpreadElement":
			return within(node.argument);
		case "AwaitExpression":
			return within(node.argument);
		case "Identifier":
			return within(constants.get(node.name));
		case "CallExpression":
			// Of a list that is joined to a text.
			return node.callee.type === "MemberExpression" &&
				node.callee.property.type === "Identifier" &&
				["join", "concat"].includes(node.callee.property.name)
				? within(node.callee.object)
				: [];
		default:
			return [];
	}
}

/** What is shown by a module and is not given to the editor to translate. */
function shownUntranslated(module: Program): readonly string[] {
	const constants = new Map<string, Expression>();
	simple(module, {
		VariableDeclarator({ id, init }) {
			if (id.type === "Identifier" && init) constants.set(id.name, init);
		},
	});
	const found: string[] = [];
	const look = (node: AnyNode): void => void found.push(...untranslated(node, constants));
	simple(module, {
		Property({ key, value }) {
			if (key.type === "Identifier" && SHOWN_PROPERTIES.has(key.name)) look(value);
		},
		AssignmentExpression({ left, right }) {
			if (left.type !== "MemberExpression" || left.property.type !== "Identifier") return;
			if (SHOWN_PROPERTIES.has(left.property.name) || left.property.name === "name") look(right);
		},
		CallExpression({ callee, arguments: given }) {
			const name = callee.type === "MemberExpression" ? callee.property : callee;
			if (name.type !== "Identifier") return;
			const which = Object.hasOwn(SHOWN_ARGUMENTS, name.name) ? SHOWN_ARGUMENTS[name.name] : undefined;
			if (which) for (const [i, one] of given.entries()) if (which === "all" || which.includes(i)) look(one);
		},
	});
	return found;
}

/** Two words, or one that begins as a sentence or a button does. */
const isWords = (text: string): boolean =>
	/\p{L}{2,} \p{L}{2,}|(?:^|[\s>])\p{Lu}\p{Ll}+/u.test(text.replace(/<[^>]*>?|^[^<>]*>/g, "")) && lettersOf(text);

/** Names of keys, of elements and of a font. */
const NAMES = new Set([
	"Enter",
	"Backspace",
	"Delete",
	".evening tr",
	".all-sky desc",
	"result wrong",
	"13px system-ui, sans-serif",
]);

/** Every text of a module that reads as words, shown or not. */
function wordsOf(module: Program): readonly string[] {
	const found: string[] = [];
	const look = (text: string, ancestors: readonly AnyNode[]): void => {
		if (!ancestors.some(isTranslated) && isWords(text) && !NAMES.has(text)) found.push(text);
	};
	const isOfImport = (node: AnyNode, ancestors: readonly AnyNode[]): boolean =>
		ancestors.some((one) => "source" in one && one.source === node);
	ancestor(module, {
		Literal(node, _state, ancestors) {
			if (typeof node.value === "string" && !isOfImport(node, ancestors as AnyNode[]))
				look(node.value, ancestors as AnyNode[]);
		},
		TemplateLiteral({ quasis }, _state, ancestors) {
			look(quasis.map(({ value }) => value.cooked ?? "").join(""), ancestors as AnyNode[]);
		},
	});
	return found;
}

const parsed = (code: string): Program => parse(code, { ecmaVersion: 2022, sourceType: "module" });

describe("the extension's code", () => {
	/** Of elements that a page may not hold. */
	const modules = clientModules().filter((path) => path !== "client/page/harmless.ts");

	test.each(modules)("%s shows what the editor can translate, and nothing else", (path) => {
		const module = parsedModule(path) as Program;
		expect(shownUntranslated(module)).toEqual([]);
		expect(wordsOf(module)).toEqual([]);
	});

	test("there is much that it shows", () => {
		let translated = 0;
		for (const path of modules)
			simple(parsedModule(path) as Program, {
				CallExpression(node) {
					if (isTranslated(node)) translated++;
				},
			});
		expect(translated).toBeGreaterThan(120);
	});

	test.each([
		`window.showInformationMessage("saved");`,
		`window.showWarningMessage(l10n.t("Saved"), ok ? "yes" : l10n.t("No"));`,
		`const done = count + " frames"; window.showErrorMessage(done);`,
		`window.showQuickPick(rows.map((row) => ({ label: row.name, detail: "from " + row.from })));`,
		`item.tooltip = "findings";`,
		`item.name = "verdict";`,
		`window.createWebviewPanel("lodebook.preview", "preview", column);`,
		`window.withProgress({ location, title: "measuring…" }, work);`,
		`progress.report({ message: [name, "done"].join(" ") });`,
		`webviewPage(webview, extension, { body: "<h2>nights</h2>" });`,
		`const page = () => "<p>Nights of a year</p>";`,
		`const questions = [["focal-length", "Focal length", "24 mm"]];`,
	])("would be told of %s", (code) => {
		expect([...shownUntranslated(parsed(code)), ...wordsOf(parsed(code))]).not.toEqual([]);
	});

	test.each([
		`window.showInformationMessage(l10n.t("Saved"), answer.problem);`,
		`item.text = count > 0 ? l10n.t("$(error) {0} errors", count) : "";`,
		`commands.executeCommand("setContext", "lodebook.behind", true);`,
		`webviewPage(webview, extension, { body: "<h2>" + asHtml(l10n.t("Nights")) + "</h2>" });`,
	])("is not told of %s", (code) => {
		expect([...shownUntranslated(parsed(code)), ...wordsOf(parsed(code))]).toEqual([]);
	});
});

describe("the extension's manifest", () => {
	const manifest = JSON.parse(readFileSync(`${root}package.json`, "utf8"));

	/** What is compared, run or looked for, and shown to nobody; and the names of the product. */
	const UNSEEN =
		/\.(?:when|enablement|id|command|path|scopeName|group|pattern|filenamePattern|default|light|dark|image|markdown)$/;
	const textsIn = (value: unknown, path: string): readonly (readonly [string, string])[] =>
		typeof value === "string"
			? [[path, value]]
			: typeof value === "object" && value !== null
				? Object.entries(value).flatMap(([key, inner]) => textsIn(inner, `${path}.${key}`))
				: [];

	/** Keys of a contribution whose text is shown. */
	const SHOWN =
		/\.(?:title|shortTitle|category|displayName|description|markdownDescription|enumDescriptions|markdownEnumDescriptions|deprecationMessage|contents|label|altText|name|aliases)(?:\.\d+)?$/i;

	test("has its texts in the editor's file for them", () => {
		const texts = textsIn(manifest.contributes, "contributes").filter(([path]) => !UNSEEN.test(path));
		const shown = texts.filter(([path, text]) => SHOWN.test(path) || /\p{L}{2,} \p{L}{2,}/u.test(text));
		expect(shown.length).toBeGreaterThan(60);
		// The second name of the language is its id, by which files and blocks of code are given to it.
		const outside = shown.filter(([, text]) => !/^%[\w.]+%$/.test(text) && text !== "Lodebook" && text !== "lodebook");
		expect(outside).toEqual([]);
	});

	test("has no page of its own that could not be translated beside it", () => {
		const pages = readdirSync(`${root}client/media`).filter((name) => name.endsWith(".md"));
		const used = textsIn(manifest.contributes.walkthroughs, "").filter(([path]) => path.endsWith(".markdown"));
		expect(used.map(([, path]) => path.replace("client/media/", "")).sort()).toEqual(pages.sort());
	});
});
