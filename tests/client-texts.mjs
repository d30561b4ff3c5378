// What the extension says by itself: the texts that its code gives the editor to translate, `l10n.t("…", …)`.
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { simple } from "acorn-walk";
import { parsedModule } from "./parsed.mjs";

const root = fileURLToPath(new URL("../", import.meta.url));

export const clientModules = () =>
	readdirSync(join(root, "client"), { withFileTypes: true, recursive: true })
		.filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
		.map((entry) => join(entry.parentPath, entry.name).slice(root.length).replaceAll("\\", "/"))
		.sort();

export const isTranslated = (node) =>
	node.type === "CallExpression" &&
	node.callee.type === "MemberExpression" &&
	node.callee.object.type === "Identifier" &&
	node.callee.object.name === "l10n";

export function clientTexts() {
	const found = new Set();
	for (const path of clientModules())
		simple(parsedModule(path), {
			CallExpression(node) {
				if (!isTranslated(node)) return;
				const [text] = node.arguments;
				if (text?.type !== "Literal" || typeof text.value !== "string")
					throw new Error(`${path}: a text to translate is no plain string: ${JSON.stringify(text)}`);
				found.add(text.value);
			},
		});
	return Object.fromEntries([...found].sort().map((text) => [text, text]));
}
