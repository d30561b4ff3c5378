/**
 * A new notation is one file and its use in a key: this one is declared here, put into a cell of the model, and then read,
 * told of, put in the schema, offered, coloured and explained by code that knows nothing of it.
 */
import Ajv2020 from "ajv/dist/2020.js";
import { describe, expect, test, vi } from "vitest";
import { TextDocument } from "vscode-languageserver-textdocument";
import { completionsAt } from "../../server/features/completion/completion.ts";
import { hoverAt } from "../../server/features/hover.ts";
import { tokens, tokensOf } from "../../server/features/tokens.ts";
import { PlanDocument } from "../../server/plan-document.ts";
import { planSchema } from "../../shared/outputs/reference/json-schema.ts";
import { formatReference } from "../../shared/outputs/reference/reference.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { refactoringsAt } from "../../shared/plan/refactorings.ts";
import { checkText, cursor } from "../plan-text.ts";

vi.mock("../../shared/cells/kinds.ts", async (original) => {
	const { mapping, required } = await import("../../shared/notation/mapping.ts");
	const { scalar, unreadable } = await import("../../shared/notation/scalar.ts");
	const { within } = await import("../../shared/notation/limits.ts");
	const { sentences } = await import("../../shared/text/sentence.ts");

	const words = sentences("notation.paces", {
		described: "a number of paces",
		explained: "a number of paces, each 0.75 m",
		none: "`{text}` is not a number of paces. Write `{example}`.",
		few: "a short way",
		metres: "Write as {metres} m",
	});
	/** Metres. */
	const paces = scalar<number>({
		type: "paces",
		describe: words.described,
		explain: words.explained,
		readText(text) {
			const number = /^(\d{1,6}) paces?$/.exec(text)?.[1];
			if (number === undefined)
				return unreadable(words.none({ text, example: "40 paces" }), `${Number.parseInt(text, 10)} paces`);
			return within(Number(number) * 0.75, { max: 3000 }, "m");
		},
		schema: () => ({ type: "string", pattern: "^\\d{1,6} paces?$" }),
		complete: ({ source }) => [
			{ label: "12 paces", detail: words.few(), kind: "value" },
			{ label: `${source}40 paces`, detail: "", kind: "value" },
		],
		colour: "event",
		rewrite: (source) => {
			const metres = Number.parseInt(source, 10) * 0.75;
			return [{ title: words.metres({ metres }), text: `${metres} m` }];
		},
	});
	const shape = mapping("A walk", { way: required(paces, { doc: "How far it is.", example: "40 paces" }) });

	const model = await original<typeof import("../../shared/cells/kinds.ts")>();
	return {
		...model,
		CELL_KINDS: { ...model.CELL_KINDS, walk: { shape, doc: "The way in.", required: false, many: false } },
		CELL_KIND_NAMES: [...model.CELL_KIND_NAMES, "walk"],
	};
});

const cellOf = (text: string) => {
	const [cell] = readPlan(text).cells;
	if (!cell) throw new Error("no cell");
	return cell;
};

const opened = (text: string) => {
	const document = TextDocument.create("file:///walk.lode.yaml", "lodebook", 1, text);
	const library = { generation: 0, seenFrom: () => ({ path: "walk.lode.yaml", library: () => undefined }) };
	return { document, plan: new PlanDocument(library as never) };
};

const messages = (text: string) =>
	checkText(text)
		.filter(({ code }) => code !== "structure/missing-cell")
		.map(({ code, message, fixes }) => [code, message, ...fixes.map(({ title }) => title)]);

describe("a notation of one's own", () => {
	test("is read inside a mapping", () => {
		const { read } = cellOf("walk:\n  way: 40 paces\n");
		expect(read.problems).toEqual([]);
		expect(read.content).toEqual({ way: 30 });
	});

	test("says what is wrong in its own words", () => {
		expect(messages("walk:\n  way: 40 m\n")).toEqual([
			["structure/unreadable", "`40 m` is not a number of paces. Write `40 paces`.", "Change to 40 paces"],
		]);
		expect(messages("walk:\n  way: 9000 paces\n")).toEqual([
			["structure/out-of-range", "`9000 paces` is out of range; use at most 3000 m.", "Change to 3000 m"],
		]);
		expect(messages("walk:\n  way: [40 paces]\n")).toEqual([
			["structure/wrong-type", "Expected a number of paces, found a list."],
		]);
		expect(messages("walk:\n  name: A\n").map(([code]) => code)).toEqual([
			"structure/missing-key",
			"structure/unknown-key",
		]);
	});

	test("is in the JSON Schema and on the reference page", () => {
		const validate = new Ajv2020({ strict: true, strictRequired: false, allowUnionTypes: true }).compile(planSchema());
		expect(validate({ walk: { way: "40 paces" } })).toBe(true);
		expect(validate({ walk: { way: "40 m" } })).toBe(false);
		expect(formatReference()).toContain("| `way` | a number of paces | How far it is. | required | `40 paces` |");
	});

	test("is offered, coloured and explained", () => {
		const { text, offset } = cursor("walk:\n  way: $0\n");
		const typed = opened(text);
		const taking = { snippets: false, labelDetails: false, commands: false };
		const { items } = completionsAt(typed.document, typed.plan, offset, taking);
		expect(items.map(({ label, detail }) => [label, detail])).toEqual([
			["12 paces", "a short way"],
			["40 paces", ""],
		]);
		const { document, plan } = opened("walk:\n  way: 40 paces\n");
		const { semanticTokensProvider } = tokens.capabilities as {
			semanticTokensProvider: { legend: { tokenTypes: readonly string[] } };
		};
		const event = semanticTokensProvider.legend.tokenTypes.indexOf("event");
		expect(tokensOf(document, plan).data).toEqual([1, 7, 8, event, 0]);
		expect(JSON.stringify(hoverAt(document, plan, 9)?.contents)).toContain("a number of paces, each 0.75 m");
	});

	test("is written in other ways", () => {
		const cell = cellOf("walk:\n  way: 40 paces\n");
		expect(refactoringsAt(cell, "way", undefined)).toEqual([
			{ title: "Write as 30 m", edits: [{ from: 13, to: 21, text: "30 m" }] },
		]);
	});
});
