/**
 * JSON Schemas (draft 2020-12) of the answers that other programs get, `--json` of each command. Where an answer's keys
 * are known to the compiler, it asks for exactly these.
 */

import type { measuredRecord } from "../../measure/record.ts";
import type { JsonSchema } from "../../notation/notation.ts";
import type { Value } from "../../notation/value.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { FindingChange, ValueChange, WindowChange } from "../compare/compare.ts";
import type { KeyChange } from "../compare/keys.ts";
import type { EditRecord, FindingRecord } from "../json/finding-record.ts";
import type { findingsRecord } from "../json/findings.ts";
import { ANSWER_VERSION } from "../json/json.ts";
import type { planRecord } from "../json/plan.ts";

const words = sentences("schema.answers", {
	check: "The answer of lodebook check --json",
	show: "The answer of lodebook show --json",
	compare: "The answer of lodebook compare --json",
	nights: "The answer of lodebook nights --json",
	stars: "The answer of lodebook stars --json",
	evening: "The answer of lodebook evening --json",
	locate: "The answer of lodebook locate --json",
	log: "The answer of lodebook log --json",
	measure: "The answer of lodebook measure --json",
});

type Plan = ReturnType<typeof planRecord>;
type Files = ReturnType<typeof findingsRecord>;
type Item<T> = T extends readonly (infer I)[] ? I : never;
type KeysOf<T> = { readonly [K in keyof T]-?: JsonSchema };

const text: JsonSchema = { type: "string" };
const number: JsonSchema = { type: "number" };
const count: JsonSchema = { type: "integer", minimum: 0 };
const place: JsonSchema = { type: "integer", minimum: 1 };
const yes: JsonSchema = { type: "boolean" };
const instant: JsonSchema = {
	type: "string",
	pattern: "^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}(:\\d{2}(\\.\\d+)?)?(Z|[+-]\\d{2}:\\d{2}(:\\d{2})?)$",
};
const day: JsonSchema = { type: "string", pattern: "^\\d{4}-\\d{2}-\\d{2}$" };
const orNull = (schema: JsonSchema): JsonSchema => ({ anyOf: [schema, { type: "null" }] });
const oneOf = (...among: readonly string[]): JsonSchema => ({ enum: among });
const list = (items: JsonSchema): JsonSchema => ({ type: "array", items });
/** All keys are there, and no other. */
const record = <T = Record<string, unknown>>(
	properties: KeysOf<T>,
	maybe: Record<string, JsonSchema> = {},
): JsonSchema => ({
	type: "object",
	required: Object.keys(properties),
	properties: { ...properties, ...maybe },
	additionalProperties: false,
});
/** Numbers by the ids of their values. */
const byIds: JsonSchema = { type: ["number", "string", "null"] };
const minutes = list({ type: "object", required: ["at"], properties: { at: instant }, additionalProperties: byIds });
const span = record({ from: instant, until: instant });

const severity = oneOf("error", "warning", "info");
const finding = record<FindingRecord>({
	code: text,
	severity,
	cell: orNull(text),
	line: place,
	column: place,
	endLine: place,
	endColumn: place,
	message: text,
	fixes: list(text),
	edits: list(list(record<EditRecord>({ line: place, column: place, endLine: place, endColumn: place, text }))),
	help: text,
});
const figure = record<Omit<Value, "label" | "at">>({
	id: text,
	of: orNull(text),
	value: { type: ["number", "string", "null"] },
	unit: text,
	plusMinus: orNull(number),
	text,
	how: text,
});
const steps = list(
	record<Item<Item<Plan["methods"]>["steps"]>>({ say: text, number: orNull(text), at: orNull(instant) }),
);

const eveningSteps = list(
	record<Item<Plan["evening"]>>({
		kind: text,
		of: orNull(text),
		from: instant,
		until: instant,
		latest: orNull(instant),
		fixed: yes,
		frames: orNull(count),
		fallbacks: list(record({ method: orNull(text), latest: instant, frames: orNull(instant) })),
	}),
);

type GroupRecord = NonNullable<Plan["group"]>;

type Lost = Item<Item<Plan["alignmentLost"]>["methods"]>;

const evening: KeysOf<Pick<Plan, "evening" | "alignmentLost" | "group">> = {
	evening: eveningSteps,
	group: orNull(
		record<GroupRecord>({
			leader: orNull(text),
			members: list(
				record<Item<GroupRecord["members"]>>({
					name: text,
					plan: text,
					evening: eveningSteps,
					instead: orNull(record({ of: text, why: text })),
					declinationNotUsed: orNull(number),
				}),
			),
			lasers: list(
				record<Item<GroupRecord["lasers"]>>({ name: text, lookout: orNull(text), from: instant, until: instant }),
			),
			lightsOut: list(span),
		}),
	),
	alignmentLost: list(
		record<Item<Plan["alignmentLost"]>>({
			at: instant,
			planned: count,
			methods: list(
				record<Lost>({
					kind: text,
					marks: list(text),
					from: instant,
					until: instant,
					latest: instant,
					axisError95: orNull(number),
					frames: count,
					without: list(oneOf("sky", "foreground", "darks", "align", "correction")),
					composedBefore: list(record<Item<Lost["composedBefore"]>>({ name: text, minutes: count })),
					trailing: list(record<Item<Lost["trailing"]>>({ name: text, chance: number, longest: number })),
					numbers: { type: "object", additionalProperties: byIds },
					steps,
				}),
			),
		}),
	),
};

const plan: KeysOf<Plan> = {
	plan: record<Plan["plan"]>({ title: orNull(text), date: orNull(day), timezone: orNull(text) }),
	cells: list(
		record<Omit<Item<Plan["cells"]>, "name">>(
			{ kind: orNull(text), line: place, figures: list(figure) },
			{ name: text },
		),
	),
	...evening,
	methods: list(
		record<Item<Plan["methods"]>>({
			kind: text,
			needs: text,
			works: yes,
			windows: list(span),
			steps,
			minutes,
			bias: record({ along: orNull(number), across: orNull(number) }),
			budget: list(
				record<Item<Item<Plan["methods"]>["budget"]>>({
					name: text,
					spread: number,
					unit: text,
					origin: oneOf("plan", "tracker", "model", "common practice"),
					along: orNull(number),
					across: orNull(number),
					total: orNull(number),
					part: orNull(number),
				}),
			),
		}),
	),
	targets: list(record<Item<Plan["targets"]>>({ name: orNull(text), minutes })),
	panoramas: list(
		record<Item<Plan["panoramas"]>>({
			name: orNull(text),
			columns: count,
			rows: count,
			frames: count,
			seconds: number,
			leastOverlap: orNull(number),
			gaps: list(record({ row: count, column: count, azimuth: number, altitude: number, width: number })),
			rowGaps: list(record({ aboveRow: count, from: number, until: number })),
			shortSides: list(record({ edge: oneOf("lower", "upper"), azimuth: number, ends: number, altitude: number })),
			panels: list(
				record<Item<Item<Plan["panoramas"]>["panels"]>>({
					row: count,
					column: count,
					from: instant,
					until: instant,
					azimuth: number,
					compass: orNull(number),
					altitude: number,
					roll: number,
					longest: orNull(number),
					trail: orNull(number),
					hidden: orNull(number),
				}),
			),
			foreground: list(
				record({ row: count, column: count, azimuth: number, compass: orNull(number), altitude: number }),
			),
		}),
	),
	windows: list(record<Item<Plan["windows"]>>({ what: text, from: instant, until: instant })),
	cautions: list(text),
	findings: list(finding),
};

const check: KeysOf<Files> = {
	files: list(record<Item<Files["files"]>>({ path: text, findings: list(finding) })),
	summary: record<Files["summary"]>({ errors: count, warnings: count, infos: count }),
};

const reading = orNull(record({ value: { type: ["number", "string", "null"] }, text, of: orNull(text) }));
const window = record<WindowChange>({ what: text, before: list(text), after: list(text) });
const foundChange = list(record<FindingChange>({ code: text, severity, cell: orNull(text), message: text }));
const changes = {
	text: list(record<KeyChange>({ cell: text, of: orNull(text), key: text, before: orNull(text), after: orNull(text) })),
	figures: list(
		record<ValueChange>({
			cell: text,
			id: text,
			of: orNull(text),
			label: text,
			unit: text,
			before: reading,
			after: reading,
		}),
	),
	windows: list(window),
	evening: list(window),
	findings: record({ gained: foundChange, lost: foundChange }),
	cautions: list(text),
};
const version = { version: { const: ANSWER_VERSION } };
const comparison: JsonSchema = {
	anyOf: [
		record({ ...version, old: text, new: text, ...changes }),
		record({
			...version,
			old: text,
			new: text,
			compared: count,
			plans: list({
				anyOf: [
					record({ path: text, state: oneOf("new"), was: { type: "null" }, found: list(finding) }),
					record({ path: text, state: oneOf("deleted"), was: text }),
					record({ path: text, state: oneOf("changed"), was: text }, {}),
					record({ path: text, state: oneOf("changed"), was: text, ...changes }),
				],
			}),
		}),
	],
};

const night = {
	date: day,
	weekday: text,
	minutes: number,
	targets: list(text),
	first: orNull(instant),
	last: orNull(instant),
	windows: list(span),
	moonIllumination: { type: "number", minimum: 0, maximum: 100 },
	guideStars: list(
		record({ name: text, at: instant, altitude: orNull(number), bearing: orNull(number), miss: orNull(number) }),
	),
	showers: list(record({ name: text, active: yes, daysFromPeak: number })),
	method: orNull(text),
	aligns: yes,
};
const nights = {
	nights: list(record({ ...night, bestOfNewMoonWeek: yes, rank: orNull(place) })),
	present: orNull(record({ ...night, rank: place })),
};

/** The lists of the methods that can be searched for; each plan has the first. */
const stars = record(
	{
		...version,
		aim: record({ altitude: number, bearing: number }),
		stars: list(
			record({
				name: text,
				hip: orNull(place),
				magnitude: number,
				best: instant,
				from: instant,
				until: instant,
				altitude: number,
				bearing: number,
				miss: number,
				aboveSkyline: number,
				neighbour: orNull(record({ name: text, magnitude: number, separation: number })),
			}),
		),
	},
	{
		bodies: list(record({ name: text, at: instant, altitude: number, bearing: number, axisError95: orNull(number) })),
		pairs: list(record({ names: list(text), at: instant, spread: number, axisError95: orNull(number) })),
		driftPairs: list(record({ names: list(text), at: instant, spread: number, axisError95: orNull(number) })),
	},
);

const locate = record(
	{
		...version,
		body: text,
		at: instant,
		azimuth: orNull(number),
		altitude: orNull(number),
		apparentAltitude: orNull(number),
		compassBearing: orNull(number),
		hourAngle: orNull(number),
		rightAscension: number,
		declination: number,
		magnitude: orNull(number),
	},
	{
		kind: text,
		size: list(number),
		rightAscensionJ2000: number,
		declinationJ2000: number,
		sunDistance: number,
		earthDistance: number,
		elongation: number,
		motion: number,
		elementsAge: number,
	},
);

const zero = orNull(
	record({
		value: number,
		plusMinus: number,
		scatter: orNull(number),
		apart: { type: ["number", "boolean", "null"] },
		evenings: count,
		judgement: text,
	}),
);
const measured = orNull(record({ value: number, plusMinus: number, method: text }));
const log = {
	heads: list(
		record({
			name: text,
			head: text,
			tiltZero: zero,
			panZero: zero,
			since: orNull(day),
			evenings: list(record({ date: day, path: text, tilt: measured, pan: measured })),
			doubtfulEvenings: list(record({ date: day, path: text, why: text })),
			otherEvenings: count,
		}),
	),
};

type MeasuredAnswer = ReturnType<typeof measuredRecord>;
type MeasuredAxisRecord = NonNullable<MeasuredAnswer["axis"]>;
const covariance = record({ alongAlong: number, alongAcross: number, acrossAcross: number });
const measure = {
	lens: text,
	frames: list(
		record<
			Pick<Item<MeasuredAnswer["frames"]>, "name" | "at" | "exposure" | "target" | "wanted" | "spots" | "identified">
		>(
			{
				name: text,
				at: instant,
				exposure: orNull(number),
				target: orNull(text),
				wanted: orNull(record({ azimuth: number, altitude: number })),
				spots: count,
				identified: yes,
			},
			// Of a frame whose stars were identified.
			{
				stars: count,
				behind: count,
				rms: number,
				logChance: number,
				azimuth: number,
				altitude: number,
				roll: number,
				rightAscension: number,
				declination: number,
				positionAngle: number,
				off: orNull(number),
				trail: number,
				trailLong: number,
				trailUntracked: orNull(number),
				limit: orNull(number),
				impossible: yes,
				sharp: orNull(number),
				axis: orNull(
					record({
						error: record({ along: number, across: number }),
						covariance,
						rate: number,
						left: number,
						leftOtherwise: number,
					}),
				),
				trails: list(record({ star: text, right: number, up: number, length: number })),
			},
		),
	),
	solvedLens: orNull(
		record<NonNullable<MeasuredAnswer["solvedLens"]>>({
			focalLength: number,
			axisRight: number,
			axisUp: number,
			k1: number,
			k2: number,
			rms: orNull(number),
		}),
	),
	axis: orNull(
		record<MeasuredAxisRecord>({
			from: list(text),
			turn: number,
			along: number,
			across: number,
			covariance,
			tilt: number,
			tiltSpread: number,
			pan: number,
			panSpread: number,
			total: number,
			budget: orNull(number),
			inside: orNull(yes),
			allows: orNull(record({ exposure: number, limit: number, target: text })),
			log: text,
		}),
	),
	clock: orNull(
		record<NonNullable<MeasuredAnswer["clock"]>>({ frame: text, facing: number, ahead: number, perDegree: number }),
	),
	drive: orNull(
		record<NonNullable<MeasuredAnswer["drive"]>>({
			frames: count,
			span: number,
			fast: number,
			fastSpread: number,
			left: number,
			periodic: orNull(record({ amplitude: number, amplitudeSpread: number, period: number, periodSpread: number })),
		}),
	),
};

const headed = (name: keyof typeof words, schema: JsonSchema): JsonSchema => ({
	$schema: "https://json-schema.org/draft/2020-12/schema",
	$id: `urn:lodebook:schema:${name}:${ANSWER_VERSION}`,
	title: told(words[name]()),
	...schema,
});

/** By the command that gives the answer. */
export const ANSWER_SCHEMAS: Readonly<Record<string, JsonSchema>> = {
	check: headed("check", record({ ...version, ...check })),
	show: headed("show", record({ ...version, ...plan })),
	compare: headed("compare", comparison),
	nights: headed("nights", {
		anyOf: [
			record({ ...version, ...nights }),
			// Of several plans.
			record({ ...version, plans: list(record({ path: text, ...nights })) }),
		],
	}),
	stars: headed("stars", stars),
	evening: headed("evening", record({ ...version, ...evening })),
	locate: headed("locate", locate),
	log: headed("log", record({ ...version, ...log })),
	measure: headed("measure", record({ ...version, ...measure })),
};
