/** The index of methods. A new method is a folder and a line here. */
import type { EpochMs } from "../earth/zone.ts";
import type { Fields } from "../notation/shape.ts";
import type { PathOf, Value } from "../notation/value.ts";
import { type Phrase, told } from "../text/sentence.ts";
import type { CommonContent, ContentOf } from "./common-keys.ts";
import { compass } from "./compass/compass.ts";
import { drift } from "./drift/drift.ts";
import { landmarkBearing } from "./landmark-bearing/landmark-bearing.ts";
import type { Hazard, MethodParts, Proposal, Search, SetUp, Step } from "./method.ts";
import { phone } from "./phone/phone.ts";
import { poleSighting } from "./pole-sighting/pole-sighting.ts";
import { skyBearing } from "./sky-bearing/sky-bearing.ts";
import { squareLaser } from "./square-laser/square-laser.ts";
import { starSweep } from "./star-sweep/star-sweep.ts";
import type { Tonight } from "./tonight.ts";

/** Every method, in the order in which they are listed. */
export const METHODS = [
	poleSighting,
	compass,
	skyBearing,
	landmarkBearing,
	squareLaser,
	starSweep,
	phone,
	drift,
] as const;

export type MethodKind = (typeof METHODS)[number]["kind"];

type Together<U> = (U extends unknown ? (one: U) => void : never) extends (all: infer I) => void ? I : never;
type Own<M> = M extends { readonly keys: infer K extends Fields } ? ContentOf<K> : never;

/** What a method's cell decodes to: its kind, the keys of all methods, and those of each; any may be missing. */
export type MethodContent = { readonly kind?: MethodKind } & CommonContent & Together<Own<(typeof METHODS)[number]>>;

/** A method whose own keys and numbers nobody outside its folder needs to know. */
export interface AnyMethod
	extends Omit<
		MethodParts<MethodKind, Fields, SetUp>,
		| "markKeys"
		| "hazards"
		| "isCleared"
		| "called"
		| "needs"
		| "setUp"
		| "steps"
		| "values"
		| "byMinute"
		| "search"
		| "propose"
	> {
	readonly markKeys: readonly PathOf<MethodContent>[];
	readonly hazards: (content: MethodContent) => readonly Hazard[];
	readonly isCleared?: (content: MethodContent) => boolean;
	readonly called?: (content: MethodContent) => Phrase | undefined;
	readonly needs?: (content: MethodContent, tonight: Tonight) => Phrase | undefined;
	readonly setUp: (content: MethodContent, tonight: Tonight) => SetUp;
	readonly steps: (setUp: SetUp, tonight: Tonight, content: MethodContent) => readonly Step[];
	readonly values: (setUp: SetUp, tonight: Tonight) => readonly Value[];
	readonly byMinute?: (setUp: SetUp, tonight: Tonight) => ((at: EpochMs) => readonly Value[]) | undefined;
	readonly search?: Search<MethodContent>;
	readonly propose?: (tonight: Tonight, content?: MethodContent) => readonly Proposal<MethodContent>[];
}

/** Every method, as the rest of the house sees it. A method is only ever given the set-up that it made itself. */
export const ALL_METHODS = METHODS as unknown as readonly AnyMethod[];

const byKind = new Map(ALL_METHODS.map((one) => [one.kind, one]));

/** The method of a kind. */
export const methodOf = (kind: MethodKind): AnyMethod => byKind.get(kind) as AnyMethod;

/** What people call a method, as a cell has it. */
export const methodName = (method: AnyMethod, content: MethodContent = {}): string =>
	told(method.called?.(content) ?? method.words.name());

/** The method that examples show. */
export const FIRST_METHOD = ALL_METHODS.find(({ shown }) => shown) ?? (ALL_METHODS[0] as AnyMethod);

/** What people call the method of a cell; empty while its kind cannot be read. */
export const nameOfCell = (content: MethodContent | undefined): string =>
	content?.kind ? methodName(methodOf(content.kind), content) : "";

/** The same with the kind to type: where one is advised to take it. */
export const methodWithKind = (method: AnyMethod): string => `the ${methodName(method)} (\`${method.kind}\`)`;
