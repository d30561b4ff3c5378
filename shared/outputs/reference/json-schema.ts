/** The JSON Schema (draft 2020-12) of one cell, made from the model: good in any YAML editor that reads schemas. */
import { CELL_KINDS } from "../../cells/kinds.ts";
import { acceptedUnits, DIMENSIONS } from "../../notation/quantity.ts";
import { SENSOR_FORMATS } from "../../notation/sensor-formats.ts";
import type { Fields, Limits, ShapeData } from "../../notation/shape.ts";

export type JsonSchema = { readonly [key: string]: unknown };

/** The whole plan is a stream; a schema describes one document of it: a mapping with one key, the kind of the cell. */
export function planSchema(): JsonSchema {
	return {
		$schema: "https://json-schema.org/draft/2020-12/schema",
		$id: "lodebook-plan.schema.json",
		title: "A cell of a Lodebook plan",
		description: "One YAML document of a *.lode.yaml file: a mapping with one key, the kind of the cell.",
		type: "object",
		minProperties: 1,
		maxProperties: 1,
		additionalProperties: false,
		properties: Object.fromEntries(
			Object.entries(CELL_KINDS).map(([kind, { shape, doc }]) => [kind, { ...schemaOf(shape), description: doc }]),
		),
	};
}

const NUMBER = "[-+−]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][-+]?\\d+)?";
const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

/** The JSON Schema (2020-12) of one shape. */
export function schemaOf(shape: ShapeData): JsonSchema {
	switch (shape.type) {
		case "text":
		case "sky-name":
		case "reference":
		case "zone":
		case "path":
			return { type: ["string", "number"], ...(shape.type === "text" ? { pattern: "\\S" } : {}) };
		case "flag":
			return { type: "boolean" };
		case "number":
			// `f/2` is read too.
			return shape.whole
				? { type: "integer", ...limits(shape) }
				: {
						anyOf: [
							{ type: "number", ...limits(shape) },
							{ type: "string", pattern: `^[fF]/${NUMBER}$` },
						],
					};
		case "quantity": {
			const { units } = DIMENSIONS[shape.dimension];
			const bare = "bare" in DIMENSIONS[shape.dimension];
			const unit = `(${[...units.keys()].map(escaped).join("|")})${bare ? "?" : ""}`;
			const text = {
				type: "string",
				pattern: `^\\s*((±|\\+/-|\\+-)\\s?)?${NUMBER}\\s*${unit}\\s*$`,
				description: `In ${acceptedUnits(shape.dimension)}.`,
			};
			return bare ? { anyOf: [{ type: "number" }, text] } : text;
		}
		case "bearing":
			return {
				anyOf: [
					{ type: "number", minimum: 0, maximum: 360 },
					{ type: "string", pattern: `^\\s*(${NUMBER}\\s?(°|deg)?\\s?[TM]?|[NESWnesw]{1,3}([bB][NESWnesw])?)\\s*$` },
				],
			};
		case "coordinate": {
			const limit = shape.axis === "latitude" ? 90 : 180;
			return {
				anyOf: [
					{ type: "number", minimum: -limit, maximum: limit },
					{ type: "string", pattern: "\\d" },
				],
			};
		}
		case "clock":
			return { type: "string", pattern: "^\\s*([01]?\\d|2[0-3]):[0-5]\\d(:[0-5]\\d)?\\s*$" };
		case "date":
			return { type: "string", pattern: "^\\d{4}-\\d{2}-\\d{2}$" };
		case "word": {
			// `true` as a word comes as a boolean when it is not quoted.
			const words = Object.keys(shape.words);
			return { enum: words.includes("true") ? [...words, true] : words };
		}
		case "sensor":
			return {
				type: "string",
				anyOf: [{ enum: Object.keys(SENSOR_FORMATS) }, { pattern: "\\d\\s*(mm)?\\s*[x×]\\s*\\d" }],
			};
		case "pixel-count":
			return { type: "string", pattern: "\\d\\s*(px)?\\s*[x×]\\s*\\d" };
		case "sky-point":
			return { type: "array", minItems: 2, maxItems: 2, items: { type: ["number", "string"] } };
		case "list":
			return { type: "array", items: schemaOf(shape.item), minItems: shape.min, maxItems: shape.max };
		case "mapping":
			return mappingSchema(shape.title, shape.fields);
		case "either":
			return { anyOf: [schemaOf(shape.scalar), ...shape.mappings.map(schemaOf)] };
	}
}

function mappingSchema(title: string, fields: Fields): JsonSchema {
	const required = Object.entries(fields).flatMap(([key, field]) => (field.required ? [key] : []));
	// What a cell takes from another plan need not stand in it.
	const needed =
		required.length === 0
			? {}
			: Object.hasOwn(fields, "from")
				? {
						anyOf: [
							{ type: "object", required },
							{ type: "object", required: ["from"] },
						],
					}
				: { required };
	return {
		title,
		type: "object",
		additionalProperties: false,
		...needed,
		properties: Object.fromEntries(
			Object.entries(fields).map(([key, { shape, doc, otherwise, example }]) => [
				key,
				{
					...schemaOf(shape),
					description: `${doc}${otherwise === undefined ? "" : ` Without it: ${otherwise}.`} Example: ${example}`,
				},
			]),
		),
	};
}

function limits({ min, max, above }: Limits): JsonSchema {
	return {
		...(min === undefined ? {} : { minimum: min }),
		...(max === undefined ? {} : { maximum: max }),
		...(above === undefined ? {} : { exclusiveMinimum: above }),
	};
}
