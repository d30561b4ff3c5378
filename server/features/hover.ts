/** Hover: on a key what it is, its unit and its default; on a value the values that follow from it. */
import type { Hover } from "vscode-languageserver";
import { CELL_KINDS, type CellKindName } from "../../shared/cells/kinds.ts";
import type { Value } from "../../shared/notation/value.ts";
import { markdownText } from "../../shared/outputs/markdown/escaped.ts";
import { cellAt, modelAt, pointedAt } from "../../shared/plan/field-at.ts";
import { type Cell, cellName, inText } from "../../shared/plan/plan.ts";
import { linksFrom, type ReuseLink } from "../../shared/plan/reuse.ts";
import { referenceUri } from "../../shared/protocol/explanation.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";
import { toldOn } from "../told-on.ts";
import { placeInEvening } from "./evening-place.ts";

export const hover: Feature = {
	capabilities: { hoverProvider: true },
	listen(session) {
		session.connection.onHover(({ textDocument, position }) =>
			session.guarded("hover", textDocument.uri, (document, plan) =>
				hoverAt(document, plan, document.offsetAt(position), session.ownClient),
			),
		);
	},
};

/** `linked`: the client opens pages of the reference. */
export function hoverAt(document: PlanText, plan: PlanDocument, offset: number, linked = false): Hover | null {
	const evaluation = plan.evaluation(document);
	const cell = cellAt(evaluation.plan.cells, offset);
	const kind = cell?.read.kind;
	const pointed = cell && pointedAt(cell, offset - cell.start);
	if (!cell || !kind || !pointed) return null;
	const { path, part, place } = pointed;
	const model = modelAt(kind, path);
	const values = evaluation.valuesOf(cell, path).filter(({ at }) => at.includes(path));
	const parts: string[] = [];
	if (part === "key" || values.length === 0) {
		if (path === "") parts.push(`**${kind}**\n\n${CELL_KINDS[kind].doc}`);
		else if (model?.field)
			parts.push(
				`**${lastKey(path)}**: ${told(model.shape.explain())}\n\n${model.field.doc}`,
				meta(model.field.otherwise, model.field.example),
			);
	}
	if (part === "key" && (path === "" || /^\d+\.name$/.test(path))) {
		const place = placeInEvening(evaluation, cell, path === "" ? undefined : Number.parseInt(path, 10));
		if (place !== undefined) parts.push(`**${markdownText(place)}**`);
	}
	if (values.length > 0) {
		const title = path === "" ? cellName(evaluation.plan, cell) : undefined;
		parts.push(valueTable(values, title, (value) => toldOn(evaluation.night, value)));
	}
	if (path === "from" || path === "") parts.push(takenTable(cell, plan.takesFrom(document)));
	if (linked) parts.push(linksOf(kind));
	const value = parts.filter(Boolean).join("\n\n");
	if (value === "") return null;
	const span = inText(cell, place[part] ?? place.value);
	return {
		contents: { kind: "markdown", value },
		range: { start: document.positionAt(span.from), end: document.positionAt(span.to) },
	};
}

const words = sentences("feature.hover", {
	taken: "| Key | Taken | From |",
	required: "Required.",
	otherwise: "Without it: {otherwise}.",
	head: "| Value | Tonight | How it is computed |",
	format: "[Keys of `{kind}`]({page})",
	methods: "[Methods of alignment]({page})",
	values: "[Values]({page})",
});

/** What a cell takes, with the plan that each value is from: the nearest that writes it. */
function takenTable(cell: Cell, links: readonly ReuseLink[]): string {
	const link = links.find((one) => one.cell.index === cell.index);
	const rows = new Map<string, string>();
	for (const { path, target } of linksFrom(link)) {
		for (const [key, { source, value }] of target?.read.places ?? []) {
			if (key === "" || key === "from" || key.includes(".") || cell.read.places.has(key) || rows.has(key)) continue;
			const text = source ?? target?.text.slice(value.from, value.to) ?? "";
			rows.set(key, `| \`${markdownText(key)}\` | ${markdownText(shortened(text))} | ${markdownText(path)} |`);
		}
	}
	const most = [...rows.values()].slice(0, MOST_TAKEN);
	return most.length === 0 ? "" : `${told(words.taken())}\n|:--|:--|:--|\n${most.join("\n")}`;
}

/** More rows are not shown of what a cell takes. */
const MOST_TAKEN = 30;
const shortened = (text: string): string => (text.length > 60 ? `${text.slice(0, 60)}…` : text);

/** Pages of the reference that say more. */
const linksOf = (kind: CellKindName): string =>
	[
		words.format({ kind, page: referenceUri("format") }),
		...(kind === "method" ? [words.methods({ page: referenceUri("methods") })] : []),
		words.values({ page: referenceUri("values") }),
	]
		.map(told)
		.join(" · ");

const lastKey = (path: string): string =>
	path
		.split(".")
		.filter((part) => !/^\d+$/.test(part))
		.at(-1) ?? path;

function meta(otherwise: string | undefined, example: string): string {
	const without = told(otherwise === undefined ? words.required() : words.otherwise({ otherwise }));
	return `${without} Example: \`${example}\``;
}

/** Values with their uncertainty and how they came about. */
function valueTable(values: readonly Value[], title: string | undefined, textOf: (value: Value) => string): string {
	const rows = values.map(
		(value) => `| ${markdownText(value.label)} | **${markdownText(textOf(value))}** | ${markdownText(value.how)} |`,
	);
	return `${title === undefined ? "" : `**${markdownText(title)}**\n\n`}${told(words.head())}\n|:--|:--|:--|\n${rows.join("\n")}`;
}
