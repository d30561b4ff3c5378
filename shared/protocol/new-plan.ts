/** A new plan: what its questions ask of the server, one at a time, and its text. */
import type { RequestOf } from "./message.ts";

/** What a photographer brings, by the keys of a plan's lens and tracker. */
export const KIT_KEYS = {
	"focal-length": "lens",
	"f-number": "lens",
	sensor: "lens",
	pixels: "lens",
	head: "tracker",
} as const;
export type KitKey = keyof typeof KIT_KEYS;

/** Values as a plan writes them. */
export type Kit = { readonly [K in KitKey]?: string };

/** What is wrong with a value for a key of a cell of some kind; null when nothing is. */
export const CHECK_VALUE: RequestOf<
	{ readonly kind: string; readonly key: string; readonly text: string },
	string | null
> = { method: "lodebook/checkValue" };

/** The words that may stand for a key of the kit, each with what it means; none for a key that has no words. */
export const WORDS: RequestOf<{ readonly key: KitKey }, readonly { readonly word: string; readonly about: string }[]> =
	{ method: "lodebook/words" };

/** A place from coordinates as they were pasted, with its next good nights; null where they cannot be read. */
export const PLACE: RequestOf<{ readonly text: string }, PlaceAnswer | null> = { method: "lodebook/place" };

export interface PlaceAnswer {
	readonly latitude: number;
	readonly longitude: number;
	/** As it is shown: `47.1078 N, 8.682 E, Europe/Zurich`. */
	readonly told: string;
	readonly nights: readonly { readonly date: string; readonly about: string }[];
}

/** A lens of a library, with the library's tracker if it has one. */
export interface LibraryKit {
	/** The library, as the new plan names it: `kits/loan.lode.yaml`. */
	readonly from: string;
	/** The lens, where it has a name. */
	readonly lens?: string;
	readonly tracker: boolean;
}

/** The kits of the workspace's libraries, for a plan by a URI, with what of them is to be read there. */
export const KITS: RequestOf<{ readonly uri: string }, readonly (LibraryKit & { readonly kit: Kit })[]> = {
	method: "lodebook/kits",
};

export interface NewPlanWishes {
	readonly title: string;
	readonly site: string;
	readonly latitude: number;
	readonly longitude: number;
	readonly date: string;
	readonly kit: Kit;
	/** A kit that is taken from a library instead, and the URI of the plan that takes it. */
	readonly taken?: LibraryKit & { readonly uri: string };
	/** Whether a tracker follows the stars. */
	readonly tracked: boolean;
}

/** The text of a plan for there and then, and a name for its file; null where something cannot be read. */
export const NEW_PLAN: RequestOf<NewPlanWishes, { readonly text: string; readonly file: string } | null> = {
	method: "lodebook/newPlan",
};

/** A whole plan to fill in, in the protocol's snippet syntax, with a kit's values where they are known. */
export const PLAN_TO_FILL: RequestOf<{ readonly kit: Kit }, string> = { method: "lodebook/planToFill" };
