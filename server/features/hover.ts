/** Hover: on a key what it is, its unit and its default; on a value the values that follow from it. */
import type { Hover } from "vscode-languageserver";
import { CELL_KINDS } from "../../shared/cells/kinds.ts";
import type { Value } from "../../shared/notation/value.ts";
import { markdownText } from "../../shared/outputs/markdown/escaped.ts";
import { cellAt, modelAt, pointedAt } from "../../shared/plan/field-at.ts";
import { cellName, inText } from "../../shared/plan/plan.ts";
import { told } from "../../shared/text/sentence.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";

export const hover: Feature = {
	capabilities: { hoverProvider: true },
	listen(session) {
		session.connection.onHover(({ textDocument, position }) =>
			session.guarded("hover", textDocument.uri, (document, plan) =>
				hoverAt(document, plan, document.offsetAt(position)),
			),
		);
	},
};

export function hoverAt(document: PlanText, plan: PlanDocument, offset: number): Hover | null {
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
	if (values.length > 0) parts.push(valueTable(values, path === "" ? cellName(evaluation.plan, cell) : undefined));
	const value = parts.filter(Boolean).join("\n\n");
	if (value === "") return null;
	const span = inText(cell, place[part] ?? place.value);
	return {
		contents: { kind: "markdown", value },
		range: { start: document.positionAt(span.from), end: document.positionAt(span.to) },
	};
}

const lastKey = (path: string): string =>
	path
		.split(".")
		.filter((part) => !/^\d+$/.test(part))
		.at(-1) ?? path;

function meta(otherwise: string | undefined, example: string): string {
	const without = otherwise === undefined ? "Required." : `Without it: ${otherwise}.`;
	return `${without} Example: \`${example}\``;
}

/** Values with their uncertainty and how they came about. */
function valueTable(values: readonly Value[], title: string | undefined): string {
	const rows = values.map(
		({ label, text, how }) => `| ${markdownText(label)} | **${markdownText(text)}** | ${markdownText(how)} |`,
	);
	return `${title === undefined ? "" : `**${markdownText(title)}**\n\n`}| | | |\n|:--|:--|:--|\n${rows.join("\n")}`;
}
