/**
 * Shapes: what a value of a plan may be. One shape gives the TypeScript type, the reader's checks, the JSON Schema,
 * completion, hovers and the reference page; see `cells.ts` for the model made of them.
 *
 * Every key of a read mapping is optional in its type: a plan is half-typed most of the time, and a broken value is
 * left out of what was read (the reader says why), never guessed.
 */

import type { CalendarDate } from "../earth/calendar.ts";
import type { SkyPoint } from "../sky/skyline.ts";
import type { Bearing } from "./bearing.ts";
import type { Axis } from "./coordinate.ts";
import type { DimensionName } from "./quantity.ts";

export interface Limits {
	readonly min?: number;
	readonly max?: number;
	/** The minimum itself is not allowed. */
	readonly above?: number;
}

/** What a name may point at. */
export type NameSpace = "lens" | "landmark" | "opening";

export type ShapeData =
	| { readonly type: "text"; readonly multiline?: boolean }
	| { readonly type: "flag" }
	| ({ readonly type: "number"; readonly whole: boolean } & Limits)
	| ({ readonly type: "quantity"; readonly dimension: DimensionName } & Limits)
	| { readonly type: "bearing" }
	| { readonly type: "coordinate"; readonly axis: Axis }
	| { readonly type: "clock" }
	| { readonly type: "date" }
	| { readonly type: "zone" }
	| { readonly type: "word"; readonly words: Readonly<Record<string, string>> }
	| { readonly type: "sky-name"; readonly of: "star" | "body" }
	| { readonly type: "reference"; readonly to: NameSpace }
	| { readonly type: "path" }
	| { readonly type: "sensor" }
	| { readonly type: "pixel-count" }
	| { readonly type: "sky-point" }
	| { readonly type: "list"; readonly item: ShapeData; readonly min: number; readonly max: number }
	| { readonly type: "mapping"; readonly fields: Fields; readonly title: string }
	| { readonly type: "either"; readonly scalar: ShapeData; readonly mappings: readonly ShapeData[] };

declare const valueType: unique symbol;
/** A shape whose value, once read, is a `T`. */
export type Shape<T> = ShapeData & { readonly [valueType]?: T };
export type Decoded<S> = S extends { readonly [valueType]?: infer T } ? Exclude<T, undefined> : never;

/** A key of a mapping. */
export interface Field<T = unknown> {
	readonly shape: Shape<T>;
	/** What it is, for hovers, the schema and the reference page. One or two sentences. */
	readonly doc: string;
	readonly required: boolean;
	/** What holds when the key is left out, in words or as it would be typed. */
	readonly otherwise?: string;
	/** As it would be typed. */
	readonly example: string;
}
export type Fields = Readonly<Record<string, Field>>;

type MappingValue<F extends Fields> = { readonly [K in keyof F]?: F[K] extends Field<infer T> ? T : never };

const shape = <T>(data: ShapeData): Shape<T> => data as Shape<T>;

export const text = (): Shape<string> => shape({ type: "text" });
/** Text of several lines. */
export const markdown = (): Shape<string> => shape({ type: "text", multiline: true });
/** `true` or `false`. */
export const flag = (): Shape<boolean> => shape({ type: "flag" });
/** A number without a unit, within limits. */
export const number = (limits: Limits = {}): Shape<number> => shape({ type: "number", whole: false, ...limits });
/** A whole number, within limits. */
export const whole = (limits: Limits = {}): Shape<number> => shape({ type: "number", whole: true, ...limits });
/** In the dimension's canonical unit. */
export const quantity = (dimension: DimensionName, limits: Limits = {}): Shape<number> =>
	shape({ type: "quantity", dimension, ...limits });
/** A bearing: degrees from north through east, or a point of the compass; `M` for magnetic. */
export const bearing = (): Shape<Bearing> => shape({ type: "bearing" });
/** Degrees. */
export const coordinate = (axis: Axis): Shape<number> => shape({ type: "coordinate", axis });
/** Seconds after midnight. */
export const clock = (): Shape<number> => shape({ type: "clock" });
/** A calendar date, `2027-06-05`. */
export const date = (): Shape<CalendarDate> => shape({ type: "date" });
/** A time zone of the IANA database. */
export const zone = (): Shape<string> => shape({ type: "zone" });
/** One of a few words, each with what it means. */
export const word = <W extends Record<string, string>>(words: W): Shape<Extract<keyof W, string>> =>
	shape({ type: "word", words });
/** A star by name, letter or number. */
export const starName = (): Shape<string> => shape({ type: "sky-name", of: "star" });
/** A star, a planet, the Moon, the Sun, or the galactic centre. */
export const bodyName = (): Shape<string> => shape({ type: "sky-name", of: "body" });
/** A name that is given elsewhere in the plan. */
export const reference = (to: NameSpace): Shape<string> => shape({ type: "reference", to });
/** A relative path of another plan. */
export const path = (): Shape<string> => shape({ type: "path" });
/** Width and height in millimetres. */
export const sensorSize = (): Shape<readonly [number, number]> => shape({ type: "sensor" });
/** Width and height in pixels. */
export const pixelCount = (): Shape<readonly [number, number]> => shape({ type: "pixel-count" });
/** A point of a skyline or of an outline: bearing and altitude, degrees. */
export const skyPoint = (): Shape<SkyPoint> => shape({ type: "sky-point" });
/** A list of items of one shape. */
export const list = <T>(item: Shape<T>, { min = 0, max = 1000 } = {}): Shape<readonly T[]> =>
	shape({ type: "list", item, min, max });
/** A mapping with known keys. */
export const mapping = <const F extends Fields>(title: string, fields: F): Shape<MappingValue<F>> =>
	shape({ type: "mapping", fields, title });
/** A scalar, or one of several mappings told apart by their keys. */
export const either = <A, B, C = never>(scalar: Shape<A>, first: Shape<B>, second?: Shape<C>): Shape<A | B | C> =>
	shape({ type: "either", scalar, mappings: second ? [first, second] : [first] });

interface FieldWords {
	readonly doc: string;
	readonly example: string;
	readonly otherwise?: string;
}
/** A key that must be there. */
export const required = <T>(of: Shape<T>, words: FieldWords): Field<T> => ({ shape: of, required: true, ...words });
/** A key that may be left out. */
export const optional = <T>(of: Shape<T>, words: FieldWords): Field<T> => ({ shape: of, required: false, ...words });
