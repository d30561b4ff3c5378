/** The table of outputs, in the order in which a command lists their options. A new output is a folder and a line here. */
import { annotationsOutput } from "./annotations/annotations.ts";
import { calendar } from "./calendar/calendar.ts";
import { card } from "./card/card.tsx";
import { geojson } from "./geojson/geojson.ts";
import { json } from "./json/json.ts";
import { markdown } from "./markdown/markdown.ts";
import type { Making, Materials, Output } from "./output.ts";
import { page } from "./page/document.ts";
import { sarif } from "./sarif/sarif.ts";
import { svg } from "./svg/svg.tsx";
import { text } from "./text/text.ts";

export const OUTPUTS: readonly Output[] = [
	text,
	json,
	page,
	card,
	markdown,
	svg,
	calendar,
	geojson,
	sarif,
	annotationsOutput,
];

/** An output with how it is made of one of the materials. */
export interface MadeOf<M extends keyof Materials> {
	readonly output: Output;
	readonly making: Making<Materials[M]>;
}

/** The outputs that can be made of one of the materials. */
export const outputsOf = <M extends keyof Materials>(
	material: M,
	outputs: readonly Output[] = OUTPUTS,
): readonly MadeOf<M>[] =>
	outputs.flatMap((output) => {
		const making: Making<Materials[M]> | undefined = output.of[material];
		return making ? [{ output, making }] : [];
	});
