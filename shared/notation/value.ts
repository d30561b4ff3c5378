/**
 * Computed values: one number with its unit, its uncertainty where it has one, and how it came about. A room declares
 * its values in a table: ids, labels, how they come about, and the paths of the plan whose hover shows them, all known
 * to the compiler. A misspelt id or path does not compile.
 */
import { type EpochMs, isoText } from "../earth/zone.ts";
import { type Filling, type Names, type Sentences, sentences, told } from "../text/sentence.ts";
import { degrees, errorDegrees, isErrorAngle, largestDegrees, signed } from "./angle.ts";
import { bearingText } from "./bearing.ts";
import { durationText, longestText, minutesText } from "./duration.ts";
import { type Dated, exactNightClock, nightClock } from "./night-clock.ts";

export interface Value {
	/** Dotted kebab-case, for example `site.pole-altitude`. Ids are a contract: never renamed. */
	readonly id: string;
	/** The target, landmark, star … it belongs to. */
	readonly of: string | null;
	/** A number, an ISO 8601 time with the site's offset, or null when there is none tonight. */
	readonly value: number | string | null;
	readonly unit: string;
	/** One standard deviation, in `unit`. */
	readonly plusMinus: number | null;
	/** As a person reads it, unit included. */
	readonly text: string;
	/** How it came about, in a sentence. */
	readonly how: string;
	/** What it is called, for tables and hovers. */
	readonly label: string;
	/** Paths of the cell whose hover shows it. */
	readonly at: readonly string[];
}

/** A path into content of type C: keys, keys of what they hold, numbers of list items. The empty path is the cell. */
export type PathOf<C> = "" | (C extends readonly (infer Item)[] ? `${number}` | `${number}.${Inner<Item>}` : Inner<C>);
type Inner<C> = C extends object
	? { [K in keyof C & string]-?: K | Below<K, NonNullable<C[K]>> }[keyof C & string]
	: never;
type Below<K extends string, V> = V extends string | number | boolean
	? never
	: V extends readonly (infer Item)[]
		? `${K}.${number}` | (Item extends string | number ? never : `${K}.${number}.${Inner<Item>}`)
		: `${K}.${Inner<V>}`;

/** How a value is written, and in which unit it is given. `limit`: the most that holds, which is never rounded up. */
type Kind =
	/** `error`: an angle from where something should be; half a turn and more is any direction. */
	| { readonly is: "angle" | "error"; readonly places?: number; readonly limit?: boolean }
	/** An angle to one side or the other: the words stand for its sign. */
	| { readonly is: "side"; readonly places?: number; readonly plus: string; readonly minus: string }
	| { readonly is: "spread" }
	/** `exact`: numbers were computed for it, so it is told with its seconds where it has any. */
	| { readonly is: "time"; readonly exact?: boolean }
	| { readonly is: "duration"; readonly limit?: boolean }
	| { readonly is: "bearing" | "magnetic" | "text" }
	/** With `plus` and `minus`: words for its sign, behind the unit. */
	| {
			readonly is: "number";
			readonly unit: string;
			readonly places?: number;
			readonly plus?: string;
			readonly minus?: string;
	  };

/** A value as it is declared. Label and how may have names in braces, filled when it is made. */
export type Declared<P extends string> = Kind & {
	readonly label: string;
	readonly how: string;
	readonly at: readonly P[];
};

interface More<P extends string> {
	readonly of?: string | null | undefined;
	readonly plusMinus?: number | undefined;
	/** Paths, where they depend on what it belongs to; else those declared. */
	readonly at?: readonly P[];
	/** What a missing value reads as. */
	readonly otherwise?: string;
}

type Filled<D> = D extends { readonly label: infer L extends string; readonly how: infer H extends string }
	? Names<L> | Names<H>
	: never;
type Given<D> = D extends { readonly is: "time" }
	? { readonly night: Dated; readonly at: EpochMs | undefined }
	: D extends { readonly is: "text" }
		? string
		: number | undefined;
type Make<D, P extends string> = ([Filled<D>] extends [never]
	? (given: Given<D>, more?: More<P>) => Value
	: (given: Given<D>, more: More<P> & { readonly fill: Readonly<Record<Filled<D>, Filling>> }) => Value) & {
	readonly declared: DeclaredValue;
};

/** Values of one room by the last part of their ids. */
export type Values<T, P extends string> = { readonly [K in keyof T]: Make<T[K], P> };

/** What is known of a value without a plan: for the contract's list. */
export interface DeclaredValue {
	readonly id: string;
	readonly unit: string;
	readonly label: string;
	readonly how: string;
}

/**
 * Declares the values of a room: `valuesFor<PathOf<SiteContent>>()("site", { "pole-altitude": { … } })`. Their ids are
 * `site.pole-altitude` and so on.
 */
export const valuesFor =
	<P extends string>() =>
	<const T extends Readonly<Record<string, Declared<P>>>>(room: string, table: T): Values<T, P> => {
		const made = Object.entries(table).map(([name, value]) => {
			const id = `${room}.${name}`;
			const sides = "plus" in value ? { plus: value.plus ?? "", minus: value.minus ?? "" } : {};
			const words = sentences(`value.${id}`, { label: value.label, how: value.how, ...sides }) as Sentences<
				Record<string, string>
			> as Record<"label" | "how" | "plus" | "minus", (values?: object) => Parameters<typeof told>[0]>;
			const declared: DeclaredValue = { id, unit: unitOf(value), label: value.label, how: value.how };
			// Most have nothing to be filled in: told once.
			const plain = /\{[a-z]/i.test(value.label + value.how)
				? undefined
				: { label: told(words.label()), how: told(words.how()) };
			const make = (given: unknown, more: More<string> & { fill?: object } = {}): Value => ({
				id,
				of: more.of ?? null,
				...written(value, given, more, (side) => told(words[side]())),
				...(plain ?? { label: told(words.label(more.fill)), how: told(words.how(more.fill)) }),
				at: more.at ?? value.at,
			});
			return [name, Object.assign(make, { declared })];
		});
		return Object.fromEntries(made) as Values<T, P>;
	};

function unitOf(kind: Kind): string {
	switch (kind.is) {
		case "number":
			return kind.unit;
		case "time":
			return "time";
		case "duration":
			return "s";
		case "text":
			return "";
		default:
			return "°";
	}
}

const words = sentences("notation.value", { none: "none", magnetic: "{bearing} magnetic", days: "{count} day{s}" });

function written(
	kind: Kind,
	given: unknown,
	more: More<string>,
	sideText: (side: "plus" | "minus") => string,
): Pick<Value, "value" | "unit" | "plusMinus" | "text"> {
	const unit = unitOf(kind);
	const plusMinus = more.plusMinus !== undefined && isErrorAngle(more.plusMinus) ? more.plusMinus : undefined;
	const base = { unit, plusMinus: plusMinus ?? null };
	const missing = { ...base, value: null, text: more.otherwise ?? told(words.none()) };
	if (kind.is === "text") return { ...base, value: given as string, text: given as string };
	if (kind.is === "time") {
		const { night, at } = given as { night: Dated; at: EpochMs | undefined };
		return at === undefined
			? missing
			: { ...base, value: isoText(night.zone, at), text: (kind.exact ? exactNightClock : nightClock)(night, at) };
	}
	const number = given as number | undefined;
	if (number === undefined) return missing;
	const spread = (places: number): string => (plusMinus === undefined ? "" : ` ± ${degrees(plusMinus, places)}`);
	switch (kind.is) {
		case "angle":
		case "error": {
			if (!Number.isFinite(number) || (kind.is === "error" && !isErrorAngle(number)))
				return { ...base, value: null, text: errorDegrees(number) };
			const places = kind.places ?? (kind.is === "error" && number > 0 && number < 1 ? 2 : 1);
			return {
				...base,
				value: number,
				text: `${(kind.limit ? largestDegrees : degrees)(number, places)}${spread(Math.max(places, 1))}`,
			};
		}
		case "side": {
			if (!isErrorAngle(number)) return { ...base, value: null, text: errorDegrees(number) };
			const places = kind.places ?? 1;
			const angle = degrees(Math.abs(number), places);
			const size = `${angle}${spread(Math.max(places, 1))}`;
			// What rounds to nothing is on neither side.
			const isNothing = Number.parseFloat(angle) === 0;
			return { ...base, value: number, text: isNothing ? size : `${size} ${sideText(number < 0 ? "minus" : "plus")}` };
		}
		case "spread":
			return isErrorAngle(number)
				? { ...base, value: number, text: `± ${degrees(number, Math.abs(number) < 1 ? 2 : 1)}` }
				: { ...base, value: null, text: errorDegrees(number) };
		case "bearing":
		case "magnetic":
			if (!Number.isFinite(number)) return missing;
			return {
				...base,
				value: number,
				text: `${kind.is === "magnetic" ? told(words.magnetic({ bearing: bearingText(number) })) : bearingText(number)}${spread(1)}`,
			};
		case "duration":
			return {
				...base,
				value: Number.isFinite(number) ? number : null,
				text: (kind.limit ? longestText : durationText)(number),
			};
		case "number": {
			if (!Number.isFinite(number)) return missing;
			if (unit === "min")
				return { ...base, value: number, text: number === 0 ? told(words.none()) : minutesText(number) };
			const places = kind.places ?? 1;
			const measured = (digits: string): string =>
				unit === "d"
					? told(words.days({ count: digits, s: Number(digits) === 1 ? "" : "s" }))
					: `${digits}${unit === "" || /^[°′″]/.test(unit) ? unit : ` ${unit}`}`;
			if (kind.plus === undefined) return { ...base, value: number, text: measured(signed(number, places)) };
			const size = measured(signed(Math.abs(number), places));
			const isNothing = Number.parseFloat(size) === 0;
			return { ...base, value: number, text: isNothing ? size : `${size} ${sideText(number < 0 ? "minus" : "plus")}` };
		}
	}
}
