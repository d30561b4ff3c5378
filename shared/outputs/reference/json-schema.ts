/** The JSON Schema (draft 2020-12) of one cell, made from the model: good in any YAML editor that reads schemas. */
import { CELL_KINDS } from "../../cells/kinds.ts";
import type { JsonSchema } from "../../notation/notation.ts";
import { sentences, told } from "../../text/sentence.ts";

const words = sentences("schema", {
	title: "A cell of a Lodebook plan",
	description: "One YAML document of a *.lode.yaml file: a mapping with one key, the kind of the cell.",
});

/** The whole plan is a stream; a schema describes one document of it: a mapping with one key, the kind of the cell. */
export function planSchema(): JsonSchema {
	return {
		$schema: "https://json-schema.org/draft/2020-12/schema",
		// An address that is nobody's: nothing is to be fetched from it.
		$id: "urn:lodebook:schema:plan:1",
		title: told(words.title()),
		description: told(words.description()),
		type: "object",
		minProperties: 1,
		maxProperties: 1,
		additionalProperties: false,
		properties: Object.fromEntries(
			Object.entries(CELL_KINDS).map(([kind, { shape, doc }]) => [kind, { ...shape.schema(), description: doc }]),
		),
	};
}
