/**
 * What a method of alignment is: its keys, what it needs and how it can hurt, its set-up tonight, its values, steps and
 * pictures, and what it can be pointed at. One folder a method; `methods.ts` is their index. Nothing outside this room
 * knows a method by its name: whoever minds a difference between two methods asks one of these questions.
 */
import type { Result } from "../alignment/budget.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Dated } from "../notation/night-clock.ts";
import { type Fields, toldFields } from "../notation/shape.ts";
import type { DeclaredValue, PathOf, Value } from "../notation/value.ts";
import type { Hider } from "../sky/cover.ts";
import type { Direction } from "../sky/horizontal.ts";
import type { Interval } from "../sky/intervals.ts";
import type { SkyBody } from "../sky/place.ts";
import type { Given } from "../text/scalar.ts";
import type { Phrase, Say } from "../text/sentence.ts";
import type { CommonContent, ContentOf } from "./common-keys.ts";
import type { AxisNumbers, SightedLandmark, Tonight } from "./tonight.ts";

/** What a head has a scale for. */
export type ScaledPart = "tilt" | "pan";

/** What can hurt: outputs choose their safety texts by these. */
export type Hazard = "laser" | "sun" | "magnet";

/** The star, body or landmark a method points at. */
export interface Mark {
	readonly name: string;
	/** Path of the key that names it. */
	readonly key: string;
	readonly body?: SkyBody;
	readonly landmark?: SightedLandmark;
	/** Where it is seen at the method's time. */
	readonly direction: Direction;
	readonly magnitude?: number;
	/** Its magnitude as seen, through the air. */
	readonly seenMagnitude?: number;
}

/**
 * A reason why a method cannot be evaluated or cannot work, as data. `findings/` puts it into words. `at`: the moment its
 * numbers are for, which need not be the method's own (a second frame has a time of its own).
 */
export type Obstacle =
	| { readonly type: "needs-key"; readonly key: string }
	| { readonly type: "unknown-name"; readonly key: string; readonly name: string }
	| { readonly type: "needs-scales" }
	| { readonly type: "pole-hidden"; readonly by: Hider; readonly skyline: number }
	| {
			readonly type: "below-horizon";
			readonly name: string;
			readonly key: string;
			readonly at: EpochMs;
			readonly altitude: number;
	  }
	| {
			readonly type: "hidden";
			readonly name: string;
			readonly key: string;
			/** Undefined for what does not move. */
			readonly at: EpochMs | undefined;
			readonly by: Hider;
			readonly altitude: number;
			readonly skyline: number;
			readonly azimuth: number;
	  }
	| {
			readonly type: "too-bright";
			readonly name: string;
			readonly key: string;
			readonly at: EpochMs;
			readonly sun: number;
	  }
	| {
			readonly type: "too-faint";
			readonly name: string;
			readonly key: string;
			readonly at: EpochMs;
			readonly magnitude: number;
			/** Its magnitude as seen, and the faintest that can be found. */
			readonly seen: number;
			readonly limit: number;
			readonly altitude: number;
			/** Whether it is looked for through a scope. */
			readonly scope: boolean;
	  }
	| {
			readonly type: "too-high";
			readonly name: string;
			readonly key: string;
			readonly at: EpochMs;
			readonly altitude: number;
			readonly limit: number;
	  }
	| {
			readonly type: "never-near";
			readonly name: string;
			readonly key: string;
			readonly least: number;
			readonly reach: number;
			/** What it never comes near to. */
			readonly to: Phrase;
	  }
	| {
			readonly type: "not-there";
			readonly name: string;
			readonly key: string;
			/** Degrees from the aim point at the time planned; undefined when no time was. */
			readonly miss: number | undefined;
			readonly reach: number;
			readonly best: EpochMs | undefined;
			readonly aim: Direction;
			/** Where it stands at the time planned. */
			readonly direction: Direction | undefined;
	  }
	| { readonly type: "aim-below-horizon"; readonly altitude: number }
	| {
			readonly type: "aim-hidden";
			readonly by: Hider;
			readonly altitude: number;
			readonly skyline: number;
	  }
	| { readonly type: "low-latitude"; readonly latitude: number; readonly cost: number }
	| { readonly type: "pair-too-close"; readonly spread: number; readonly key: string }
	/** `why`: where the method knows better than that its mark is out of sight. */
	| { readonly type: "no-window"; readonly why?: Phrase };

/** Whether an obstacle is one of its minute alone: at another it may not be in the way. */
export const isOfItsTime = (obstacle: Obstacle): boolean =>
	("at" in obstacle && obstacle.at !== undefined) || obstacle.type === "not-there";

/** A place on a dial of twelve hours: as its hour hand has it, and the angle from the top clockwise. */
export interface DialPlace {
	readonly place: string;
	readonly angle: string;
}

/** What pictures of the method show beside the axis. */
export interface Pictures {
	/** The pointer from the side: its angle to the axis, its altitude, and what it points at. */
	readonly pointer?: {
		readonly offset: number;
		readonly altitude: number;
		readonly overZenith: boolean;
		/** Whether it is a sight, not a laser. */
		readonly sight: boolean;
		readonly star: string | undefined;
	};
	/** The aim point in the panorama, with how near a star must pass, degrees. */
	readonly aim?: Direction & { readonly reach: number };
	/** The turn of the pan from above: bearings of pole and mark, and the turn between them, clockwise positive. */
	readonly turn?: {
		readonly pole: number;
		readonly mark: number;
		readonly markName: string;
		readonly offset: number;
	};
	/** The dial of a pole scope: where on its ring of twelve hours the pole star belongs, from the top clockwise. */
	readonly dial?: {
		readonly star: string;
		readonly at: EpochMs;
		/** Degrees from the pole. */
		readonly distance: number;
		readonly hours: number;
		readonly upright: DialPlace;
		readonly inverted: DialPlace;
	};
}

/** What a method's result holds, whichever it is; a method adds numbers of its own. */
export interface SetUp extends AxisNumbers, Result {
	/** When it is done: the plan's `at`, or the best time on site. */
	readonly at: EpochMs | undefined;
	/** When it is begun, where that is not half of what it takes before `at`. */
	readonly begins?: EpochMs | undefined;
	/** When it works tonight. */
	readonly windows: readonly Interval[];
	/** Whether the plan leaves its time open, and any `at` of its windows will do: the evening places it. */
	readonly free?: boolean;
	readonly marks: readonly Mark[];
	/** Frames that it takes itself, by time. */
	readonly testFrames?: readonly TestFrame[];
	/** How far the first mark is from where it should be, degrees, where that can be said. */
	readonly markMiss?: number | undefined;
	readonly obstacles: readonly Obstacle[];
	readonly pictures: Pictures;
}

/** A frame that a method measures by. */
export interface TestFrame extends Interval {
	/** Key of the cell that asks for it. */
	readonly key: string;
	/** What it is aimed at. */
	readonly of: string;
	/** When the next may begin: looked at, turned and aimed. */
	readonly free: EpochMs;
}

/** One thing to do, with its number large. */
export type Step = StepNumber & {
	readonly say: Phrase;
	/** The clock time it is done at, where it has one. */
	readonly at?: EpochMs;
};

type StepNumber =
	| { readonly number?: never; readonly seen?: never; readonly brief?: never }
	/** A number to look for or to check by, which no hand sets: it is shown small. */
	| { readonly number: string; readonly seen: true; readonly brief?: never }
	/** The number hands set, as text: shown large. `brief`: what is set, and to what, where it is told without its step. */
	| { readonly number: string; readonly seen?: never; readonly brief: Phrase };

/** Something a method can be pointed at tonight. */
export interface Candidate {
	/** As it is shown: the name, or the names. */
	readonly name: string;
	/** Keys of the cell that take it. */
	readonly keys: Readonly<Record<string, Given>>;
	readonly at: EpochMs;
	readonly direction: Direction | undefined;
	/** Degrees from where it should be, where that is known. */
	readonly miss: number | undefined;
}

export interface SearchOptions {
	readonly most?: number;
	/** Where they differ from what the cell says. */
	readonly reach?: number;
	readonly faintest?: number;
	readonly twilight?: boolean;
}

/** A method's search for what it can be pointed at. */
export interface Search<C, Found extends Candidate = Candidate> {
	/** The key that names what is found. */
	readonly key: string;
	/**
	 * What is found passes its place at a moment of its own, and the method stands or falls with it: it is offered when
	 * the planned one fails, and is taken over with its clock time.
	 */
	readonly momentary: boolean;
	/** Who takes one takes its clock time too. */
	readonly timed: boolean;
	/** Whether it is searched for when the cell names nothing; else only what the cell names counts on another night. */
	readonly fills: boolean;
	/** The best first, remembered for the night. */
	readonly find: (content: C, tonight: Tonight, options?: SearchOptions) => readonly Found[];
	/** One of them in a line: for completion. */
	readonly detail: (found: Found, night: Dated) => Phrase;
	/** The same as a choice, its name and time being said already. */
	readonly choice: (found: Found) => Phrase;
}

/** A list of candidates for people and for programs. */
export interface Listing<C, Found extends Candidate> {
	/** Key of the JSON answer. */
	readonly name: string;
	/** Listed whether or not the plan has a method of this kind. */
	readonly always: boolean;
	readonly record: (found: Found, iso: (at: EpochMs) => string) => object;
	/** What the JSON answer says of the search itself. */
	readonly about?: (content: C, tonight: Tonight) => object;
	/** Lines of the list as text: a head, a line for each, or what to say of none. */
	readonly text: (
		found: readonly Found[],
		content: C,
		tonight: Tonight,
		options: SearchOptions,
	) => readonly { readonly text: string; readonly soft?: boolean }[];
}

/** What `stars` lists of a method; `find`: where it has no search of its own. */
export interface Lister<C, Found extends Candidate> {
	readonly find?: (content: C, tonight: Tonight) => readonly Found[];
	readonly listing: Listing<C, Found>;
}

/** A cell that would plan a method tonight. */
export interface Proposal<C> {
	readonly content: C;
	/** Keys beside `kind`. */
	readonly keys: Readonly<Record<string, Given>>;
	/** With what, for a message: ` on Spica at 20:41`. */
	readonly by: Phrase;
}

/** A value that stands behind a key in the editor, with a word before it where it needs one. */
export interface Hint {
	readonly value: { readonly declared: DeclaredValue };
	readonly short?: Phrase;
}

export interface MethodWords {
	/** What people call it, inside a sentence: its kind is what is typed. */
	readonly name: Say<"">;
	/** What is set by what. */
	readonly doc: Say<"">;
	/** What it needs, for the table that compares methods. */
	readonly needs: Say<"">;
	/** What the method is and how it goes wrong, for its page. */
	readonly about: Say<"">;
}

/** Everything about a method; see `method()`. */
export interface MethodParts<Kind extends string, K extends Fields, S extends SetUp> {
	readonly kind: Kind;
	readonly words: MethodWords;
	/** Its own keys: their shape, words, example and what holds without them. */
	readonly keys: K;
	/** Keys that a new cell of it begins with, beside its kind. */
	readonly begins?: readonly ((keyof K & string) | "at")[];
	/** It is the one that examples show. */
	readonly shown?: true;
	/** Paths of its keys that name what it points at. */
	readonly markKeys: readonly PathOf<ContentOf<K>>[];
	/** What it sets by a scale of the head: an axis error then tells that scale's own. It needs a head that has them. */
	readonly byScale: readonly ScaledPart[];
	/** Minutes that it takes as the cell has it. Common practice, no source. */
	readonly takes: (content: ContentOf<K>) => number;
	/** It only corrects what another method has set. */
	readonly corrects?: boolean;
	/** It works wherever and whenever, and badly: proposed when nothing else does. */
	readonly lastResort?: boolean;
	readonly hazards: (content: ContentOf<K>) => readonly Hazard[];
	/** Whether the plan says that the law of the place allows it; a method that asks for nothing has no need to. */
	readonly isCleared?: (content: ContentOf<K>) => boolean;
	/** What people call it as the cell has it, where that is not its name. */
	readonly called?: (content: ContentOf<K>) => Phrase | undefined;
	/** What it needs tonight, where its words are too general. */
	readonly needs?: (content: ContentOf<K>, tonight: Tonight) => Phrase | undefined;
	/** Everything about it tonight. Never throws; what is missing is an obstacle. */
	readonly setUp: (content: ContentOf<K> & CommonContent, tonight: Tonight) => S;
	readonly steps: (setUp: S, tonight: Tonight, content: ContentOf<K>) => readonly Step[];
	/** Its own values as they are declared. */
	readonly declares: Readonly<Record<string, { readonly declared: DeclaredValue }>>;
	/** Its own values, between those that all methods have. */
	readonly values: (setUp: S, tonight: Tonight) => readonly Value[];
	/**
	 * Its numbers that change with the clock, at any minute, so that being late costs nothing. Undefined where none does,
	 * or where something is missing. Asked for only when an output shows them.
	 */
	readonly byMinute?: (setUp: S, tonight: Tonight) => ((at: EpochMs) => readonly Value[]) | undefined;
	/** Values that stand behind its own keys in the editor, with a word before them. */
	readonly hints?: Readonly<Partial<Record<keyof K & string, readonly Hint[]>>>;
	// biome-ignore lint/suspicious/noExplicitAny: what is found is the method's own affair
	readonly search?: Search<ContentOf<K> & CommonContent, any>;
	/** Cells that would plan it tonight, the best first; with what a cell of it has already. */
	readonly propose?: (
		tonight: Tonight,
		content?: ContentOf<K> & CommonContent,
	) => readonly Proposal<ContentOf<K> & CommonContent>[];
	/** Keys of first drafts of a plan, the first tried first. */
	readonly drafts?: readonly string[];
}

/** A method as the rest of the house sees it: its own numbers stay its own. */
export type Method<Kind extends string = string, K extends Fields = Fields, S extends SetUp = SetUp> = MethodParts<
	Kind,
	K,
	S
>;

/** Declares a method. */
export const method = <const Kind extends string, const K extends Fields, S extends SetUp>(
	parts: MethodParts<Kind, K, S>,
): Method<Kind, K, S> => ({ ...parts, keys: toldFields(`method.${parts.kind}.keys`, parts.keys) });
