import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { TextEdit } from "vscode-languageserver";
import { CompletionItemKind } from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { completionsAt } from "../../server/features/completion/completion.ts";
import { PlanDocument } from "../../server/plan-document.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import type { Problem } from "../../shared/plan/problem.ts";
import { applied } from "./served.ts";

const library = { generation: 0, seenFrom: () => ({ path: "a.lode.yaml", library: () => undefined }) };
const taking = { snippets: false, labelDetails: false, commands: false };
const OFFERED = new Set<unknown>([CompletionItemKind.Property, CompletionItemKind.Module]);

/** Paths of all keys, and what is wrong but for values that are still to be written. */
function read(text: string): { readonly paths: ReadonlySet<string>; readonly wrong: readonly string[] } {
	const { cells } = readPlan(text);
	const isGap = (one: Problem): boolean =>
		/^(?:no-value|missing-key|empty-cell)$/.test(one.type) ||
		(one.type === "wrong-type" && (one.got.what === "nothing" || (one.got.what === "text" && one.got.text === "")));
	return {
		paths: new Set(cells.flatMap((cell) => [...cell.read.places].map(([path]) => `${cell.read.kind} ${path}`))),
		wrong: cells.flatMap((cell) => cell.read.problems.filter((one) => !isGap(one)).map((one) => JSON.stringify(one))),
	};
}

/** Where keys can be typed: before each key, in its midst and at its end, and before a cell's mark. */
const keyPlaces = (text: string): readonly number[] =>
	[...text.matchAll(/(?:^ *(?:- )?|[{,] )[\w-]+(?=:)|^---/gm)].flatMap(({ 0: word, index }) => {
		const [before = ""] = /^ *(?:- )?|^[{,] /.exec(word) ?? [];
		return [before.length, before.length + 2, word.length].map((at) => index + at);
	});

test.each(["roofless-chapel", "slate-quarry-arch"])(
	"%s: whatever key or cell is accepted where one can be typed, nothing is misshapen and no other key loses its value",
	(name) => {
		const text = readFileSync(new URL(`../../samples/${name}.lode.yaml`, import.meta.url), "utf8");
		const document = TextDocument.create("file:///a.lode.yaml", "lodebook", 1, text);
		const plan = new PlanDocument(library as never);
		const { paths } = read(text);
		let accepted = 0;
		for (const offset of keyPlaces(text))
			for (const item of completionsAt(document, plan, offset, taking).items) {
				if (!OFFERED.has(item.kind) && !item.label.startsWith("- ")) continue;
				const edit = item.textEdit as TextEdit;
				const after = read(applied(text, [edit]));
				const said = `${text.slice(offset - 20, offset)}|${text.slice(offset, offset + 20)}: ${item.label}`;
				expect(after.wrong, said).toEqual([]);
				// In the midst of a key, it is that one's name which is written anew.
				const isInside = /[\w-]$/.test(text.slice(0, offset));
				if (!isInside)
					expect(
						[...paths].filter((path) => !after.paths.has(path)),
						said,
					).toEqual([]);
				accepted++;
			}
		expect(accepted).toBeGreaterThan(100);
	},
);
